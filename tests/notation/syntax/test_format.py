"""The canonical text: reading it gives an equal model, writing it again changes nothing."""

from __future__ import annotations

import re
from collections import Counter
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


def words(text: str) -> Counter[str]:
    """Count the words of a text, its bar lines left out."""
    return Counter(re.findall(r"[^\s|]+", text))


@pytest.mark.parametrize(
    "text",
    [
        'section a\n  C | C%0A | "b" (\n',
        "section a\n  C | D E:0 | | G\n  |\n  ending 1: C | ((\n  ending 1: C using using | C\n",
        "section a\n  pickup 1: %%\n  last 0: C\n",
        "lesson Kiln Lane\n  temmpo 90  # slow\n",
        "voicings of mine:\n  C x32010\n",
        "sectoin a  # first\n  C\n",
        "section a 8 barz using b\n  C\n",
        'section a "x" "y"\n  C\n',
        "section a\n  C |# c D | E\n  | tempo 90 x\n  show section a from 76 |\n  ending 1: C |# (\n",
        "section a\n  C\n\u200b  last 2: C\n  # c\nform\n  a\n",
        "patterns\n  long p , p  # a\n       | q , i  # b\n",
        "section a  using b  using c\n  C\n",
        "section a  4 bars  8 bars  in 3/4  in 4/4\n  C\n",
        "section a  1.5 bars\n  C\n",
        'patterns\n  plain "a" "b": p\n',
        "patterns\n  plain in 3/4 in 4/4: p\n",
        "  C | G\n  # lost\n\nuse \"b.lesson\"\n  # kept\n  stray line\n",
        "form\n  # none above\n  but bar 3: C \"x  y\"\n  a\n  but (\n    but without bar 1\n",
        "form\n  ((\n    but bar 1: C\n",
        "nonsense here  # why\n  # above\n  more of it  # beside\n  # last\n\nstep \"a\"\n",
        "lesson \"a\"\n\nsec\u200btion a\n  C\n  hid\u200bden\n",
    ],
)  # fmt: skip
def test_words_that_could_not_be_read_are_kept(text: str) -> None:
    """Nothing is lost, not even comments, and the text that is written is written again."""
    lesson = read(Source("t.lesson", text))
    assert lesson.faults
    written = format_lesson(lesson)
    assert words(written) == words(text)
    again = read(Source("t.lesson", written))
    assert again == lesson
    assert format_lesson(again) == written


@pytest.mark.parametrize("line", ["| end", "| form | C", "| repeat 2", "C | end"])
def test_a_bar_line_keeps_a_word_a_name(line: str) -> None:
    """A voicing can be called like a line of a section; such a line begins with a bar line."""
    text = f"section a\n  {line}\n"
    if line != "| repeat 2":
        assert formatted(text) == text
    lesson = read(Source("t.lesson", text))
    assert read(Source("t.lesson", format_lesson(lesson))) == lesson


def test_comments_of_a_pattern_of_several_lines_are_kept() -> None:
    """Each as it is: the last one at its end, the others above it."""
    text = "patterns\n  long p , p  # a\n       | i , i  # b\n"
    assert formatted(text) == "patterns\n  # a\n  long  p , p | i , i  # b\n"


def test_prose_is_not_taken_for_the_heading() -> None:
    """What a step says about names and tunings does not change how notes are read."""
    text = 'lesson "Air"\n\nvoicings\n  B  x24442\n\nstep "One"\n  names german\n  tuning G4 C4 E4 A4\n  based on it\n'
    assert read(Source("t.lesson", text)).faults == ()


def test_a_share_that_is_too_long_for_a_fraction_is_a_decimal() -> None:
    """What was read can be read again."""
    text = "section a\n  C:0.0001 D:3/2 | E\n"
    assert formatted(text) == text
