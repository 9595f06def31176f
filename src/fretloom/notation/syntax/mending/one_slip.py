"""Says what is wrong with a line: one finding for one slip, whatever came of it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from fretloom.diagnostics import AS_WELL, Diagnostic, Related
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.reader import Reader
from fretloom.notation.syntax.slips.explain import explained_by
from fretloom.notation.syntax.slips.slip import Slip
from fretloom.rule_facts import Severity
from fretloom.text import counted
from fretloom.values import evolve

#: Rules of which a run of lines with the same fault is said once: one block was begun wrongly.
_RUNS = frozenset(("not-indented", "outside-a-block"))
_MOST_RELATED = 8
_PIECES = re.compile(r"\s+|\S+")
_WORDS, _FIGURES = re.compile(r"[^\W\d_]+"), re.compile(r"\d+")


def explained(
    reader: Reader, line: Line, block: str, faults: Sequence[Diagnostic]
) -> list[Diagnostic]:
    """Return the faults of a line: the one slip that they come from, or each kind of them once."""
    if len(faults) == 1 and faults[0].span.start in reader.explained:
        return list(faults)
    slip = explained_by(line.statement, block, [one.rule for one in faults])
    return [noted(reader, line, slip)] if slip is not None else _merged(faults)


def noted(reader: Reader, line: Line, slip: Slip) -> Diagnostic:
    """Return the finding on a slip, and keep what was meant for the mending."""
    start, end, meant = _closer(line.statement, slip)
    span = line.span(start, end)
    if meant:
        reader.meant[span.start] = meant
    return Diagnostic(
        rule=slip.rule, severity=Severity.ERROR, message=slip.message, span=span, hint=slip.hint
    )


def _closer(statement: str, slip: Slip) -> tuple[int, int, str]:
    """Return the place of a slip and what is meant there, without the words at both ends that stay."""
    if not slip.meant:
        return slip.start, slip.end, ""
    old = _PIECES.findall(statement[slip.start : slip.end])
    new = _PIECES.findall(slip.meant)
    most = min(len(old), len(new)) - 1
    before = next((at for at in range(most) if old[at] != new[at]), max(most, 0))
    most -= before
    after = next((at for at in range(most) if old[-1 - at] != new[-1 - at]), max(most, 0))
    start = slip.start + len("".join(old[:before]))
    end = slip.end - len("".join(old[len(old) - after :]))
    return start, end, "".join(new[before : len(new) - after])


def _merged(faults: Sequence[Diagnostic]) -> list[Diagnostic]:
    """Return faults of one line, those of the same kind as one."""
    kinds: dict[tuple[str, str, str], list[Diagnostic]] = {}
    for one in faults:
        kinds.setdefault((one.rule, one.hint, _shape(one.span.text)), []).append(one)
    return [_as_one(alike) for alike in kinds.values()]


def _shape(text: str) -> str:
    """Return what is alike in signs at fault: words and numbers may be others."""
    return _FIGURES.sub("0", _WORDS.sub("a", text))


def _as_one(alike: Sequence[Diagnostic]) -> Diagnostic:
    first, *others = alike
    if not others:
        return first
    message = f"{first.message} (and in {counted(len(others), 'more place')})"
    return evolve(first, message=message, related=_related(others), edits=())


def _related(others: Iterable[Diagnostic]) -> tuple[Related, ...]:
    places = [Related(message=AS_WELL, span=one.span) for one in others]
    return tuple(places[:_MOST_RELATED])


def runs_once(faults: Sequence[Diagnostic]) -> list[Diagnostic]:
    """Return the faults of a text; where lines in a row have the same one it is reported at the first."""
    done: list[Diagnostic] = []
    run: list[Diagnostic] = []
    for one in (*faults, None):
        if run and (one is None or not _goes_on(run, one)):
            done.append(_run(run))
            run = []
        if one is not None and one.rule in _RUNS:
            run.append(one)
        elif one is not None:
            done.append(one)
    return done


def _goes_on(run: Sequence[Diagnostic], one: Diagnostic) -> bool:
    last = run[-1]
    return (
        one.rule == last.rule
        and one.message == last.message
        and one.span.line <= last.span.line + 1
    )


def _run(run: Sequence[Diagnostic]) -> Diagnostic:
    first, *others = run
    if not others:
        return first
    edits = (
        tuple(edit for one in run for edit in one.edits) if all(one.edits for one in run) else ()
    )
    message = f"{first.message} (and in {counted(len(others), 'more line')} below)"
    return evolve(first, message=message, related=_related(others), edits=edits)
