"""Waivers: where they hold, and what is wrong with some."""

from __future__ import annotations

from pathlib import Path

import pytest
from rule_lessons import PATTERNS, VOICINGS, findings, lesson, reported

from fretloom.api import check, load

SPARE = "  slow   p , m , p , i"


def test_waiver_beside_the_line() -> None:
    """A waiver at the end of a line covers what starts on it."""
    assert (
        reported(lesson(patterns=PATTERNS + SPARE + "  # allow unused-pattern: for June\n")) == []
    )


def test_waiver_above_the_line() -> None:
    """A waiver alone on the line above covers the line below, not the others."""
    patterns = PATTERNS + "  # allow unused-pattern: for June\n" + SPARE + "\n"
    assert reported(lesson(patterns=patterns)) == []
    assert reported(lesson(patterns=patterns + "  slower p , p , p , i\n")) == [
        ("warning", "unused-pattern")
    ]


def test_waiver_above_a_block_covers_the_block() -> None:
    """A waiver above the opening line covers every line of the block, and nothing after it."""
    patterns = (
        "# allow unused-pattern: for June\n" + PATTERNS + SPARE + "\n  slower p , p , p , i\n"
    )
    assert reported(lesson(patterns=patterns)) == []
    elsewhere = "# allow unused-pattern: for June\n" + lesson(patterns=PATTERNS + SPARE + "\n")
    assert reported(elsewhere) == [("warning", "waiver-not-needed"), ("warning", "unused-pattern")]


def test_waiver_above_the_last_block_covers_all_of_it() -> None:
    """It reaches to the end of the file."""
    section = "section tune  using plain\n  C\n  C with p2 on 3 without p on 3\n"
    assert reported(lesson(section=section)) == [("error", "thumb-off-bass")]
    waived = f"# allow thumb-off-bass: the thumb crosses\n{section}"
    assert reported(lesson(section=waived)) == []


def test_the_same_waiver_below_two_blocks_is_reported_where_it_stands() -> None:
    """Once each."""
    comment = "  # allow stretch: for June\n"
    found = findings(lesson(voicings=VOICINGS + comment, patterns=PATTERNS + comment))
    assert [(one.rule, one.span.line) for one in found] == [
        ("waiver-not-needed", 6),
        ("waiver-not-needed", 10),
    ]


def test_several_rules_in_one_waiver() -> None:
    """Rules are separated by commas, and each is judged by itself."""
    patterns = PATTERNS + SPARE + "  # allow unused-pattern, thumb-off-bass: for June\n"
    (found,) = findings(lesson(patterns=patterns))
    assert (found.rule, found.span.text) == ("waiver-not-needed", "thumb-off-bass")


def test_waiver_without_reason_does_not_count() -> None:
    """Without a reason the finding stays, and the waiver is reported."""
    patterns = PATTERNS + SPARE + "  # allow unused-pattern\n"
    assert reported(lesson(patterns=patterns)) == [
        ("warning", "unused-pattern"),
        ("warning", "waiver-without-reason"),
    ]


def test_waiver_for_arithmetic_does_not_count() -> None:
    """A bar that does not add up cannot be waived."""
    patterns = "patterns\n  plain  p , p m , p i  # allow pattern-beats: my own way\n"
    assert reported(lesson(patterns=patterns)) == [
        ("error", "pattern-beats"),
        ("warning", "cannot-be-waived"),
    ]


def test_misspelt_rule_gets_the_nearest_name() -> None:
    """A waiver for no rule says which was meant."""
    patterns = PATTERNS.rstrip("\n") + "  # allow unused-patern: for June\n"
    (found,) = findings(lesson(patterns=patterns))
    assert (found.rule, found.hint) == ("unknown-rule", "write unused-pattern")


def test_prose_that_begins_with_allow_is_no_waiver() -> None:
    """Ordinary comments may begin with the word."""
    patterns = PATTERNS.rstrip("\n") + "  # allow students to slow down here\n"
    assert reported(lesson(patterns=patterns)) == []
    assert reported(lesson(patterns=patterns.replace("students to slow down here", "time"))) == []


def test_unneeded_waiver_points_to_where_it_belongs() -> None:
    """If the finding is elsewhere, its line is named."""
    patterns = PATTERNS.rstrip("\n") + "  # allow unused-pattern: for June\n" + SPARE + "\n"
    found = [one for one in findings(lesson(patterns=patterns)) if one.rule == "waiver-not-needed"]
    assert [one.hint for one in found] == ["move it to line 9, or remove it"]


def test_waiver_at_the_end_of_a_block_or_file_covers_nothing() -> None:
    """A waiver below the last line belongs to no line."""
    text = lesson() + "# allow unused-pattern: for June\n"
    assert reported(text) == [("warning", "waiver-not-needed")]


def test_waiver_in_a_base_lesson_holds_for_those_based_on_it(tmp_path: Path) -> None:
    """What the base allows is not reported again for each lesson based on it."""
    section = "section tune  using plain\n  C | C with p2 on 3\n"
    waived = section.replace("on 3\n", "on 3  # allow thumb-off-bass: the thumb crosses\n")
    (tmp_path / "base.lesson").write_text(lesson(section=waived))
    easy = tmp_path / "easy.lesson"
    easy.write_text('lesson "Easy"\n  based on "base.lesson"\n  tempo 60\n')
    assert check(load(easy)) == []


def test_waiver_in_a_used_file_holds_for_those_that_use_it(tmp_path: Path) -> None:
    """A finding in a file of voicings that is allowed there is not reported through its users."""
    pattern = "patterns\n  turned  p , i1+m3 , p , i1+m3"
    library = tmp_path / "low.lesson"
    user = tmp_path / "cups.lesson"
    head = 'lesson "Two cups"\nuse "low.lesson"\n'
    user.write_text(lesson(head=head, section="section tune\n  C using turned | C using plain\n"))
    library.write_text(pattern + "\n")
    assert [one.rule for one in check(load(user))] == ["pick-crossed"]
    library.write_text(pattern + "  # allow pick-crossed: an exercise in crossing\n")
    assert check(load(user)) == []


@pytest.mark.parametrize(
    ("text", "rules"),
    [
        ("# allow", ["empty-lesson"]),
        ("# allow stretch: the capo is at 5", ["empty-lesson", "waiver-not-needed"]),
        ("# allow stretch\n# allow stretch\n", ["empty-lesson", *["waiver-without-reason"] * 2]),
        ("what is this # allow stretch: the capo is at 5\n", ["unknown-word"]),
    ],
)
def test_a_file_that_holds_nothing_but_a_waiver(text: str, rules: list[str]) -> None:
    """A file without a block is checked as any other."""
    assert [one.rule for one in findings(text)] == rules


@pytest.mark.parametrize(
    "slow",
    [
        "  slow  p , m , p , i  # allow unused-pattern: for June\n        | p , m , p , i\n",
        "  slow  p , m , p , i\n  # allow unused-pattern: for June\n        | p , m , p , i\n",
        "  slow  p , m , p , i\n        | p , m , p , i  # allow unused-pattern: for June\n",
    ],
)
def test_waiver_within_a_pattern_on_several_lines(slow: str) -> None:
    """It covers the whole pattern, on whichever of its lines it stands, and is found where it stands."""
    assert reported(lesson(patterns=PATTERNS + slow)) == []
    found = findings(lesson(patterns=PATTERNS + slow.replace("unused-pattern", "strech")))
    assert [one.span.text for one in found if one.rule == "unknown-rule"] == ["strech"]
