"""The plucks of a lesson as written, with the place they are written in."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.pattern import (
    Beat,
    Brush,
    Group,
    Hold,
    Item,
    PatternBar,
    Pluck,
    Roll,
    Stroke,
)
from fretloom.notation.model.section import Bar, With
from fretloom.rules.usage import bars_in_form, bars_of
from fretloom.values import frozen


@frozen
class Place:
    """A bar of plucks and what to call it: "pattern roll", "the bar in { }"."""

    called: str
    bar: PatternBar


def written_bars(lesson: Lesson) -> Iterator[Place]:
    """Yield every bar of plucks: those of patterns, then those written out in `{ }`."""
    for pattern in lesson.patterns:
        for bar in pattern.bars:
            yield Place(f"the pattern {pattern.name}", bar)
    for where, played in _section_bars(lesson):
        if played.beats is not None:
            yield Place(where, played.beats)


def added_plucks(lesson: Lesson) -> Iterator[tuple[str, Pluck]]:
    """Yield the plucks that `with` adds to single bars."""
    for where, bar in _section_bars(lesson):
        for patch in bar.patches:
            if isinstance(patch, With) and isinstance(patch.pluck, Pluck):
                yield where, patch.pluck


def _section_bars(lesson: Lesson) -> Iterator[tuple[str, Bar]]:
    for section in lesson.sections:
        for bar in bars_of(section):
            yield f"a bar of {section.name}", bar
    for bar in bars_in_form(lesson.form) if lesson.form else ():
        yield "a bar of the form", bar


def strokes(bar: PatternBar) -> Iterator[Stroke]:
    """Yield the strokes of a bar in order, those in groups too."""
    for beat in bar.beats:
        yield from _strokes(beat)


def _strokes(holder: Beat | Group) -> Iterator[Stroke]:
    items: tuple[Item, ...] = holder.items
    for item in items:
        if isinstance(item, Stroke):
            yield item
        elif not isinstance(item, Hold):
            yield from _strokes(item)


def plucks(stroke: Stroke) -> Iterator[Pluck]:
    """Yield the plucks of a stroke, those in rolls too; brushes are no plucks."""
    for part in stroke.parts:
        for one in part.parts if isinstance(part, Roll) else (part,):
            if not isinstance(one, Brush):
                yield one
