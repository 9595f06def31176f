"""Every place of a lesson where a voicing, a pattern or a section is named: where it is given, and where it is used."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import cast

from fretloom.characters import composed
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.pattern import Pattern, PatternBar
from fretloom.notation.model.section import Section
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.notation.model.walking.walk import GIVES, NameKind, uses_in, walk
from fretloom.notation.model.words import name_at
from fretloom.source import Span
from fretloom.trade.guitar.voicing import is_no_chord
from fretloom.values import frozen

#: Some spans of a name have the word before it.
_BEFORE = re.compile(r"using[ \t]+")


@frozen
class NamePlace:
    """One place where a name stands: `span` is the name and nothing else; `defines` where it is given."""

    kind: NameKind
    name: str
    span: Span
    defines: bool = False


def named(top: object) -> Iterator[NamePlace]:
    """Yield all places where a name stands, in written order, in a lesson that was read from a text, or a part of it.

    `N.C.` and its like are no names. What could not be read has none.
    """
    found: list[NamePlace] = []
    for place, node in walk(top, (PatternBar,)):
        kind = GIVES.get(type(node))
        if kind is not None:
            defined = cast("VoicingEntry | Pattern | Section", node)
            found += _at(kind, defined.name, defined.name_span, True)
        for use in uses_in(node, place):
            found += _at(use.kind, use.name, use.span, False)
    yield from sorted(found, key=lambda one: one.span.start) if isinstance(top, Lesson) else found


def _at(kind: NameKind, name: str, span: Span | None, defines: bool) -> Iterator[NamePlace]:
    if span is None or (kind == "voicing" and is_no_chord(name)):
        return
    before = _BEFORE.match(span.text)
    start = before.end() if before else 0
    found = name_at(span.text, start)
    if composed(found) == name:  # In a text of an older edition it may not stand there.
        begin = span.start + start
        yield NamePlace(kind, name, Span(span.source, begin, begin + len(found)), defines)
