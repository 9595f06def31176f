"""Findings as documents for other programs: valid by the schemas that others publish."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema import Draft7Validator
from lxml import etree

from fretloom.api import Diagnostic, Edit, Severity, Source, Span, examine, loads
from fretloom.report.findings.gitlab import code_quality
from fretloom.report.findings.junit import CheckedLesson, junit_xml
from fretloom.report.findings.places import plain_name, uri
from fretloom.report.findings.sarif import sarif_log
from fretloom.report.findings.statistics import statistics
from fretloom.rule_facts import RULES

SCHEMAS = Path(__file__).parents[2] / "data" / "schemas"
#: SARIF 2.1.0, as its committee publishes it (OASIS).
SARIF = Draft7Validator(json.loads((SCHEMAS / "sarif-2.1.0.json").read_text(encoding="utf-8")))
JUNIT = etree.XMLSchema(etree.parse(SCHEMAS / "junit-10.xsd"))

LESSON = """lesson "Two cups <&>"

voicings
  C  x32010
  G  320003   # allow unused-voicing: for the next lesson & "more"
  F  133211   # alow unused-voicing: a slip

patterns
  plain  p , p m , p i , p m

section tune  using plian
  C | C
"""
UNREADABLE = [{"file": "gone & lost.lesson", "message": "there is no file gone & lost.lesson"}]


def _examined(name: str = "tunes/two cups.lesson", text: str = LESSON) -> tuple[list[Diagnostic], list[object]]:  # fmt: skip
    found = examine(loads(text, path=name))
    return list(found.findings), list(found.waived)


def test_sarif_follows_its_schema() -> None:
    """With fixes, related places, waivers and files that could not be read."""
    findings, waived = _examined()
    assert any(one.edits for one in findings)
    assert waived
    log = sarif_log(findings, waived, UNREADABLE)  # type: ignore[arg-type]
    SARIF.validate(json.loads(json.dumps(log)))
    assert not SARIF.is_valid(log | {"version": "2.0.0"})


def test_sarif_follows_its_schema_for_every_rule() -> None:
    """The page of each is its help."""
    span = Span(Source("a.lesson", "one\ntwo"), 0, 7)
    findings = [
        Diagnostic(rule=one.name, severity=severity, message="m", span=span)
        for one in RULES
        for severity in one.severities
    ]
    log = sarif_log(findings)
    SARIF.validate(log)
    rules = log["runs"][0]["tool"]["driver"]["rules"]
    assert [one["id"] for one in rules] == sorted(one.name for one in RULES)
    assert all("What it checks" in one["help"]["text"] for one in rules)


def test_sarif_of_nothing_is_a_run_without_results() -> None:
    log = sarif_log([])
    SARIF.validate(log)
    assert log["runs"][0]["results"] == []
    assert log["runs"][0]["invocations"][0]["executionSuccessful"] is True


def test_what_is_waived_is_suppressed_in_the_source() -> None:
    """With its reason and the place of the comment; all others say that they are not (SARIF 3.27.23)."""
    findings, waived = _examined()
    results = sarif_log(findings, waived)["runs"][0]["results"]  # type: ignore[arg-type]
    (allowed,) = [one for one in results if one["suppressions"]]
    assert allowed["ruleId"] == "unused-voicing"
    (suppression,) = allowed["suppressions"]
    assert suppression["kind"] == "inSource"
    assert suppression["justification"] == 'for the next lesson & "more"'
    region = suppression["location"]["physicalLocation"]["region"]
    assert (region["startLine"], region["startColumn"]) == (5, LESSON.splitlines()[4].index("unused") + 1)  # fmt: skip
    assert len(results) == len(findings) + 1


def test_sarif_places_count_code_points_and_end_behind_the_last() -> None:
    """SARIF 2.1.0, 3.14.17 `columnKind` and 3.30.8 `endColumn`."""
    text = "title\n🎸 D♯\nx"
    span = Span(Source("a b.lesson", text), text.index("D"), text.index("♯") + 1)
    edit = Edit(span=span, text="", title="remove it")
    found = Diagnostic(rule="stretch", severity=Severity.WARNING, message="m", span=span, edits=(edit,))  # fmt: skip
    log = sarif_log([found])
    SARIF.validate(log)
    run = log["runs"][0]
    assert run["columnKind"] == "unicodeCodePoints"
    (result,) = run["results"]
    place = result["locations"][0]["physicalLocation"]
    region = {"startLine": 2, "startColumn": 3, "endLine": 2, "endColumn": 5}
    assert place == {"artifactLocation": {"uri": "a%20b.lesson"}, "region": region}
    (change,) = result["fixes"][0]["artifactChanges"]
    assert change["replacements"] == [{"deletedRegion": region}]
    assert result["level"] == "warning"
    assert result["partialFingerprints"] == {"fretloom/v1": found.fingerprint}


@pytest.mark.parametrize(
    ("name", "plain", "address"),
    [
        ("tunes/../shared/v.lesson", "shared/v.lesson", "shared/v.lesson"),
        ("./a.lesson", "a.lesson", "a.lesson"),
        ("/x/é #1?.lesson", "/x/é #1?.lesson", "file:///x/%C3%A9%20%231%3F.lesson"),
        ("a:b.lesson", "a:b.lesson", "a%3Ab.lesson"),
    ],
)
def test_files_are_named_as_others_read_them(name: str, plain: str, address: str) -> None:
    """A colon in the first part of a relative reference would be a scheme (RFC 3986, 4.2)."""
    assert (plain_name(name), uri(name)) == (plain, address)


def test_junit_follows_its_schema() -> None:
    """A lesson that is sound, one with findings of all kinds, one that was not read."""
    findings, _ = _examined()
    span = findings[0].span
    doubtful = Diagnostic(rule="stretch", severity=Severity.WARNING, message="a & b", span=span)
    lessons = [
        CheckedLesson("sound.lesson"),
        CheckedLesson('tunes/two "cups" <1>.lesson', (*findings, doubtful)),
        CheckedLesson("gone.lesson", unreadable="there is no file gone.lesson & so on \x1b\ufffe"),
    ]
    text = junit_xml(lessons, lambda one: one.severity is Severity.ERROR)
    tree = etree.fromstring(text.encode("utf-8"))
    JUNIT.assertValid(tree)
    assert [one.get("name") for one in tree.iter("testcase")] == ["sound.lesson", 'tunes/two "cups" <1>.lesson', "gone.lesson"]  # fmt: skip
    (suite,) = tree.iter("testsuite")
    assert (suite.get("tests"), suite.get("failures"), suite.get("errors")) == ("3", "1", "1")
    sound, faulty, gone = tree.iter("testcase")
    assert len(sound) == 0
    errors = [one for one in findings if one.severity is Severity.ERROR]
    assert f"{len(errors)} finding" in faulty[0].get("message", "")
    assert all(one.message in (faulty[0].text or "") for one in errors)
    assert {one.tag for one in faulty} == {"failure", "system-out"}
    assert [one.tag for one in gone] == ["error"]
    JUNIT.assertValid(etree.fromstring(junit_xml([], lambda _: True).encode()))


def test_gitlab_has_the_fields_that_it_asks_for() -> None:
    """GitLab documentation, "Code Quality report format" (from memory): no fingerprint twice."""
    findings, _ = _examined()
    issues = code_quality([*findings, *findings], UNREADABLE)
    assert len({one["fingerprint"] for one in issues}) == len(issues) == 2 * len(findings) + 1
    for one in issues:
        assert set(one) == {"description", "check_name", "fingerprint", "severity", "location"}
        assert one["severity"] in ("info", "minor", "major", "critical", "blocker")
        assert set(one["location"]) == {"path", "lines"}
        assert one["location"]["lines"]["begin"] >= 1
        assert not one["location"]["path"].startswith("./")
    assert issues[0]["location"] == {"path": "tunes/two cups.lesson", "lines": {"begin": findings[0].span.line}}  # fmt: skip


def test_a_gitlab_fingerprint_stays_when_lines_above_come_and_go() -> None:
    before, _ = _examined()
    after, _ = _examined(text=f"# a line more\n\n{LESSON}")
    assert [one["fingerprint"] for one in code_quality(before)] == [one["fingerprint"] for one in code_quality(after)]  # fmt: skip


def test_statistics_have_the_rule_broken_most_often_first() -> None:
    def found(rule: str, name: str, start: int) -> Diagnostic:
        span = Span(Source(name, "x" * 20), start, start + 1)
        return Diagnostic(rule=rule, severity=Severity.WARNING, message="m", span=span)

    rules = [found("stretch", "a.lesson", at) for at in range(10)]
    rules += [found("reach", "a.lesson", 0), found("stretch", "b.lesson", 1)]
    assert statistics(rules).splitlines() == [
        "11  warning  stretch  in 2 files",
        " 1  warning  reach    in 1 file",
    ]
    assert statistics([]) == ""
