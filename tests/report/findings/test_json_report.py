"""Findings as JSON follow their schema, and as annotations their escapes."""

from __future__ import annotations

import json

from schemas import schema_validator

from fretloom.api import as_data, check, findings_as_json, loads
from fretloom.diagnostics import Diagnostic
from fretloom.report.findings.github import annotation
from fretloom.report.findings.json import finding_data
from fretloom.rule_facts import Severity
from fretloom.source import Source, Span

FAULTY = 'lesson “Two cups"\n  meter 4/4\n  meter 3/4\n\nsection tune  using plian\n  C | C\n'


def test_report_follows_its_schema() -> None:
    """Findings with hints, related places and edits are as the schema says."""
    found = check(loads(FAULTY))
    assert any(one.edits for one in found)
    unreadable = [{"file": "gone.lesson", "message": "there is no file gone.lesson"}]
    written = json.loads(findings_as_json(map(finding_data, found), 1, unreadable))
    schema_validator("findings").validate(written)
    assert (written["format"], written["version"], written["files"]) == ("fretloom-findings", 1, 1)
    assert written["unreadable"] == unreadable
    assert {one["rule"] for one in written["findings"]} == {one.rule for one in found}


def test_schema_refuses_what_is_not_a_report() -> None:
    """A severity that is not known, a place that cannot be, a field that is gone."""
    (first, *_) = check(loads(FAULTY))
    for change in ({"severity": "fatal"}, {"start": {"line": 0}}, {"fingerprint": "verse 3"}):
        broken = as_data(first)
        broken["findings"][0] |= change
        assert not schema_validator("findings").is_valid(broken)


def test_places_count_code_points() -> None:
    """Lines and columns are 1-based, offsets 0-based, all in code points; editors count UTF-16 units."""
    text = "title\n🎸 D♯"
    span = Span(Source("<text>", text), text.index("D"), len(text))
    written = finding_data(Diagnostic(rule="x", severity=Severity.INFO, message="m", span=span))
    assert written["start"] == {
        "line": 2,
        "column": 3,
        "offset": 8,
        "utf16": {"line": 1, "character": 3},
    }
    assert written["end"] == {
        "line": 2,
        "column": 5,
        "offset": 10,
        "utf16": {"line": 1, "character": 5},
    }


def _annotation(message: str, name: str = "kiln.lesson", start: int = 0, end: int = 1) -> str:
    span = Span(Source(name, "one\ntwo\n"), start, end)
    return annotation(
        Diagnostic(rule="bad-pluck", severity=Severity.WARNING, message=message, span=span)
    )


def test_annotation_names_file_line_and_column() -> None:
    """One workflow command a finding (GitHub documentation, workflow commands)."""
    assert _annotation("no pluck", start=4, end=6) == (
        "::warning file=kiln.lesson,line=2,endLine=2,col=1,endColumn=3,title=bad-pluck::no pluck"
    )


def test_annotation_cannot_be_broken_out_of() -> None:
    """Line ends, per cent signs, colons and commas are escaped where they would end something."""
    text = _annotation("50%\n::error::x", name="a,b:c\n.lesson")
    assert "\n" not in text
    assert text.startswith("::warning file=a%2Cb%3Ac%0A.lesson,line=1")
    assert text.endswith("::50%25%0A::error::x")


def test_annotation_over_lines_has_no_columns() -> None:
    """Columns are given within one line only, as GitHub asks."""
    assert "col=" not in _annotation("m", start=0, end=6)
