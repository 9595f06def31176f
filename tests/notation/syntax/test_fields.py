"""The heading's lines: everything about one follows from its row."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from fretloom.api import loads
from fretloom.notation.syntax import synonyms
from fretloom.notation.syntax.fields.table import FIELDS, Field
from fretloom.notation.syntax.parsing.grammar import grammar_text
from fretloom.notation.syntax.unexpected import LIKE_THIS
from fretloom.notation.syntax.writing.words import setting
from fretloom.performance.events import Settings

ROWS = [pytest.param(row, id=row.name) for row in FIELDS.values()]
PAGE = Path(__file__).parents[3] / "docs" / "reference" / "notation.md"


def test_the_rows_are_those_of_the_grammar() -> None:
    """Each alternative of a line of the heading has a row, and each row an alternative."""
    rule = grammar_text().partition("setting_line: ")[2].partition("\n\n")[0]
    assert set(re.findall(r"-> (\w+)", rule)) == set(FIELDS)


@pytest.mark.parametrize("row", ROWS)
def test_what_a_row_shows_can_be_read_and_written(row: Field) -> None:
    """Its examples and its right line are read, the value has the row's type, and is written as it was."""
    for line in (*row.examples, row.like_this.partition(", or")[0]):
        lesson = loads(f'lesson "Two cups"\n  {line}\n', root=Path(__file__).parent)
        (read,) = lesson.heading.settings
        assert read.name == row.name
        assert isinstance(read.value, row.kinds)
        written = setting(read)
        (again,) = loads(
            f'lesson "Two cups"\n  {written}\n', root=Path(__file__).parent
        ).heading.settings
        assert again == read
        assert written.startswith(f"{row.word} ")


@pytest.mark.parametrize("row", ROWS)
def test_defaults_are_values_of_the_field(row: Field) -> None:
    """What holds without the line is of its type, and one of its words where it has some."""
    assert row.default is None or isinstance(row.default, row.kinds)
    assert not row.words or row.default in row.words


def test_settings_have_the_defaults() -> None:
    """A lesson that says nothing has what the rows say, and so have settings made without a lesson."""
    from fretloom.api import expand

    lesson = loads('lesson "Two cups"\n\nvoicings\n  C x32010\n\nsection a\n  C { p, p, p, p }\n')
    found = expand(lesson).settings
    for row in FIELDS.values():
        if hasattr(Settings, row.name):
            assert getattr(found, row.name) == row.default


def test_a_faulty_line_shows_the_right_one() -> None:
    """The hint comes from the row."""
    assert all(LIKE_THIS[row.name] == row.like_this for row in FIELDS.values())


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("tempo 500", "tempo 500 is outside 10 to 400"),
        ("tempo 9", "tempo 9 is outside 10 to 400"),
        ("tempo 60 to 0/8", "a tempo cannot count a note of length 0"),
        ("swing 30:1", "30:1 is not a ratio for a swing"),
        ("hand 50 mm", "50 mm is outside 100 to 260 mm for a hand"),
        ("scale 2 inches", "2 inches is outside 200 to 1200 mm for the strings of a guitar"),
    ],
)
def test_a_value_out_of_range_is_said_with_the_range(line: str, said: str) -> None:
    """The message names the value and its limits, or what it cannot be."""
    (found,) = loads(f'lesson "Two cups"\n  {line}\n').faults
    assert (found.rule, found.message) == ("bad-value", said)


@pytest.mark.parametrize("times", ["0", "10000"])
def test_a_repeat_out_of_range_is_said_with_the_range(times: str) -> None:
    """A repeat is played once at least, and 9999 times at most."""
    found = loads(f"section a\n  repeat {times}\n  C\n  end\n").faults
    assert found[0].message == "a repeat can be played 1 to 9999 times"


def test_synonyms_mean_one_field_and_are_none_themselves() -> None:
    """No word leads to two fields."""
    words = [word for row in FIELDS.values() for word in row.synonyms]
    assert len(words) == len(set(words)) == len(synonyms.FIELDS)
    assert not set(words) & set(FIELDS)


def test_the_page_has_the_rows() -> None:
    """The table of the notation's page is the table of the rows."""
    shown = [
        f"| {', '.join(f'`{one}`' for one in row.examples)} | {row.meaning} | {row.left_out} |"
        for row in FIELDS.values()
    ]
    text = PAGE.read_text(encoding="utf-8").partition("## lesson")[2].partition("\n## ")[0]
    rows = [
        re.sub(r"\|\s*\|$", "|  |", line) for line in text.split("\n") if line.startswith("| `")
    ]
    assert rows == shown
