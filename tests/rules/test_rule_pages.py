"""The pages of the rules are run: the wrong lesson gives its rule, the right one nothing."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from rule_lessons import asked_by

from fretloom.api import check, load
from fretloom.diagnostics import Diagnostic
from fretloom.rule_facts import RULES, Rule, Severity
from fretloom.rules.pages import SECTIONS, RulePage, as_text, near_rules, page


def _page(rule: Rule) -> RulePage:
    found = page(rule.name)
    assert found is not None
    return found


def _findings(rule: Rule, section: str, folder: Path) -> list[Diagnostic]:
    files = _page(rule).lessons(section)
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return check(load(folder / "example.lesson"), style=asked_by(rule))


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_page_has_all_sections(rule: Rule) -> None:
    """Every rule says what it checks, why, and shows a wrong and a right lesson."""
    found = _page(rule)
    assert all(found.sections[name].strip() for name in SECTIONS)
    assert "example.lesson" in found.lessons("Wrong")
    assert "example.lesson" in found.lessons("Right")


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_wrong_lesson_gives_the_rule(rule: Rule, tmp_path: Path) -> None:
    """The wrong lesson gives exactly this rule, with a severity that is documented."""
    found = _findings(rule, "Wrong", tmp_path)
    mine = [one for one in found if one.rule == rule.name]
    assert mine
    assert {one.severity for one in mine} <= set(rule.severities)
    # Giving up comes after a hundred other faults.
    others = [one for one in found if rule.name not in (one.rule, "too-many-faults")]
    assert not [one.message for one in others if one.severity is Severity.ERROR]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_right_lesson_is_clean(rule: Rule, tmp_path: Path) -> None:
    """The right lesson gives no finding at all."""
    found = _findings(rule, "Right", tmp_path)
    assert [(one.rule, one.message) for one in found] == []


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_findings_are_said_for_a_teacher(rule: Rule, tmp_path: Path) -> None:
    """Messages have no full stop, no line end and no word of the machinery."""
    for one in _findings(rule, "Wrong", tmp_path):
        for text in (one.message, one.hint):
            assert "\n" not in text
            assert not re.search(r"[a-z]\.$", text)
            assert not any(word in text for word in ("Token", "Traceback", "None", "__"))


def test_explained_page_names_severity_and_waiver() -> None:
    """The page as text says how grave a rule is and how it is waived."""
    text = as_text(_page(next(rule for rule in RULES if rule.name == "thumb-off-bass")))
    assert "error or info; can be waived: # allow thumb-off-bass: the reason" in text


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_explained_prose_fits_a_terminal(rule: Rule) -> None:
    """Prose is wrapped; only lessons, indented, may be wider."""
    lines = as_text(_page(rule)).splitlines()
    assert [line for line in lines if len(line) > 80 and not line.startswith("    ")] == []


def test_misspelt_rule_is_found() -> None:
    """The nearest names of a misspelt rule come first."""
    assert near_rules("patern-beats")[0] == "pattern-beats"
