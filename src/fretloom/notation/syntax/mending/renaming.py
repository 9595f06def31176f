"""Writes a mended name everywhere it stands, so that whoever refers to it still does."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from fretloom.diagnostics import Diagnostic, Edit
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.mending.ways import blanked
from fretloom.values import evolve

_RENAMING = frozenset(("bad-name", "unreadable-chord-name"))
#: What stands before a name where it is given, and where it is used, by the block in which the line
#: stands ("" for lines in column one); by the block in which names of its kind are given.
_GIVEN = {"": r"^section\s+", "patterns": "^", "voicings": "^"}
_USED = {
    "": {"form": "^", "step": r"^show\s.*?\b(?:section|of)\s+"},
    "patterns": {
        "": r"\busing\s+",
        "section": r"\busing\s+",
        "form": r"\busing\s+",
        "step": r"^show\s+pattern\s+",
    },
    "voicings": {
        "voicings": r"\blike\s+",
        "section": r"(?:^|[\s|:])",
        "form": r"(?<=:)(?:.*[\s|])?",
        "step": r"^show\s.*?\b(?:voicing|change|to|over)\s+",
    },
}

#: The lines of a text by the blocks in which they stand.
_Placed = dict[str, list[Line]]


def renamed_everywhere(faults: Sequence[Diagnostic], lines: Sequence[Line]) -> list[Diagnostic]:
    """Return the faults; a name that is mended is so in all places, or not if it would be there twice."""
    if not any(_renames(one) for one in faults):
        return list(faults)
    placed = _in_blocks(lines)
    return [_with_places(one, placed) if _renames(one) else one for one in faults]


def _renames(fault: Diagnostic) -> bool:
    return fault.rule in _RENAMING and len(fault.edits) == 1


def _with_places(fault: Diagnostic, placed: _Placed) -> Diagnostic:
    (edit,) = fault.edits
    start = edit.span.start
    kind = next(
        (one for one in _GIVEN for line in placed.get(one, ()) if line.start <= start < _end(line)),
        None,
    )
    if kind is None or list(_found(edit.text, _GIVEN[kind], kind, placed)):
        return evolve(fault, edits=())
    old = edit.span.text
    edits = [edit]
    for block, before in _USED[kind].items():
        for line, at in _found(old, before, block, placed):
            edits.append(evolve(edit, span=line.span(at, at + len(old))))
    return evolve(fault, edits=_in_order(edits))


def _in_order(edits: list[Edit]) -> tuple[Edit, ...]:
    return tuple(sorted(edits, key=lambda one: one.span.start))


def _end(line: Line) -> int:
    return line.start + len(line.statement)


def _in_blocks(lines: Sequence[Line]) -> _Placed:
    """Return lines by the word that opens the block in which they stand, "" for lines in column one."""
    block, placed = "", _Placed()
    for line in lines:
        if line.statement and not line.indented:
            block = line.word.rstrip(":")
        if line.statement:
            placed.setdefault(block if line.indented else "", []).append(line)
    return placed


def _found(name: str, before: str, block: str, placed: _Placed) -> Iterator[tuple[Line, int]]:
    """Yield where a name stands in lines of a block, outside quotes."""
    pattern = re.compile(rf"(?:{before})(?P<name>{re.escape(name)})(?![^\s|:{{,])")
    for line in placed.get(block, ()):
        if name in line.statement:
            for match in pattern.finditer(blanked(line.statement)):
                yield line, match.start("name")
