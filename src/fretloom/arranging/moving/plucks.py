"""Plucks that name strings or frets, moved with the chord that the hand holds.

A fret that is named is a note of the tune or a bass run: it keeps its degree, and its place beside
the notes around it, by sounding as many half steps higher as the shapes do; the thumb may take it an
octave off. A string that is named alone is moved where the new voicing has no note for the thumb.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from attrs import evolve

from fretloom.arranging.moving.contexts import Sounded, names_fret, sounded, written_at
from fretloom.notation.model.details.technique import Technique, Trill
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.pattern import Brush, Pluck
from fretloom.notation.model.walking.places import WrittenPlace
from fretloom.notation.model.walking.walk import rebuilt
from fretloom.performance.events import Timeline
from fretloom.trade.guitar.plucking import PickingPlan
from fretloom.values import frozen

#: Frets that a hand covers without leaving its place; and one more, if need be.
_COVERED, _SPAN = 3, 4
#: What it costs to go to another string, to stretch, and to leave the shape.
_OTHER_STRING, _STRETCH, _BESIDE_SHAPE, _OCTAVE = 1.0, 1.5, 0.5, 6.0
_PLAIN = "p"


@frozen
class MovedPlucks:
    """A lesson whose plucks were moved, and the places of those that were not."""

    lesson: Lesson
    left: tuple[WrittenPlace, ...] = ()


def with_plucks(
    moved: Lesson,
    old: Timeline,
    new: Timeline,
    names: Mapping[str, str],
    by: int,
    plan: PickingPlan,
) -> MovedPlucks:
    """Return a lesson with its plucks moved.

    Args:
        moved: the lesson with its new voicings. old, new: as it was played, and with the voicings.
        names: the new name of each old voicing.
        by: how many half steps higher the hand plays. plan: the picking fingers' strings.
    """
    hand = _Plucking(old, new, names, by, plan)
    left: dict[WrittenPlace, None] = {}

    def changed(pluck: Pluck | Brush, place: WrittenPlace) -> Pluck | Brush:
        if not isinstance(pluck, Pluck) or not (names_fret(pluck) or pluck.string):
            return pluck
        if pluck.harmonic:
            if by % 12:
                left.setdefault(place)
            return pluck
        found = hand.moved(pluck)
        if found is None:
            left.setdefault(place)
        return found or pluck

    lesson = rebuilt(moved, pluck=changed)
    return MovedPlucks(lesson, tuple(left))


class _Plucking:
    """Where plucks sound in the old lesson, and the voicings of the new one."""

    def __init__(
        self,
        old: Timeline,
        new: Timeline,
        names: Mapping[str, str],
        by: int,
        plan: PickingPlan,
    ) -> None:
        self.sounded = sounded(old)
        self.new = {name: new.voicings[now] for name, now in names.items() if now in new.voicings}
        tuning = old.settings.tuning
        self.opens = {
            string: tuning.open_pitch(string).midi for string in range(1, tuning.strings + 1)
        }
        self.by, self.plan = by, plan
        self.thumb = frozenset(plan.strings_of(_PLAIN))

    def moved(self, pluck: Pluck) -> Pluck | None:
        """Return the pluck as it is to be written now, None if it cannot keep what it sounds."""
        where = written_at(pluck.span)
        found = self.sounded.get(where, []) if where else []
        if not found or any(one.voicing.name not in self.new for one in found):
            return None if names_fret(pluck) else pluck
        if not names_fret(pluck):
            return self._on_a_string(pluck, found)
        return self._at_a_fret(pluck, found)

    def _at_a_fret(self, pluck: Pluck, found: Sequence[Sounded]) -> Pluck | None:
        pitches = {self.opens[one.note.string] + one.note.fret for one in found}
        if len(pitches) > 1:
            return None
        target = pitches.pop() + self.by
        ways = [
            (sum(costs), string, fret)
            for off in ((0, 12, -12) if pluck.finger == _PLAIN else (0,))
            for string, fret in self._places(pluck, target + off, found)
            if (costs := self._costs(pluck, string, fret, off, found)) is not None
        ]
        if not ways:
            return None
        _, string, fret = min(ways)
        start = found[0].note
        # Beside another shape other fingers are free: those written for a single note are found anew.
        slurs = tuple(
            evolve(slur, fret=fret + slur.fret - start.fret, fretting=None) for slur in pluck.slurs
        )
        named = string if pluck.string is not None or string != start.string else None
        said = _moved(pluck.technique, fret - start.fret)
        return evolve(pluck, string=named, fret=fret, slurs=slurs, fretting=None, technique=said)

    def _places(
        self, pluck: Pluck, target: int, found: Sequence[Sounded]
    ) -> Iterator[tuple[int, int]]:
        taken = frozenset.union(*(one.beside for one in found))
        for string, note in self.opens.items():
            thumb = (string in self.thumb) == (pluck.finger == _PLAIN)
            usual = thumb or any(one.note.string == string for one in found)
            if target >= note and usual and string not in taken:
                yield string, target - note

    def _costs(
        self, pluck: Pluck, string: int, fret: int, off: int, found: Sequence[Sounded]
    ) -> list[float] | None:
        """Return what a place costs over each voicing, None if a hand does not cover it."""
        steps = [fret, *(fret + slur.fret - found[0].note.fret for slur in pluck.slurs)]
        if pluck.technique.trill is not None:
            steps.append(fret + pluck.technique.trill.fret - found[0].note.fret)
        if min(steps) < 0:
            return None
        costs = []
        for one in found:
            voicing = self.new[one.voicing.name]
            held = [at for at in (*voicing.frets, *steps) if at]
            span = max(held, default=0) - min(held, default=0)
            if span > _SPAN:
                return None
            costs.append(
                _OTHER_STRING * abs(string - one.note.string)
                + _STRETCH * max(0, span - _COVERED)
                + _BESIDE_SHAPE * (voicing.fret(string) != fret)
                + _OCTAVE * bool(off)
            )
        return costs

    def _on_a_string(self, pluck: Pluck, found: Sequence[Sounded]) -> Pluck:
        """Return the pluck on a string that all new voicings play; the thumb walks where they agree on none."""
        string = pluck.string or 0
        if pluck.finger != _PLAIN:
            return pluck
        wanted = {self._thumb_string(one) for one in found}
        voicings = [self.new[one.voicing.name] for one in found]
        if len(wanted) == 1 and all(one.fret(min(wanted)) is not None for one in voicings):
            return evolve(pluck, string=wanted.pop())
        if all(voicing.fret(string) is not None for voicing in voicings):
            return pluck
        return evolve(pluck, string=None)

    def _thumb_string(self, one: Sounded) -> int:
        """Return the string of the new voicing that has the degree of a bass note, or its place in the bass order."""
        voicing, old = self.new[one.voicing.name], one.note
        target = self.opens[old.string] + old.fret + self.by
        free = sorted(self.thumb - one.beside)
        pool = [
            string
            for string in free
            if (fret := voicing.fret(string)) is not None
            and (self.opens[string] + fret - target) % 12 == 0
        ]
        if pool:
            return min(
                pool, key=lambda one: abs(self.opens[one] + (voicing.fret(one) or 0) - target)
            )
        if old.string in one.voicing.bass and not one.beside & self.thumb:
            return voicing.bass[one.voicing.bass.index(old.string) % len(voicing.bass)]
        return old.string


def _moved(said: Technique, by: int) -> Technique:
    """Return what is asked of a note that is now played `by` frets higher."""
    if said.trill is not None:
        said = evolve(said, trill=Trill(said.trill.fret + by))
    if said.touch is not None:
        said = evolve(said, touch=said.touch + by)
    return said
