"""Comments: wherever one can stand it is kept, in its order, and the music stays the same."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from lesson_pool import LESSONS, Made

from fretloom.notation.model.lesson import Lesson
from fretloom.notation.syntax.lines import split
from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.source import Source


def well_read(text: str) -> Lesson:
    """Read a text that has no fault."""
    found = read(Source("t.lesson", text))
    assert found.faults == ()
    return found


def comments(text: str) -> list[str]:
    """Return all comments of a text in their order."""
    return [line.comment for line in split(Source("t.lesson", text)) if line.comment]


def _on_several_lines(text: str) -> Iterator[str]:
    """Yield the lines of a text, patterns of several bars with a line for each of them."""
    in_patterns = False
    for line in split(Source("t.lesson", text)):
        written = line.source.line_text(line.number)
        if line.statement and not line.indented:
            in_patterns = line.word == "patterns"
        title, quote, bars = written.rpartition('"')
        if in_patterns and not line.comment:
            written = title + quote + bars.replace(" | ", "\n    | ")
        yield from written.split("\n")


def _planted(text: str) -> Iterator[str]:
    """Yield the lines of a text with a comment beside each, and two below it, one of them indented."""
    number = 0
    yield "# planted 0"
    for line in _on_several_lines(text):
        has_one = next(split(Source("t.lesson", line))).comment
        yield line if has_one or not line else f"{line}  # planted {number + 1}"
        one, other = f"# planted {number + 2}", f"    # planted {number + 3}"
        yield from (one, other) if number % 2 else (other, one)
        number += 3


def statements(text: str) -> list[str]:
    """Return the lines of a text without their comments and without what is only a comment."""
    return [line.statement for line in split(Source("t.lesson", text)) if line.statement]


@LESSONS.law()
def test_comments_in_every_place_are_kept_in_order(made: Made) -> None:
    """Beside, above and below every line, between the lines of a pattern, indented and not, at both ends."""
    text = "\n".join(_planted(made.text)) + "\n"
    lesson = well_read(text)
    once = format_lesson(lesson)
    assert comments(once) == comments(text)
    assert statements(once) == statements(made.text)
    again = well_read(once)
    assert again == lesson
    assert format_lesson(again) == once


@pytest.mark.parametrize(
    "text",
    [
        'use "a.lesson"\n  # below\n',
        'use "a.lesson"  # beside\n  # below\nuse "b.lesson"\n  # last\n',
        'use "a.lesson"\n# first\n  # second\npicking\n  p plays 6\n',
        "section a\n  C\n# first\n  # second\n",
        "section a\n  C\n  # first\n# second\n  # third\nsection b\n  C\n",
        "patterns\n  one p , p  # first\n    # second\n\n# third\n    | p , p\n  # fourth\n",
        "patterns\n  one p  # first\n    | m  # second\n    | p  # third\n    | m\n  two p\n",
    ],
)  # fmt: skip
def test_a_comment_is_kept(text: str) -> None:
    """Under what takes no lines, out of step with its neighbours, within a pattern."""
    once = format_lesson(well_read(text))
    assert comments(once) == comments(text)
    assert format_lesson(well_read(once)) == once


def test_a_comment_below_a_use_belongs_to_what_follows() -> None:
    """For nothing can belong to a line of `use`."""
    lesson = well_read('use "a.lesson"\n  # for the chorus\npicking\n  p plays 6\n  # last\n')
    assert lesson.blocks[1].margin.above == ("# for the chorus",)
    assert lesson.blocks[1].tail == ("# last",)  # type: ignore[union-attr]


def test_comments_within_a_pattern_go_above_it_but_for_the_last() -> None:
    """Its bars may come on one line."""
    (pattern,) = well_read("patterns\n  one p  # a\n  # b\n   | m  # c\n").patterns
    assert (pattern.margin.above, pattern.margin.beside) == (("# a", "# b"), "# c")


@pytest.mark.parametrize("space", ["\u00a0", "\u3000", "\u202f"])
def test_spaces_in_texts_stay_as_they_were_written(space: str) -> None:
    """Outside quotes they only separate words."""
    text = f'lesson "A{space}B"  # C{space}D\n\nstep "E{space}F"\n  Play{space}it.\n'
    assert format_lesson(well_read(text)) == text
    assert format_lesson(well_read(f"picking\n  p{space}plays 6\n")) == "picking\n  p plays 6\n"
