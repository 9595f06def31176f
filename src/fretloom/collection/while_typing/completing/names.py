"""The names that can stand at a place: those that there are, and those that are used but not there yet."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from fretloom.collection.while_typing.completing.continuation import Continuation
from fretloom.collection.while_typing.opened import OpenLesson
from fretloom.notation.model.walking.walk import NameKind, uses
from fretloom.notation.syntax.writing.words import beats
from fretloom.performance.material.gather import Material
from fretloom.trade.guitar.voicing import frets_text

_LAST_WORD = re.compile(r"(\S+)\s*$")
#: After these words stands the name of a pattern, a voicing, a section.
_AFTER: dict[str, NameKind] = {
    "using": "pattern",
    "pattern": "pattern",
    "like": "voicing",
    "voicing": "voicing",
    "change": "voicing",
    "over": "voicing",
    "to": "voicing",
    "section": "section",
    "of": "section",
}
#: What a name is where no such word stands before it, and whether it is given there.
_FIRST: dict[str, tuple[NameKind | None, bool]] = {
    "voicing_line": ("voicing", True),
    "pattern_line": ("pattern", True),
    "section_line": ("section", True),
    "form_line": ("section", False),
    "bar": ("voicing", False),
}


def name_offers(opened: OpenLesson, rule: str, before: str) -> Iterator[Continuation]:
    """Yield the names that can follow in a line, where the grammar has a name.

    Args:
        opened: the lesson.
        rule: of the grammar, which reads the line; "bar" in a bar of it.
        before: the line up to where the name begins.
    """
    kind, gives = kind_of_name(rule, before)
    if kind is not None:
        material = opened.examined.reading.material
        yield from _missing(opened, kind, material) if gives else _there(kind, material)


def kind_of_name(rule: str, before: str) -> tuple[NameKind | None, bool]:
    """Return of what a name is that stands behind the beginning of a line, and whether it is given there.

    Args: as of `name_offers`.
    """
    found = _LAST_WORD.search(before)
    last = found[1] if found else ""
    if rule == "section_line" and last == "section":
        return "section", True
    after = None if rule == "bar" and last != "using" else _AFTER.get(last)
    return (after, False) if after else _FIRST.get(rule, (None, False))


def names_there(opened: OpenLesson, kind: NameKind) -> Collection[str]:
    """Return the names that the lesson and the files that it uses give to things of one kind."""
    return _given(opened.examined.reading.material)[kind]


def _given(material: Material) -> dict[NameKind, Collection[str]]:
    return {
        "voicing": material.voicings,
        "pattern": material.patterns,
        "section": material.sections,
    }


def _there(kind: NameKind, material: Material) -> Iterator[Continuation]:
    if kind == "voicing":
        for name, entry in material.voicings.items():
            detail = frets_text(entry.frets) or f"like {entry.like}"
            yield Continuation(text=name, kind=kind, detail=detail)
    elif kind == "pattern":
        for name, pattern in material.patterns.items():
            yield Continuation(text=name, kind=kind, detail=pattern.title or beats(pattern.bars[0]))
    else:
        for name, section in material.sections.items():
            yield Continuation(text=name, kind=kind, detail=section.title)


def _missing(opened: OpenLesson, kind: NameKind, material: Material) -> Iterator[Continuation]:
    """Yield the names that the lesson uses and nobody gives."""
    there = _given(material)
    wanted = dict.fromkeys(one.name for one in uses(opened.lesson) if one.kind == kind)
    for name in wanted:
        if name and name not in there[kind]:
            yield Continuation(
                text=name, kind=kind, detail="used in this lesson, and not there yet"
            )
