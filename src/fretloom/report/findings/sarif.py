"""Findings as SARIF 2.1.0 (OASIS, "Static Analysis Results Interchange Format"), which code hosts read.

Columns count code points, as ours do (section 3.14.17, `columnKind`); ends are exclusive there too
(3.30.8). What a comment allows is there as well, as a result that is suppressed in the source
(3.35).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from fretloom.diagnostics import Diagnostic
from fretloom.report.findings.places import ends, uri
from fretloom.rule_facts import FAMILIES, Severity
from fretloom.rules.pages import as_text, page
from fretloom.rules.registry import find_rule
from fretloom.rules.waivers import Waived
from fretloom.source import Span
from fretloom.text import visible
from fretloom.version import VERSION

SCHEMA = (
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
)
_LEVELS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.INFO: "note"}
_FINGERPRINT = "fretloom/v1"


def sarif_log(
    findings: Sequence[Diagnostic],
    waived: Sequence[Waived] = (),
    unreadable: Iterable[dict[str, str]] = (),
) -> dict[str, Any]:
    """Return a log of one run; `unreadable` names files that could not be read, and why."""
    every = [*findings, *(one.finding for one in waived)]
    names = sorted({one.rule for one in every})
    at = {name: number for number, name in enumerate(names)}
    troubles = [_notification(one) for one in unreadable]
    results = [{**_result(one, at), "suppressions": []} for one in findings]
    results += [{**_result(one.finding, at), "suppressions": [_suppression(one)]} for one in waived]
    run = {
        "tool": {
            "driver": {
                "name": "fretloom",
                "version": VERSION,
                "semanticVersion": VERSION,
                "rules": [_rule(name) for name in names],
            }
        },
        "columnKind": "unicodeCodePoints",
        "invocations": [
            {"executionSuccessful": not troubles, "toolExecutionNotifications": troubles}
        ],
        "results": results,
    }
    return {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}


def _rule(name: str) -> dict[str, Any]:
    rule, found = find_rule(name), page(name)
    told: dict[str, Any] = {"id": name, "shortDescription": {"text": name.replace("-", " ")}}
    if rule is not None:
        told["defaultConfiguration"] = {"level": _LEVELS[rule.severities[0]]}
        told["properties"] = {"family": rule.family, "tags": [FAMILIES[rule.family]]}
    if found is not None:
        told["help"] = {"text": as_text(found)}
    return told


def _result(found: Diagnostic, at: dict[str, int]) -> dict[str, Any]:
    text = f"{found.message}\n{found.hint}" if found.hint else found.message
    result: dict[str, Any] = {
        "ruleId": found.rule,
        "ruleIndex": at[found.rule],
        "level": _LEVELS[found.severity],
        "message": {"text": visible_lines(text)},
        "locations": [_location(found.span)],
        "partialFingerprints": {_FINGERPRINT: found.fingerprint},
    }
    if found.related:
        result["relatedLocations"] = [
            {"id": number, "message": {"text": visible(one.message)}, **_location(one.span)}
            for number, one in enumerate(found.related, 1)
        ]
    if found.edits:
        result["fixes"] = [_fix(found)]
    return result


def _fix(found: Diagnostic) -> dict[str, Any]:
    """Return the edits of a finding, which belong together, as one fix of one or several files."""
    files: dict[str, list[dict[str, Any]]] = {}
    for edit in found.edits:
        replacement: dict[str, Any] = {"deletedRegion": _region(edit.span)}
        if edit.text:
            replacement["insertedContent"] = {"text": edit.text}
        files.setdefault(uri(edit.span.source.name), []).append(replacement)
    title = next((one.title for one in found.edits if one.title), found.hint or found.message)
    return {
        "description": {"text": visible(title)},
        "artifactChanges": [
            {"artifactLocation": {"uri": name}, "replacements": replacements}
            for name, replacements in files.items()
        ],
    }


def _suppression(one: Waived) -> dict[str, Any]:
    return {
        "kind": "inSource",
        "justification": visible(one.reason),
        "location": _location(one.span),
    }


def _location(span: Span) -> dict[str, Any]:
    return {
        "physicalLocation": {
            "artifactLocation": {"uri": uri(span.source.name)},
            "region": _region(span),
        }
    }


def _region(span: Span) -> dict[str, int]:
    line, column, end_line, end_column = ends(span)
    return {
        "startLine": line,
        "startColumn": column,
        "endLine": end_line,
        "endColumn": end_column,
    }


def _notification(one: dict[str, str]) -> dict[str, Any]:
    return {
        "level": "error",
        "message": {"text": visible(one["message"])},
        "locations": [{"physicalLocation": {"artifactLocation": {"uri": uri(one["file"])}}}],
    }


def visible_lines(text: str) -> str:
    """Return what `visible` shows of each line."""
    return "\n".join(map(visible, text.split("\n")))
