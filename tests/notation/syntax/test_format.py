"""The canonical text: reading it gives an equal model, writing it again changes nothing."""

from __future__ import annotations

from pathlib import Path

import pytest
from places import EXAMPLES

from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.source import Source

LESSONS = sorted(EXAMPLES.rglob("*.lesson"))


def formatted(text: str) -> str:
    """Format a text."""
    return format_lesson(read(Source("t.lesson", text)))


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_examples_are_kept_by_formatting(path: Path) -> None:
    """The model of an example is the same after formatting, and the second time nothing changes."""
    text = path.read_text(encoding="utf-8")
    once = formatted(text)
    assert read(Source("t.lesson", once)) == read(Source("t.lesson", text))
    assert formatted(once) == once


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_no_comment_of_an_example_is_lost(path: Path) -> None:
    """Every comment stands in the formatted text as often as before."""
    text = path.read_text(encoding="utf-8")
    before = [line[line.index("# ") :] for line in text.splitlines() if "# " in line]
    after = [line[line.index("# ") :] for line in formatted(text).splitlines() if "# " in line]
    assert sorted(after) == sorted(before)


def test_tables_are_aligned() -> None:
    """Names, frets, fingers and bass orders stand in columns."""
    text = "voicings\n E 022100 fingers .231.. bass 6 4 5 4\n C#m x46654\n E7 like E lift 3\n"
    assert formatted(text) == (
        "voicings\n"
        "  E    022100  fingers .231..  bass 6 4 5 4\n"
        "  C#m  x46654\n"
        "  E7   like E  lift 3\n"
    )


def test_a_long_pattern_gets_a_line_for_each_bar() -> None:
    """Bars of a long pattern stand below one another."""
    beats = "p , p m , p i , [p m] i"
    text = f"patterns\n  long {beats} | {beats} | {beats} | {beats}\n"
    assert formatted(text) == (
        f"patterns\n  long  {beats}\n      | {beats}\n      | {beats}\n      | {beats}\n"
    )


def test_repeats_are_indented() -> None:
    """What is repeated stands deeper, and comments go with their lines."""
    text = "section s\n repeat 2\n # twice\n E | A\n ending 1,2: B # back\n end\n"
    assert formatted(text) == (
        "section s\n  repeat 2\n    # twice\n    E | A\n    ending 1 2: B  # back\n  end\n"
    )


def test_an_empty_text_stays_empty() -> None:
    """Nothing comes of nothing."""
    assert formatted("") == ""
