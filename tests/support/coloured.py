"""Texts by the kind of each of their signs, to compare what colours them."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from textmate_engine import Engine

from fretloom.notation.highlighting.kinds import TextKind
from fretloom.notation.highlighting.marking import marked
from fretloom.notation.highlighting.textmate import LANGUAGE, SCOPES, grammar

_KINDS = {f"{scope}.{LANGUAGE}": kind for kind, scope in SCOPES.items()}
Kinds = list[TextKind | None]


@cache
def engine() -> Engine:
    """Return what colours by our grammar for editors."""
    return Engine(grammar())


def by_reader(text: str) -> Kinds:
    """Return the kind of each sign by the grammar of the notation; white space has none."""
    return _each(text, ((one.start, one.end, one.kind) for one in marked(text)))


def by_editor(text: str, pieces: Iterable[tuple[int, int, str]] | None = None) -> Kinds:
    """Return the kind of each sign by the grammar for editors, or as given by their names for kinds."""
    named = engine().coloured(text) if pieces is None else pieces
    known = ((start, end, _KINDS.get(name)) for start, end, name in named)
    return _each(text, known)


def first_difference(text: str, one: Kinds, other: Kinds) -> str:
    """Return the line where two ways to colour a text first differ, and how; "" if they do not."""
    for at, (first, second) in enumerate(zip(one, other, strict=True)):
        if first is not second:
            line = text.splitlines()[text.count("\n", 0, at)]
            return f"{text[at]!r} is {first} or {second} in: {line}"
    return ""


def _each(text: str, pieces: Iterable[tuple[int, int, TextKind | None]]) -> Kinds:
    kinds: Kinds = [None] * len(text)
    for start, end, kind in pieces:
        kinds[start:end] = [kind] * (end - start)
    return [None if text[at].isspace() else kind for at, kind in enumerate(kinds)]
