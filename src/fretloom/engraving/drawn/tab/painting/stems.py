"""Stems: the thumb's stand on the ground, the fingers' hang in the air; bars at their ends say how short."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from fretloom.engraving.drawn.drawing import DrawnLine, Letters, Mark
from fretloom.engraving.drawn.lettering import width_of
from fretloom.engraving.drawn.tab.levels import Levels
from fretloom.engraving.drawn.tab.placing.rhythm import Rhythm
from fretloom.engraving.drawn.tab.placing.spacing import Places
from fretloom.engraving.drawn.tab.placing.struck import Struck
from fretloom.engraving.drawn.tab.values import FLAG

_THUMB, _FINGER = 0.55, 0.3
#: The thumb's foot: half its width, how thick; the half bars above it for half a beat and less.
_FOOT_HALF, _FOOT_THICK = 0.95, 0.62
#: A finger's bar: how thick, and how far below one another they hang.
_FLAG_THICK, _FLAG_STEP = 0.75, 1.2
_NUMBER = 2.5


def stems(
    struck: Sequence[Struck], rhythm: Rhythm, places: Places, levels: Levels
) -> Iterator[Mark]:
    """Draw a stem at each pluck: one for all fingers that pluck together, one for the thumb."""
    groups: dict[tuple[bool, Fraction, float], list[Struck]] = {}
    for one in struck:
        if one.part == "plucked":
            groups.setdefault((one.thumb, one.at, one.aside), []).append(one)
    last: dict[tuple[bool, Fraction], float] = {}
    for thumb, at, aside in groups:
        last[thumb, at] = max(aside, last.get((thumb, at), aside))
    for (thumb, at, aside), together in groups.items():
        x = places.x(at) + aside
        # The notes of a roll make one value: its last stem has the bars.
        flags = rhythm.flags.get((at, thumb), 0) if aside == last[thumb, at] else 0
        if thumb:
            highest = min(one.string for one in together)
            yield from thumb_stem(x, levels.string(highest), levels.foot, flags)
        else:
            lowest = max(one.string for one in together)
            yield from finger_stem(x, levels.string(lowest), levels.tip, flags)


def thumb_stem(x: float, y: float, ground: float, flags: int) -> Iterator[Mark]:
    """Draw a stem of the thumb from a note down to the ground."""
    yield DrawnLine(points=((x, y), (x, ground)), width=_THUMB, ink="thumb")
    yield DrawnLine(
        points=((x - _FOOT_HALF, ground), (x + _FOOT_HALF, ground)), width=_FOOT_THICK, ink="thumb"
    )
    for flag in range(1, flags + 1):
        level = ground - _FLAG_STEP * flag
        yield DrawnLine(
            points=((x, level), (x + 1.3, level)), width=_FOOT_THICK, ink="thumb"
        )  # fmt: skip


def finger_stem(x: float, y: float, tip: float, flags: int) -> Iterator[Mark]:
    """Draw a stem of the fingers from a note up to its tip."""
    yield DrawnLine(points=((x, y), (x, tip)), width=_FINGER, ink="ink")
    for flag in range(flags):
        level = tip + _FLAG_THICK / 2 + _FLAG_STEP * flag
        yield DrawnLine(
            points=((x - _FINGER / 2, level), (x + FLAG, level)), width=_FLAG_THICK, ink="ink"
        )


def tuplets(rhythm: Rhythm, places: Places, levels: Levels) -> Iterator[Mark]:
    """Draw the numbers of tuplets between the ends of a line."""
    for one in rhythm.tuplets:
        y = levels.tuplet(one.row)
        left, right = places.x(max(one.start, Fraction(0))) - 0.6, places.x(one.end) - 1.4
        text = str(one.count)
        half = width_of(text, _NUMBER) / 2 + 0.4
        middle, line = (left + right) / 2, y - 0.9
        yield Letters(at=(middle, y), text=text, size=_NUMBER, ink="soft")
        for ends in (
            ((left, line + 0.8), (left, line), (middle - half, line)),
            ((middle + half, line), (right, line), (right, line + 0.8)),
        ):
            yield DrawnLine(points=ends, width=0.25, ink="soft")
