"""Which edition a text is written in, its statements as the present edition has them, and a text of a later one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from fretloom.diagnostics import Diagnostic
from fretloom.notation.editions import FIRST, brought_up, edition_said, present
from fretloom.notation.syntax.lines import Line, split
from fretloom.rule_facts import Severity
from fretloom.source import Source
from fretloom.values import evolve

#: A number of more digits is not shown: it is not an edition that somebody wrote.
_MOST_SHOWN = 999_999


def edition_of(lines: Iterable[Line]) -> int:
    """Return the edition that a text is written in; it may be one that there is not."""
    return next((_said(line) for line in lines if line.statement), FIRST)


def _said(line: Line) -> int:
    said = None if line.indented else edition_said(line.statement)
    return FIRST if said is None else said


def is_older(source: Source) -> bool:
    """Whether a text is written in an older edition than the present one."""
    return FIRST <= edition_of(split(source)) < present()


def later_edition(source: Source) -> Diagnostic | None:
    """Return the finding on a text of a later edition than can be read, None if it is not one."""
    first = next((line for line in split(source) if line.statement), None)
    if first is None or (said := _said(first)) <= present():
        return None
    which = f"edition {said}" if said <= _MOST_SHOWN else "a later edition"
    known = f"up to {present()}" if present() > FIRST else f"{FIRST} alone"
    return Diagnostic(
        rule="later-edition",
        severity=Severity.ERROR,
        message=f"this is written in {which} of the notation, and this fretloom reads edition {known}",
        span=first.span(),
        hint="install a newer fretloom to read it",
    )


def in_present_edition(lines: Sequence[Line]) -> list[Line]:
    """Return the lines of a text with their statements as the present edition has them."""
    edition = edition_of(lines)
    if not FIRST <= edition < present():
        return list(lines)
    return list(_rewritten(lines, edition))


def _rewritten(lines: Sequence[Line], edition: int) -> Iterator[Line]:
    block = ""
    for line in lines:
        word = line.word.rstrip(":")
        if line.statement and not line.indented:
            block = word
        new = brought_up(edition, block if line.indented else "", line.statement)
        if not line.statement or new == line.statement:
            yield line
        else:
            yield evolve(line, statement=new, written=len(line.statement))


def without_edits(faults: Iterable[Diagnostic], lines: Iterable[Line]) -> Iterator[Diagnostic]:
    """Yield faults; those in statements that were written otherwise carry no edits, as these would not fit."""
    older = [line for line in lines if line.written is not None]
    for fault in faults:
        start = fault.span.start
        if fault.edits and any(
            one.start <= start <= one.start + (one.written or 0) for one in older
        ):
            yield evolve(fault, edits=())
        else:
            yield fault
