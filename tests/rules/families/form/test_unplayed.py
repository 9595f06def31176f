"""Sections that the form leaves out."""

from __future__ import annotations

import pytest
from rule_lessons import SECTION, findings, lesson, reported

TWO = SECTION + "\nsection close  using plain\n  C\n"


@pytest.mark.parametrize(
    ("more", "found"),
    [
        ("", []),
        ("form\n  tune\n  close\n", []),
        ("form\n  tune\n", [("warning", "section-never-played")]),
        ('form\n  tune\n\nstep "The end"\n  show section close at 60\n', []),
        ('form\n  tune\n\nstep "The end"\n  show bars 1-1 of close\n', []),
        ('form\n  tune\n\nstep "The end"\n  show form\n', [("warning", "section-never-played")]),
    ],
)
def test_a_section_neither_played_nor_shown_is_remarked_on(
    more: str, found: list[tuple[str, str]]
) -> None:
    """Without a form all are played in turn; what a step shows is there to be practised."""
    assert reported(lesson(section=TWO, more=more)) == found


def test_a_form_with_an_unknown_section_gets_one_finding() -> None:
    """The one left out is most likely the one misspelt."""
    assert reported(lesson(section=TWO, more="form\n  tune\n  clsoe\n")) == [
        ("error", "unknown-section")
    ]


@pytest.mark.parametrize(
    ("body", "found"),
    [
        ("", [("warning", "section-without-bars")]),
        ("  tempo 60\n", [("warning", "section-without-bars")]),
        ("  # to come\n", [("warning", "section-without-bars")]),
        ("  C\n", []),
        ("  last 2: C\n", []),
        ("  C | (\n", [("error", "unclosed-bracket")]),
    ],
)
def test_a_section_without_bars_is_remarked_on(body: str, found: list[tuple[str, str]]) -> None:
    """Whatever else stands in it; what could not be read may have been bars."""
    section = f"{SECTION}\nsection close  using plain\n{body}"
    assert reported(lesson(section=section, more="form\n  tune\n  close\n")) == found


def test_no_section_is_advised_to_have_no_bars() -> None:
    empty = SECTION + "\nsection close  8 bars  using plain\n"
    (found,) = findings(lesson(section=empty))
    assert (found.rule, found.hint) == ("section-length", "add 8 bars")
    (found,) = findings(lesson(section=empty.replace("8", "0")))
    assert found.rule == "section-without-bars"
