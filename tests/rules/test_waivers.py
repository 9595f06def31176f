"""Waivers: where they hold, and what is wrong with some."""

from __future__ import annotations

from pathlib import Path

from rule_lessons import PATTERNS, findings, lesson, told

from fretloom.api import check, load

SPARE = "  slow   p , m , p , i"


def test_waiver_beside_the_line() -> None:
    """A waiver at the end of a line covers what starts on it."""
    assert told(lesson(patterns=PATTERNS + SPARE + "  # allow unused-pattern: for June\n")) == []


def test_waiver_above_the_line() -> None:
    """A waiver alone on the line above covers the line below, not the others."""
    patterns = PATTERNS + "  # allow unused-pattern: for June\n" + SPARE + "\n"
    assert told(lesson(patterns=patterns)) == []
    assert told(lesson(patterns=patterns + "  slower p , p , p , i\n")) == [
        ("warning", "unused-pattern")
    ]


def test_waiver_above_a_block_covers_the_block() -> None:
    """A waiver above the opening line covers every line of the block, and nothing after it."""
    patterns = (
        "# allow unused-pattern: for June\n" + PATTERNS + SPARE + "\n  slower p , p , p , i\n"
    )
    assert told(lesson(patterns=patterns)) == []
    elsewhere = "# allow unused-pattern: for June\n" + lesson(patterns=PATTERNS + SPARE + "\n")
    assert told(elsewhere) == [("warning", "waiver-not-needed"), ("warning", "unused-pattern")]


def test_several_rules_in_one_waiver() -> None:
    """Rules are separated by commas, and each is judged by itself."""
    patterns = PATTERNS + SPARE + "  # allow unused-pattern, thumb-off-bass: for June\n"
    (found,) = findings(lesson(patterns=patterns))
    assert (found.rule, found.span.text) == ("waiver-not-needed", "thumb-off-bass")


def test_waiver_without_reason_does_not_count() -> None:
    """Without a reason the finding stays, and the waiver is told."""
    patterns = PATTERNS + SPARE + "  # allow unused-pattern\n"
    assert told(lesson(patterns=patterns)) == [
        ("warning", "unused-pattern"),
        ("warning", "waiver-without-reason"),
    ]


def test_waiver_for_arithmetic_does_not_count() -> None:
    """A bar that does not add up cannot be waived."""
    patterns = "patterns\n  plain  p , p m , p i  # allow pattern-beats: my own way\n"
    assert told(lesson(patterns=patterns)) == [
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
    assert told(lesson(patterns=patterns)) == []
    assert told(lesson(patterns=patterns.replace("students to slow down here", "time"))) == []


def test_unneeded_waiver_points_to_where_it_belongs() -> None:
    """If the finding is elsewhere, its line is named."""
    patterns = PATTERNS.rstrip("\n") + "  # allow unused-pattern: for June\n" + SPARE + "\n"
    found = [one for one in findings(lesson(patterns=patterns)) if one.rule == "waiver-not-needed"]
    assert [one.hint for one in found] == ["move it to line 9, or take it out"]


def test_waiver_at_the_end_of_a_block_or_file_covers_nothing() -> None:
    """A waiver below the last line belongs to no line."""
    text = lesson() + "# allow unused-pattern: for June\n"
    assert told(text) == [("warning", "waiver-not-needed")]


def test_waiver_in_a_base_lesson_holds_for_those_based_on_it(tmp_path: Path) -> None:
    """What the base allows is not told again for each lesson based on it."""
    section = "section tune  using plain\n  C | C with p2 on 3\n"
    waived = section.replace("on 3\n", "on 3  # allow thumb-off-bass: the thumb crosses\n")
    (tmp_path / "base.lesson").write_text(lesson(section=waived))
    easy = tmp_path / "easy.lesson"
    easy.write_text('lesson "Easy"\n  based on "base.lesson"\n  tempo 60\n')
    assert check(load(easy)) == []
