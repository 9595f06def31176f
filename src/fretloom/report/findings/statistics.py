"""How often each rule was broken, and in how many files: most often first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from fretloom.diagnostics import Diagnostic
from fretloom.report.findings.places import plain_name
from fretloom.text import counted, table


def statistics(findings: Sequence[Diagnostic]) -> str:
    """Return a table, a line for each rule and severity, without a line end after the last; "" for no findings."""
    often = Counter((one.rule, one.severity) for one in findings)
    files: dict[tuple[object, ...], set[str]] = {}
    for one in findings:
        files.setdefault((one.rule, one.severity), set()).add(plain_name(one.span.source.name))
    ordered = sorted(often.items(), key=lambda one: (-one[1], one[0][0], one[0][1].rank))
    width = max((len(str(number)) for _, number in ordered), default=0)
    rows = []
    for (rule, severity), number in ordered:
        where = f"in {counted(len(files[rule, severity]), 'file')}"
        rows.append((f"{number:>{width}}", severity.value, rule, where))
    return "\n".join(table(rows))
