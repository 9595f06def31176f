"""Findings and rules as front ends print them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from fretloom.diagnostics import Diagnostic
from fretloom.errors import FretloomError
from fretloom.rule_facts import FAMILIES, Rule, Severity
from fretloom.text import listed, shown_name


def finding_as_text(found: Diagnostic, colour: bool = False) -> str:
    """Return one finding as lines for a terminal: place, message, the line with a caret, and the hint."""
    from fretloom.report.findings.text import render

    return render(found, colour)


def finding_as_data(found: Diagnostic) -> dict[str, Any]:
    """Return one finding as JSON values, without the name and version of a document."""
    from fretloom.report.findings.json import finding_data

    return finding_data(found)


def finding_as_annotation(found: Diagnostic) -> str:
    """Return one finding as a workflow command, which GitHub shows beside the line."""
    from fretloom.report.findings.github import annotation

    return annotation(found)


def findings_as_json(
    findings: Iterable[dict[str, Any]], files: int, unreadable: Iterable[dict[str, str]] = ()
) -> str:
    """Return the whole report as JSON; `unreadable` names files that could not be read, and why."""
    from fretloom.report.documents import as_json_text, document
    from fretloom.report.findings.json import report_data

    return as_json_text(document("findings", report_data(findings, files, unreadable)))


def findings_summary(severities: Iterable[Severity], files: int) -> str:
    """Return the last line of a report: how many findings in how many files."""
    from fretloom.report.findings.text import summary

    return summary(severities, files)


def explain(name: str) -> str:
    """Return the page of a rule as plain text: what it checks, why, a wrong and a right lesson.

    Of a family of rules, such as "hands", it is the names of its rules, each with what it checks in a sentence.

    Raises:
        FretloomError: the name is not the name of a rule or of a family.
        TypeError: it is not text.
    """
    from fretloom.rules.pages import as_text, family_as_text, near_rules, page

    if not isinstance(name, str):
        raise TypeError(f"name is the name of a rule, not {type(name).__name__}")
    found = page(name)
    if found is None and name in FAMILIES:
        return family_as_text(name)
    if found is None:
        near = near_rules(name)
        hint = (
            f"did you mean {listed(near, 'or')}?" if near else "`fretloom explain` lists them all"
        )
        raise FretloomError(f"there is no rule called {shown_name(name)}; {hint}")
    return as_text(found)


def known_rules() -> tuple[Rule, ...]:
    """Return the facts of all rules, those of other packages last."""
    from fretloom.rules.registry import all_rules

    return all_rules()


def rules_list() -> str:
    """Return the names of all rules by family, each with the gravest severity it is reported with."""
    lines: list[str] = []
    for family, title in FAMILIES.items():
        rules = [one for one in known_rules() if one.family == family]
        if rules:
            lines += [title, *(f"  {one.name:26} {one.severities[0].value}" for one in rules), ""]
    return "\n".join(lines) + "\n`fretloom explain NAME` shows the page of a rule."
