"""The picking hand of a lesson, and what it plucks together, bar by bar."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.pattern import PatternBar, Pluck, Stroke
from fretloom.notation.model.walking.places import WrittenPlace
from fretloom.notation.model.walking.walk import every, walk
from fretloom.performance.reading import Reading
from fretloom.performance.settings import picking_plan
from fretloom.rules.usage import with_bases
from fretloom.trade.guitar.plucking import PickingPlan, usual_plan
from fretloom.values import frozen

_USUAL_STRINGS = 6


@frozen
class PickingHand:
    """The home strings, the number of strings, and the two that sound highest."""

    plan: PickingPlan
    strings: int
    highest: tuple[int, ...]

    def is_home(self, finger: str, string: int) -> bool:
        """Whether a finger is at home on a string."""
        return string in self.plan.strings_of(finger)

    def string_of(self, pluck: Pluck) -> int | None:
        """Return the string of a finger's pluck; None if the thumb walks, or the finger does not have a home."""
        if pluck.string is not None or pluck.finger == "p":
            return pluck.string
        homes = self.plan.strings_of(pluck.finger)
        return homes[0] if homes else None


def hand_of(reading: Reading) -> PickingHand:
    """Return the picking hand of a lesson."""
    lesson = reading.lesson
    if not any(one.heading for one in with_bases(lesson)):
        # A file of voicings and patterns names no tuning: its voicings tell how many strings.
        count = max((len(entry.frets) for entry in lesson.voicings), default=0) or _USUAL_STRINGS
        return PickingHand(usual_plan(count), count, (1, 2))
    tuning = reading.timeline.settings.tuning
    strings = range(1, tuning.strings + 1)
    by_pitch = sorted(strings, key=lambda one: (-tuning.open_pitch(one).midi, one))
    plan = picking_plan(reading.material, tuning)
    return PickingHand(plan, tuning.strings, tuple(by_pitch[:2]))


@frozen(eq=False)
class PluckedBar:
    """A bar of plucks with its place: what is plucked together, in order of time."""

    place: WrittenPlace
    strokes: tuple[tuple[Stroke, tuple[Pluck, ...]], ...]


def plucked_bars(lesson: Lesson) -> Iterator[PluckedBar]:
    """Yield the bars of all patterns and sections."""
    for place, bar in every(lesson, PatternBar):
        strokes: list[tuple[Stroke, list[Pluck]]] = []
        for _, one in walk(bar):
            if isinstance(one, Stroke):
                strokes.append((one, []))
            elif isinstance(one, Pluck):
                strokes[-1][1].append(one)
        yield PluckedBar(place, tuple((stroke, tuple(plucks)) for stroke, plucks in strokes))
