"""Lines: indentation, statement, comment."""

from __future__ import annotations

import pytest

from fretloom.notation.syntax.lines import split
from fretloom.source import Source


def one(text: str):
    """Return the first line of a text."""
    return next(split(Source("t", text)))


@pytest.mark.parametrize(
    ("text", "statement", "comment"),
    [
        ("F#m 244222", "F#m 244222", ""),
        ("F# # a chord", "F#", "# a chord"),
        ("C#", "C#", ""),
        ("C #", "C", "#"),
        ("  #m is no name", "", "#m is no name"),
        ('by "Kiln # Lane" # us', 'by "Kiln # Lane"', "# us"),
        ("E #2 string", "E #2 string", ""),
        ("capo 3\t# three", "capo 3", "# three"),
    ],
)
def test_a_comment_needs_space_around_its_sign(text: str, statement: str, comment: str) -> None:
    """A sharp in a chord name never starts a comment."""
    line = one(text)
    assert (line.statement, line.comment) == (statement, comment)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_every_kind_of_line_end_is_read(end: str) -> None:
    """LF, CRLF and a lone CR end a line."""
    lines = list(split(Source("t", f"form{end}  verse{end}")))
    assert [line.statement for line in lines] == ["form", "verse", ""]
    assert [line.indented for line in lines] == [False, True, False]


@pytest.mark.parametrize("indent", [" ", "\t", "        ", "\u00a0 "])
def test_the_depth_and_kind_of_indentation_do_not_matter(indent: str) -> None:
    """Tabs, spaces and no-break spaces all just indent."""
    line = one(f"{indent}verse")
    assert line.indented
    assert line.statement == "verse"


def test_offsets_stay_true_past_odd_spaces() -> None:
    """A no-break space counts as one place, so spans point at the text as it is."""
    source = Source("t", "  capo\u00a03")
    line = next(split(source))
    assert line.statement == "capo 3"
    assert line.span(5, 6).text == "3"


def test_positions_count_code_points_and_utf16_units() -> None:
    """A column is a code point for people, UTF-16 units for editors (case f09, LSP 3.17)."""
    source = Source("t", "title: 🎸 D♯")
    offset = source.text.index("D")
    assert source.position(offset) == (1, 10)
    assert source.utf16_position(offset) == (0, 10)
