"""Findings as a code quality report, which GitLab shows beside the lines of a change.

The fields are those that GitLab's documentation asks for ("Code Quality", "Code Quality report
format"); each fingerprint is there once.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from hashlib import sha256
from typing import Any

from fretloom.diagnostics import Diagnostic
from fretloom.report.findings.places import plain_name
from fretloom.rule_facts import Severity
from fretloom.text import visible

_SEVERITIES = {Severity.ERROR: "major", Severity.WARNING: "minor", Severity.INFO: "info"}


def code_quality(
    findings: Iterable[Diagnostic], unreadable: Iterable[dict[str, str]] = ()
) -> list[dict[str, Any]]:
    """Return a report; a file that could not be read is an issue too."""
    seen = Counter[str]()
    issues = [
        _issue(
            found.rule,
            found.message,
            _SEVERITIES[found.severity],
            (found.span.source.name, found.span.line),
            (found.fingerprint, seen),
        )
        for found in findings
    ]
    issues += [
        _issue("not-read", one["message"], "blocker", (one["file"], 1), ("not-read", seen))
        for one in unreadable
    ]
    return issues


def _issue(
    rule: str,
    message: str,
    severity: str,
    place: tuple[str, int],
    known_by: tuple[str, Counter[str]],
) -> dict[str, Any]:
    name, line = place
    fingerprint, seen = known_by
    about = f"{plain_name(name)}\0{fingerprint}"
    seen[about] += 1
    whole = f"{about}\0{seen[about]}".encode("utf-8", "surrogatepass")
    return {
        "description": visible(message),
        "check_name": rule,
        "fingerprint": sha256(whole).hexdigest()[:32],
        "severity": severity,
        "location": {"path": plain_name(name), "lines": {"begin": line}},
    }
