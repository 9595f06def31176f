"""One bar: places of a pattern over voicings to plucked strings, and what may stop them ringing.

The result is a `Template`, which does not know where the bar is written, so that equal bars share
it.
"""

from __future__ import annotations

from fretloom.notation.model.pattern import Brush, Pluck, Slap
from fretloom.notation.model.section import With, Without
from fretloom.performance.expansion.bars.bar_faults import BarFaults
from fretloom.performance.expansion.bars.hand import FrettingHand
from fretloom.performance.expansion.resolve import Resolver
from fretloom.performance.expansion.timing.strokes import Hit
from fretloom.performance.expansion.timing.template import (
    CUT,
    PLUCK,
    BarScore,
    Event,
    Seed,
    Template,
)
from fretloom.performance.expansion.timing.ticks import quarters
from fretloom.performance.manner import TimedSlap
from fretloom.values import evolve, frozen


def build(score: BarScore, resolver: Resolver) -> Template:
    """Work out the notes of a bar."""
    return _BarBuilder(score, resolver).run()


@frozen(eq=False)
class _Strike:
    """What is plucked at an instant; `added` hits come from `with`, `left_out` from `without`."""

    onset: int
    length: int
    hits: tuple[Hit, ...]
    added: tuple[Hit, ...] = ()
    left_out: frozenset[str] = frozenset()


class _BarBuilder:
    """Goes through one bar from its start to its end."""

    def __init__(self, score: BarScore, resolver: Resolver) -> None:
        self.score = score
        self.resolver = resolver
        self.strings = resolver.settings.tuning.strings
        self.faults = BarFaults()
        self.hand = FrettingHand(resolver, score.unit, self.faults)
        self.seeds: list[Seed] = []
        self.slaps: list[TimedSlap] = []
        self.next_segment = 0
        #: How far the thumb has walked in the voicing's bass order.
        self.walk = 0

    def run(self) -> Template:
        score, hand = self.score, self.hand
        if score.silent:
            hand.events.append((0, CUT, 0, None))
        self.enter(0)
        for strike in self.strikes():
            self.enter(strike.onset)
            self.strike(strike)
        self.enter(score.length)
        if score.stop is not None:
            hand.events.append((score.stop, CUT, 0, None))
        self.seeds.sort(key=_playing_order)
        events, after = self.by_string()
        return Template(
            unit=score.unit,
            length=score.length,
            segments=score.segments,
            seeds=tuple(self.seeds),
            events=events,
            after=after,
            faults=tuple(self.faults.found),
            slaps=tuple(self.slaps),
        )

    def by_string(self) -> tuple[dict[int, list[Event]], tuple[int, ...]]:
        """Sort the events by string; also return where each note's own pluck is among them."""
        self.hand.events.sort(key=lambda event: event[:2])
        events: dict[int, list[Event]] = {string: [] for string in range(1, self.strings + 1)}
        plucked: dict[tuple[int, int], int] = {}
        for event in self.hand.events:
            at, kind, string, _ = event
            if string:
                events[string].append(event)
                if kind == PLUCK:
                    # Plucks come last at their instant, and a string is plucked once at an instant.
                    plucked[at, string] = len(events[string])
            else:
                for one in events.values():
                    one.append(event)
        return events, tuple([plucked[seed.onset, seed.note.string] for seed in self.seeds])

    # What is plucked when

    def strikes(self) -> list[_Strike]:
        strikes = [
            _Strike(place.onset, place.length, place.hits)
            for place in self.score.places
            if place.hits
        ]
        for at, patch in self.score.patches:
            if isinstance(patch, With):
                strikes = self.with_added(strikes, at, patch)
            else:
                strikes = self.with_left_out(strikes, at, patch)
        if self.score.patches:
            strikes.sort(key=lambda strike: strike.onset)
        return strikes

    def with_added(self, strikes: list[_Strike], at: int, patch: With) -> list[_Strike]:
        gesture = None
        if isinstance(patch.pluck, Brush):
            struck = [hit for one in strikes for hit in (*one.hits, *one.added)]
            gesture = 1 + max((hit.gesture or 0 for hit in struck), default=0)
        hit = Hit(patch.pluck, gesture, patch.count)
        for index, one in enumerate(strikes):
            if one.onset == at:
                strikes[index] = evolve(one, added=(*one.added, hit))
                return strikes
        return [*strikes, _Strike(at, self.room(at), (), (hit,))]

    def room(self, at: int) -> int:
        """Return how long an added pluck lasts: to the end of the place it falls in."""
        for place in self.score.places:
            if place.onset <= at < place.end:
                return place.end - at
        later = [place.onset for place in self.score.places if place.onset > at]
        return min(later, default=self.score.length) - at

    def with_left_out(self, strikes: list[_Strike], at: int, patch: Without) -> list[_Strike]:
        there: set[str] = set()
        for index, one in enumerate(strikes):
            if one.onset == at:
                fingers = {hit.part.finger for hit in one.hits if not isinstance(hit.part, Slap)}
                if patch.finger in fingers:
                    strikes[index] = evolve(one, left_out=one.left_out | {patch.finger})
                    return strikes
                there |= fingers
        self.faults.nothing_to_leave_out(patch, there)
        return strikes

    # What is held when

    def enter(self, at: int) -> None:
        """Take the voicings that begin up to an instant; note the release on the way."""
        segments, onsets = self.score.segments, self.score.onsets
        while self.next_segment < len(segments) and onsets[self.next_segment] <= at:
            segment, onset = segments[self.next_segment], onsets[self.next_segment]
            self.next_segment += 1
            if onset >= self.score.length:
                continue
            self.let_go(onset)
            if segment.early:
                self.hand.released = False
            before, voicing = self.hand.voicing, segment.voicing
            if before is None or voicing is None or before.name != voicing.name:
                self.walk = 0
            self.hand.take(voicing, onset)
            if voicing is not None and voicing.silent:
                self.hand.events.append((onset, CUT, 0, None))
        self.let_go(at)

    def let_go(self, at: int) -> None:
        release = self.score.release
        if release is not None and release <= at and not self.hand.released:
            self.hand.let_go(release)

    # Plucks

    def strike(self, strike: _Strike) -> None:
        chosen = self.chosen(strike)
        if self.hand.voicing is None or not chosen:
            return
        at_once = {string for _, _, string in chosen if string is not None}
        orders: dict[int, int] = {}
        taken: dict[int, str] = {}
        for hit, part, string in chosen:
            for struck in self.struck(part, string):
                if struck in taken:
                    name = self.hand.voicing.name
                    self.faults.twice(part, struck, name, taken[struck], hit.added)
                    continue
                order = None if hit.gesture is None else orders.get(hit.gesture, 0)
                place = (strike.onset, strike.length)
                seed = self.hand.pluck(place, hit, part, struck, at_once, order)
                if seed is None:
                    continue
                taken[struck] = part.finger
                if hit.gesture is not None and order is not None:
                    orders[hit.gesture] = order + 1
                self.seeds.append(seed)
                self.hand.events.append((strike.onset, PLUCK, struck, None))

    def chosen(self, strike: _Strike) -> list[tuple[Hit, Pluck | Brush, int | None]]:
        """Return what is plucked at an instant and on which string; what is slapped is noted."""
        chosen: list[tuple[Hit, Pluck | Brush, int | None]] = []
        for hit, advance in [
            *((hit, True) for hit in strike.hits),
            *((hit, False) for hit in strike.added),
        ]:
            part = hit.part
            if isinstance(part, Slap):
                if strike.onset >= 0:
                    self.slap(part, strike)
                continue
            string = self.string_for(part, advance=advance)
            left_out = advance and (part.finger in strike.left_out or strike.onset < 0)
            if not left_out:
                chosen.append((hit, part, string))
        if self.hand.voicing is not None and self.hand.voicing.silent:
            chosen = [one for one in chosen if _needs_no_chord(one[1])]
        return chosen

    def slap(self, part: Slap, strike: _Strike) -> None:
        """Note a slap; one on the strings damps them all."""
        times = quarters(self.score.unit)
        at = times[strike.onset]
        if any(one.onset == at and one.place == part.place for one in self.slaps):
            self.faults.slapped_twice(part)
            return
        slap = TimedSlap(
            onset=at,
            length=times[strike.length],
            place=part.place,
            accent=part.accent,
            span=part.span,
        )
        self.slaps.append(slap)
        if part.place == "strings":
            self.hand.events.append((strike.onset, CUT, 0, None))

    def string_for(self, part: Pluck | Brush, advance: bool) -> int | None:
        """Return the string of a pluck (None for a brush, or if there is none)."""
        if isinstance(part, Brush):
            return None
        if part.string is not None:
            return part.string
        voicing = self.hand.voicing
        if part.finger == "p" and voicing is not None:
            string = voicing.bass[self.walk % len(voicing.bass)]
            self.walk += advance
            return string
        homes = self.resolver.plan.strings_of(part.finger)
        if not homes and voicing is not None:
            self.faults.no_home_string(part)
        return homes[0] if homes else None

    def struck(self, part: Pluck | Brush, string: int | None) -> tuple[int, ...]:
        """Return the strings that are struck; a brush passes over those the voicing does not play."""
        if isinstance(part, Pluck):
            strings: tuple[int, ...] = () if string is None else (string,)
        else:
            strings = part.strings if max(part.first, part.last) <= 99 else ()
        missing = next((one for one in strings if not 1 <= one <= self.strings), None)
        if missing is not None:
            self.faults.no_such_string(part, missing, self.strings)
            strings = tuple(one for one in strings if 1 <= one <= self.strings)
        voicing = self.hand.voicing
        if isinstance(part, Pluck) or self.hand.released or voicing is None or voicing.silent:
            return strings
        return tuple(one for one in strings if voicing.fret(one) is not None)


def _needs_no_chord(part: Pluck | Brush) -> bool:
    """Whether a pluck says itself what sounds: a fret of its own, or a dead note."""
    return part.dead or (isinstance(part, Pluck) and part.fret is not None)


def _playing_order(seed: Seed) -> tuple[int, int, int]:
    order = seed.note.order
    return seed.onset, -1 if order is None else order, -seed.note.string
