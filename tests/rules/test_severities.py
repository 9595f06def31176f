"""The table of rules says what can really be found: each rule with each of its severities."""

from __future__ import annotations

from pathlib import Path

import places
import pytest
from rule_lessons import asked_by, findings, lesson

from fretloom.api import check, load
from fretloom.diagnostics import Diagnostic
from fretloom.rule_facts import RULES, Severity
from fretloom.rules.pages import page

#: Lessons for what no page and no lesson of the tests gives.
DOUBTFUL = [
    lesson(voicings="voicings\n  C  x32010\n  E  022xxx  fingers .11...  bass 6 5\n"),
    lesson(voicings="voicings\n  C  x32010  fingers .T2.1.\n"),
    lesson(
        'lesson "Two cups"\n  meter 4/4\n  tempo 95\n',
        patterns="patterns\n  plain  p , i m i m i m , p , p\n",
    ),
    lesson(
        'lesson "Two cups"\n  meter 4/4\n  tempo 170\n',
        patterns="patterns\n  plain  p , m3 i2 , p , p\n",
    ),
    lesson('lesson "Two cups"\n  meter 4/4\n  swing 1:2\n'),
]


def _found(folder: Path) -> list[Diagnostic]:
    """Return what is found in the lessons of the rules' pages, in those of the tests and above."""
    found = [one for text in DOUBTFUL for one in findings(text)]
    for path in sorted((places.TESTS / "lessons").rglob("*.lesson")):
        found += check(load(path))
    for rule in RULES:
        shown = page(rule.name)
        assert shown is not None
        files = shown.lessons("Wrong")
        home = folder / rule.name
        home.mkdir()
        for name, text in files.items():
            target = home / name
            if target.resolve().is_relative_to(home.resolve()):
                target.parent.mkdir(parents=True, exist_ok=True)
                target.write_text(text, encoding="utf-8")
        found += check(load(home / "example.lesson"), style=asked_by(rule))
    return found


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory) -> list[Diagnostic]:
    """All findings of many faulty lessons."""
    return _found(tmp_path_factory.mktemp("pages"))


def test_every_severity_of_the_table_is_given(found: list[Diagnostic]) -> None:
    """A severity that no lesson brings about is one that the rule does not have."""
    given = {(one.rule, one.severity) for one in found}
    stated = {(rule.name, severity) for rule in RULES for severity in rule.severities}
    assert stated - given == set()


def test_no_rule_is_graver_or_lighter_than_the_table_says(found: list[Diagnostic]) -> None:
    """What is found stands in the table."""
    stated = {(rule.name, severity) for rule in RULES for severity in rule.severities}
    assert {(one.rule, one.severity) for one in found} - stated == set()


def test_an_open_root_or_fifth_in_the_bass_is_left_alone() -> None:
    """The diagram of D has no fifth string, yet its open A is plucked (common practice, no source)."""
    section = "section tune  using plain\n  D | D\n"
    patterns = "patterns\n  plain  p , p m , p a , p m\n"
    voicings = "voicings\n  D  xx0232  fingers ...132  bass 4 5\n"
    text = lesson(voicings=voicings, patterns=patterns, section=section)
    assert findings(text) == []
    wrong = findings(text.replace("bass 4 5", "bass 4 6"))
    assert [(one.rule, one.severity) for one in wrong] == [("muted-string-plucked", Severity.ERROR)]
