"""Findings and rules in words, as JSON and as annotations."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from fretloom.diagnostics import Diagnostic
from fretloom.errors import FretloomError
from fretloom.rule_facts import FAMILIES, Severity, rules_of
from fretloom.text import listed


def finding_as_text(found: Diagnostic, colour: bool = False) -> str:
    """Return one finding as lines for a terminal: place, message, the line with a caret, and the hint."""
    from fretloom.report.findings.text import render

    return render(found, colour)


def finding_as_data(found: Diagnostic) -> dict[str, Any]:
    """Return one finding as JSON values."""
    from fretloom.report.findings.json import finding

    return finding(found)


def finding_as_annotation(found: Diagnostic) -> str:
    """Return one finding as a workflow command, which GitHub shows beside the line."""
    from fretloom.report.findings.github import annotation

    return annotation(found)


def findings_as_json(
    findings: Iterable[dict[str, Any]], files: int, unreadable: Iterable[dict[str, str]] = ()
) -> str:
    """Return the whole report as JSON; `unreadable` names files that could not be read, and why."""
    from fretloom.report.findings.json import report

    return report(findings, files, unreadable)


def findings_summary(severities: Iterable[Severity], files: int) -> str:
    """Return the last line of a report: how many findings in how many files."""
    from fretloom.report.findings.text import summary

    return summary(severities, files)


def rule_page(name: str) -> str:
    """Return the page of a rule as plain text.

    Raises:
        FretloomError: the name is not the name of a rule.
    """
    from fretloom.rules.pages import as_text, near_rules, page

    found = page(name)
    if found is None:
        near = near_rules(name)
        hint = (
            f"did you mean {listed(near, 'or')}?" if near else "`fretloom explain` lists them all"
        )
        raise FretloomError(f"there is no rule called {name}; {hint}")
    return as_text(found)


def rules_list() -> str:
    """Return the names of all rules by family, each with the gravest severity it is reported with."""
    lines: list[str] = []
    for family, title in FAMILIES.items():
        rules = rules_of(family)
        if rules:
            lines += [title, *(f"  {one.name:26} {one.severities[0].value}" for one in rules), ""]
    return "\n".join(lines) + "\n`fretloom explain NAME` shows the page of a rule."
