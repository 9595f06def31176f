"""One bar: places of a pattern over voicings to plucked strings, and what may stop them ringing.

What comes out is a `Template`, free of where the bar is written, so that equal bars share it.
"""

from __future__ import annotations

from fractions import Fraction

from fretloom.notation.model.pattern import Brush, Pluck
from fretloom.notation.model.section import With, Without
from fretloom.performance.expansion.bars.fretting import FINGER_WORDS, FrettingHand
from fretloom.performance.expansion.bars.segments import Segment
from fretloom.performance.expansion.bars.strokes import Hit
from fretloom.performance.expansion.bars.template import (
    CUT,
    HOLD,
    PLUCK,
    RELEASE,
    BarScore,
    Event,
    Seed,
    Template,
)
from fretloom.performance.expansion.resolve import Resolver
from fretloom.performance.expansion.words import part_words


def build(score: BarScore, resolver: Resolver) -> Template:
    """Work out the notes of a bar."""
    return _Builder(score, resolver).run()


class _Strike:
    """What is plucked at one instant; `added` hits come from `with`, `left_out` from `without`."""

    __slots__ = ("added", "hits", "left_out", "length", "onset")

    def __init__(self, onset: Fraction, length: Fraction, hits: tuple[Hit, ...]) -> None:
        self.onset = onset
        self.length = length
        self.hits = hits
        self.added: list[Hit] = []
        self.left_out: set[str] = set()


class _Builder(FrettingHand):
    def __init__(self, score: BarScore, resolver: Resolver) -> None:
        super().__init__(resolver, Template(score.length, score.segments))
        self.score = score
        self.seeds: list[Seed] = []
        self.next_segment = 0
        self.walk = 0
        self.counts = {
            id(patch.pluck): patch.count for _, patch in score.patches if isinstance(patch, With)
        }

    def run(self) -> Template:
        if self.score.silent:
            self.event(Fraction(0), CUT)
        self.enter(Fraction(0))
        for strike in self.strikes():
            self.enter(strike.onset)
            self.strike(strike)
        self.enter(self.score.length)
        if self.score.stop is not None:
            self.event(self.score.stop, CUT)
        self.seeds.sort(key=_playing_order)
        self.template.seeds = tuple(self.seeds)
        self.template.events = self.by_string()
        return self.template

    def by_string(self) -> dict[int, list[Event]]:
        """Sort the events by string; each note learns where its own pluck stands among them."""
        self.raw_events.sort(key=lambda event: event[:2])
        sorted_events: dict[int, list[Event]] = {}
        for string in range(1, self.strings + 1):
            events = [event for event in self.raw_events if event[2] in (0, string)]
            plucks = (at for at, event in enumerate(events, 1) if event[1] == PLUCK)
            # Plucks come last at their instant, and a string is plucked once at an instant.
            for seed in self.seeds:
                if seed.string == string:
                    seed.after = next(plucks)
            sorted_events[string] = events
        return sorted_events

    # What is plucked when

    def strikes(self) -> list[_Strike]:
        strikes = [
            _Strike(place.onset, place.length, place.hits)
            for place in self.score.places
            if place.hits
        ]
        for at, patch in self.score.patches:
            if isinstance(patch, With):
                self.add(strikes, at, patch)
            else:
                self.leave_out(strikes, at, patch)
        if self.score.patches:
            strikes.sort(key=lambda strike: strike.onset)
        return strikes

    def add(self, strikes: list[_Strike], at: Fraction, patch: With) -> None:
        gesture = None
        if isinstance(patch.pluck, Brush):
            struck = [hit for one in strikes for hit in (*one.hits, *one.added)]
            gesture = 1 + max((hit.gesture or 0 for hit in struck), default=0)
        strike = next((one for one in strikes if one.onset == at), None)
        if strike is None:
            strike = _Strike(at, self.room(at), ())
            strikes.append(strike)
        strike.added.append(Hit(patch.pluck, gesture))

    def room(self, at: Fraction) -> Fraction:
        """Return how long a pluck lasts that is put in: to the end of the place it falls in."""
        for place in self.score.places:
            if place.onset <= at < place.end:
                return place.end - at
        later = [place.onset for place in self.score.places if place.onset > at]
        return min(later, default=self.score.length) - at

    def leave_out(self, strikes: list[_Strike], at: Fraction, patch: Without) -> None:
        for strike in strikes:
            if strike.onset == at and any(hit.part.finger == patch.finger for hit in strike.hits):
                strike.left_out.add(patch.finger)
                return
        who = FINGER_WORDS[patch.finger]
        message = f"{who} ({patch.finger}) plucks nothing on {patch.count} that could be left out"
        used = sorted({hit.part.finger for one in strikes if one.onset == at for hit in one.hits})
        hint = (
            f"on {patch.count} there is {' and '.join(used)}"
            if used
            else (f"nothing at all is plucked on {patch.count}")
        )
        self.find("nothing-to-leave-out", message, hint, patch.span, id(patch))

    # What is held when

    def enter(self, at: Fraction) -> None:
        """Take the voicings that begin up to an instant; note the release on the way."""
        segments = self.score.segments
        while self.next_segment < len(segments) and segments[self.next_segment].onset <= at:
            segment = segments[self.next_segment]
            self.next_segment += 1
            if segment.onset >= self.score.length:
                continue
            self.let_go(segment.onset)
            if self.released and segment.early:
                self.released = False
            self.take(segment)
        self.let_go(at)

    def let_go(self, at: Fraction) -> None:
        release = self.score.release
        if release is not None and release <= at and not self.released:
            done = any(kind == RELEASE for _, kind, _, _ in self.raw_events)
            if not done:
                self.released = True
                self.event(release, RELEASE)

    def take(self, segment: Segment) -> None:
        before = self.voicing
        self.voicing = segment.voicing
        if before is None or segment.voicing is None or before.name != segment.voicing.name:
            self.walk = 0
        self.away.clear()
        if not self.released:
            self.event(segment.onset, HOLD, 0, segment.voicing)

    # Plucks

    def strike(self, strike: _Strike) -> None:
        chosen: list[tuple[Hit, int | None]] = []
        for hit in strike.hits:
            string = self.string_for(hit.part, advance=True)
            if hit.part.finger not in strike.left_out and strike.onset >= 0:
                chosen.append((hit, string))
        chosen += [(hit, self.string_for(hit.part, advance=False)) for hit in strike.added]
        if self.voicing is None or not chosen:
            return
        at_once = {string for hit, string in chosen if string is not None}
        orders: dict[int, int] = {}
        taken: dict[int, str] = {}
        for hit, string in chosen:
            for struck in self.struck(hit.part, string):
                if struck in taken:
                    self.twice(hit.part, struck, taken[struck])
                    continue
                seed = self.pluck(strike.onset, strike.length, hit.part, struck, at_once)
                if seed is None:
                    continue
                taken[struck] = hit.part.finger
                if hit.gesture is not None:
                    seed.gesture = hit.gesture
                    seed.order = orders.get(hit.gesture, 0)
                    orders[hit.gesture] = seed.order + 1
                self.seeds.append(seed)
                self.event(strike.onset, PLUCK, struck)

    def string_for(self, part: Pluck | Brush, advance: bool) -> int | None:
        """Return the string of a pluck (None for a brush, or if there is none)."""
        if isinstance(part, Brush):
            return None
        if part.string is not None:
            return part.string
        if part.finger == "p" and self.voicing is not None:
            bass = self.voicing.bass
            string = bass[self.walk % len(bass)]
            self.walk += advance
            return string
        homes = self.resolver.plan.strings_of(part.finger)
        if not homes and self.voicing is not None:
            message = f"{FINGER_WORDS[part.finger]} ({part.finger}) has no home string"
            hint = f"name its string ({part.finger}1), or add `{part.finger} plays 1` to a picking block"
            self.find("no-home-string", message, hint, part.span, part.finger)
        return homes[0] if homes else None

    def struck(self, part: Pluck | Brush, string: int | None) -> tuple[int, ...]:
        """Return the strings that are struck; a brush passes over those the voicing does not play."""
        if isinstance(part, Pluck):
            strings: tuple[int, ...] = () if string is None else (string,)
        else:
            strings = part.strings if max(part.first, part.last) <= 99 else ()
        missing = [one for one in strings if not 1 <= one <= self.strings]
        if missing:
            message = f"{part_words(part)} means string {missing[0]}, but there are {self.strings} strings"
            hint = f"strings are numbered from 1 (the highest) to {self.strings}"
            self.find("no-such-string", message, hint, part.span, id(part))
            strings = tuple(one for one in strings if 1 <= one <= self.strings)
        if isinstance(part, Pluck) or self.released or self.voicing is None:
            return strings
        return tuple(one for one in strings if self.voicing.fret(one) is not None)

    def twice(self, part: Pluck | Brush, string: int, first: str) -> None:
        name = self.voicing.name if self.voicing else ""
        message = f"string {string} is plucked twice at one instant over {name}"
        hint = f"leave {part_words(part)} out, or name another string for it"
        if id(part) in self.counts:
            hint = f"to play it instead, leave the other out: `without {first} on {self.counts[id(part)]}`"
        self.find("string-plucked-twice", message, hint, part.span, (id(part), name))


def _playing_order(seed: Seed) -> tuple[Fraction, int, int]:
    return seed.onset, -1 if seed.order is None else seed.order, -seed.string
