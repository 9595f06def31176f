"""In which files a name means the same thing: what one lesson makes of a name, with all that it uses and is based on.

`use` and `based on` bring names together when a lesson is played, not when a file is read: a section of the
lesson that this one is based on takes the voicing that this one defines. So a name of one file can
mean different things to different lessons, and whoever changes it has to change it in all of them.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from fretloom.collection.naming.texts import Seen
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.pattern import Pattern
from fretloom.notation.model.section import Section
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.notation.model.walking.walk import NameKind, NameUse, uses
from fretloom.performance.material.gather import Material, gather
from fretloom.source import Span

Defined = VoicingEntry | Pattern | Section


def defined(material: Material, kind: NameKind, name: str) -> Defined | None:
    """Return what a name stands for in a lesson, None if nothing does."""
    if kind == "voicing":
        return material.voicings.get(name)
    if kind == "pattern":
        return material.patterns.get(name)
    return material.sections.get(name)


def brought_together(seen: Seen, kind: NameKind, name: str) -> list[set[Path]]:
    """Return the files in which a name means one thing to a lesson, as far as the lesson makes use of it there.

    Each set is one such thing; the first is what the lesson itself means by the name. Others are what it
    replaces in what it is based on.
    """
    given, used = in_force(seen, kind, name)
    together = _files(seen, [*given, *used])
    return [together, *_replaced(seen, kind, name)]


def in_force(seen: Seen, kind: NameKind, name: str) -> tuple[list[Span], list[Span]]:
    """Return where a lesson takes a name from, one place or none, and where it makes use of it."""
    material = gather(seen.lesson)
    meant = defined(material, kind, name)
    spans = [one.span for one in _in_force(material) if (one.kind, one.name) == (kind, name)]
    given = [meant.name_span] if meant is not None and meant.name_span is not None else []
    return given, [one for one in spans if one is not None]


def _in_force(material: Material) -> Iterator[NameUse]:
    """Yield the uses of names that count when the lesson is played or shown; those in replaced parts do not."""
    waiting = list(material.own_voicings)
    for part in (*material.sections.values(), material.form, *material.steps):
        for use in uses(part):
            yield use
            if use.kind == "voicing":
                waiting.append(use.name)
    known: set[str] = set()
    while waiting:
        name = waiting.pop()
        entry = material.voicings.get(name)
        if name not in known and entry is not None:
            known.add(name)
            for use in uses(entry):
                yield use
                waiting.append(use.name)


def _replaced(seen: Seen, kind: NameKind, name: str) -> Iterator[set[Path]]:
    """Yield the files of what a lesson defines anew, and of what that replaces in the lesson it is based on."""
    lesson = seen.lesson
    own = next((one for one in _own(lesson, kind) if one.name == name), None)
    based = lesson.heading.setting("based") if lesson.heading else None
    base = lesson.linked.get(str(based.value)) if based else None
    if own is None or base is None:
        return
    other = defined(gather(base), kind, name)
    if other is not None:
        yield _files(seen, [one for one in (own.name_span, other.name_span) if one is not None])


def _own(lesson: Lesson, kind: NameKind) -> tuple[Defined, ...]:
    if kind == "voicing":
        return lesson.voicings
    return lesson.patterns if kind == "pattern" else lesson.sections


def _files(seen: Seen, spans: list[Span]) -> set[Path]:
    names = {span.source.name for span in spans}
    return {seen.files[name] for name in names if name in seen.files}
