"""Easier shapes for a voicing: without its hops, smaller ones of the same chord, with the thumb, of a near chord."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from attrs import evolve

from fretloom.arranging.common_shape import has_common_shapes
from fretloom.arranging.easing.fits import VoicingBeyond
from fretloom.arranging.easing.levels import Reach
from fretloom.arranging.easing.near_chords import near_chords
from fretloom.arranging.find_voicings import FoundVoicing, find_voicings
from fretloom.performance.events import Settings, Timeline
from fretloom.performance.expansion.voicings.bass import bass_order
from fretloom.performance.hands.fingering import neck_of_settings
from fretloom.performance.hands.hardest import MadeChange
from fretloom.performance.showing.shape_use import voicing_at
from fretloom.performance.sounding.strings import fingered, name_shifts, symbol_of
from fretloom.trade.guitar.plucking import PickingPlan
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.harmony.chord_tones import chord_tones
from fretloom.trade.harmony.symbol import ChordSymbol
from fretloom.trade.playability.moving.changes import change
from fretloom.trade.playability.moving.skills import SKILLS
from fretloom.trade.playability.shape import THUMB, Fretted
from fretloom.values import frozen

_THUMB_PLUCKS = "p"
#: How many shapes of a chord are looked at, and how many of each near chord.
_LOOKED_AT, _NEAR = 24, 6
#: Up to this fret songs are taught to those who need an easier shape (an assumption).
_TAUGHT = 5
#: What it costs, beside the points of `find_voicings`, if all that the fingers pluck sounds otherwise,
#: and for each second that the changes to and from a shape take longer on average (assumptions).
_MELODY, _SLOWER = 1.5, 0.8


@frozen
class EasierShape:
    """A shape that can stand for another: `kind` is "hop", "smaller", "thumb" or "near"; `usual`: it is taught."""

    voicing: Voicing
    kind: str
    points: float
    usual: bool = True


class Shapes:
    """The shapes of a lesson and how they are used, for one level."""

    def __init__(
        self,
        timeline: Timeline,
        plan: PickingPlan,
        reach: Reach,
        changes: tuple[MadeChange, ...],
    ) -> None:
        self.timeline, self.plan, self.reach, self.changes = timeline, plan, reach, changes
        self.settings: Settings = evolve(timeline.settings, level=reach.level)
        self.shifts = name_shifts(timeline.voicings.values(), self.settings)
        self.neck = neck_of_settings(self.settings)
        self.plucked = _plucked(timeline)

    def easier(
        self, beyond: VoicingBeyond, drafted: Mapping[str, Voicing]
    ) -> Iterator[EasierShape]:
        """Yield easier shapes for a voicing, the best first; `drafted` are those that others have got already."""
        old = beyond.held.voicing
        if beyond.reasons == ("hop",):
            yield EasierShape(self._walking(evolve(old, hops=())), "hop", beyond.held.effort.points)
        symbol = symbol_of(old, self.settings)
        if symbol is None or symbol.quality is None:
            return
        same = self._ranked(beyond, symbol, drafted, near=False)
        near: list[EasierShape] = []
        taught = has_common_shapes(self.settings, self.shifts)
        shown = [one for one in same if (one.usual or not taught) and _is_close(one, old)]
        yield from self._keeping(shown, old)
        for other in near_chords(symbol, self.settings.names, self.settings.plays):
            found = [
                one
                for one in self._ranked(beyond, other, drafted, near=True)
                if _is_close(one, old)
            ]
            yield from self._keeping(found, old)
            near += found
        # What nobody teaches, or lies far up the neck, comes after what begins with another bass note.
        yield from (one for one in (*shown, *near) if not self._keeps_bass(one, old))
        yield from (one for one in same if one not in shown)

    def _keeping(self, shapes: list[EasierShape], old: Voicing) -> Iterator[EasierShape]:
        """Yield the shapes that keep the first bass note, those with the thumb over the neck last."""
        kept = [one for one in shapes if self._keeps_bass(one, old)]
        yield from sorted(kept, key=lambda one: one.kind == "thumb")

    def _keeps_bass(self, shape: EasierShape, old: Voicing) -> bool:
        first = [self._first_bass(voicing) for voicing in (old, shape.voicing)]
        return first[0] == first[1]

    def _first_bass(self, voicing: Voicing) -> int | None:
        """Return the pitch class of the note with which the thumb begins, None if it plays none."""
        string = voicing.bass[0] if voicing.bass else 0
        fret = voicing.fret(string) if string else None
        return None if fret is None else fingered(self.settings, string, fret) % 12

    def on_thumb_strings(self, voicing: Voicing) -> Voicing | None:
        """Return a voicing whose bass order keeps off the fingers' strings, None if it does anyway."""
        own = self.plan.strings_of(_THUMB_PLUCKS)
        kept = tuple(dict.fromkeys(string for string in voicing.bass if string in own))
        if not kept or set(voicing.bass) <= set(own):
            return None
        return evolve(voicing, bass=kept)

    def _ranked(
        self,
        beyond: VoicingBeyond,
        symbol: ChordSymbol,
        drafted: Mapping[str, Voicing],
        *,
        near: bool,
    ) -> list[EasierShape]:
        old = beyond.held.voicing
        found = find_voicings(
            symbol.text,
            self.settings,
            plan=self.plan,
            needed=frozenset(self.plucked.get(old.name, ())),
            thumb=self.reach.thumb,
            limit=_NEAR if near else _LOOKED_AT,
            shifts=self.shifts,
        ).voicings
        fitting = [one for one in found if self._is_easier(one, beyond) and (one.usual or not near)]
        fitting.sort(key=lambda one: self._cost(one, old, drafted))
        return [
            EasierShape(
                one.voicing,
                "near" if near else "thumb" if one.voicing.strings_of(THUMB) else "smaller",
                one.effort.points,
                one.usual,
            )
            for one in fitting
        ]

    def _is_easier(self, found: FoundVoicing, beyond: VoicingBeyond) -> bool:
        reach, points = self.reach, found.effort.points
        return (
            points <= min(reach.points, beyond.held.effort.points) + 1e-9
            and all(width <= reach.barre for _, width in found.effort.barres)
            and (reach.thumb or not found.voicing.strings_of(THUMB))
            and found.voicing.frets != beyond.held.voicing.frets
        )

    def _cost(self, found: FoundVoicing, old: Voicing, drafted: Mapping[str, Voicing]) -> float:
        return (
            found.score
            + _MELODY * self._otherwise(found.voicing, old)
            + _SLOWER * self._slower(found.voicing, old, drafted)
        )

    def _otherwise(self, new: Voicing, old: Voicing) -> float:
        """Return the share of what the fingers pluck that sounds otherwise."""
        plucked = self.plucked.get(old.name, Counter())
        other = sum(
            count for string, count in plucked.items() if new.fret(string) != old.fret(string)
        )
        return other / (sum(plucked.values()) or 1)

    def _slower(self, new: Voicing, old: Voicing, drafted: Mapping[str, Voicing]) -> float:
        """Return how many seconds longer the changes to and from a voicing take on average."""
        skill, more, often = SKILLS[self.reach.level], 0.0, 0
        for made in self.changes:
            if old.name not in (made.before, made.after):
                continue
            pair = [
                new if name == old.name else drafted.get(name, self.timeline.voicings[name])
                for name in (made.before, made.after)
            ]
            one, other = (Fretted(each.frets, each.fingers) for each in pair)
            if not (one.fingers and other.fingers):
                continue
            more += made.times * (change(self.neck, one, other, skill).time - made.change.time)
            often += made.times
        return max(0.0, more / often) if often else 0.0

    def _walking(self, voicing: Voicing) -> Voicing:
        """Return a voicing whose thumb walks over strings that its frets hold: two of them, if a hop is missed."""
        kept = [string for string in voicing.bass if voicing.fret(string) is not None]
        if len(kept) == len(voicing.bass):
            return voicing
        if len(set(kept)) < 2:
            chord = chord_tones(voicing.symbol, self.settings.names)
            kept = [*bass_order(evolve(voicing, bass=()), self.settings, self.plan, chord)]
        two = tuple(dict.fromkeys(kept))[:2]
        order = tuple(two[at % len(two)] for at in range(len(voicing.bass)))
        return evolve(voicing, bass=order)


def _is_close(shape: EasierShape, old: Voicing) -> bool:
    """Whether a shape lies no farther up the neck than the old one, or where songs are taught."""
    highest = [max((fret or 0 for fret in one.frets), default=0) for one in (old, shape.voicing)]
    return highest[1] <= max(highest[0], _TAUGHT)


def _plucked(timeline: Timeline) -> dict[str, Counter[int]]:
    """Return for each voicing which of its strings the fingers pluck, and how often, by written bars."""
    found: dict[str, Counter[int]] = {}
    for _, bar in timeline.distinct_bars():
        for note in bar.notes:
            held = voicing_at(bar, note.onset)
            if held is None or note.finger == _THUMB_PLUCKS or note.literal or note.harmonic:
                continue
            if held.fret(note.string) is not None:
                found.setdefault(held.name, Counter())[note.string] += 1
    return found
