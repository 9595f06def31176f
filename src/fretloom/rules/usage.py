"""Which voicings, patterns and sections a lesson uses, by name, including its base lessons."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import field

from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.walking.walk import uses
from fretloom.values import frozen


@frozen
class Usage:
    """The names that a lesson uses."""

    voicings: frozenset[str] = field(default=frozenset())
    patterns: frozenset[str] = field(default=frozenset())


def with_bases(lesson: Lesson) -> Iterator[Lesson]:
    """Yield the lesson and the lessons it is based on, nearest first; a cycle ends the row."""
    seen: list[Lesson] = []
    current: Lesson | None = lesson
    while current is not None and not any(current is one for one in seen):
        seen.append(current)
        yield current
        based = current.heading.setting("based") if current.heading else None
        current = current.linked.get(str(based.value)) if based else None


def usage_of(lesson: Lesson) -> Usage:
    """Return what a lesson and those it is based on use."""
    used = {(use.kind, use.name) for one in with_bases(lesson) for use in uses(one)}
    return Usage(
        *(frozenset(name for kind, name in used if kind == of) for of in ("voicing", "pattern"))
    )
