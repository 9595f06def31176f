"""Rows of a tab on a grid of columns, whatever signs stand in them."""

from __future__ import annotations

import pytest

from fretloom.formats.tab.text import clean, hang, row, wrap
from fretloom.text import columns

#: Signs and the columns they take (Unicode Standard Annex 11, Unicode Technical Standard 51).
SIGNS = [("☕\ufe0f", 2), ("👩\u200d🌾", 2), ("e\u0301", 1), ("日本", 4), ("🇩🇪", 2), ("❤\ufe0f", 2)]


@pytest.mark.parametrize(("sign", "width"), SIGNS)
def test_what_follows_stands_at_its_column(sign: str, width: int) -> None:
    """A row is filled up to the column by what is seen, not by how many characters that takes."""
    assert row([(0, sign), (8, "G")]) == sign + " " * (8 - width) + "G"
    assert row([(0, sign * 9), (8, "G")]) == sign * 9 + " G"


@pytest.mark.parametrize(("sign", "width"), SIGNS)
def test_lines_break_where_they_are_full(sign: str, width: int) -> None:
    """No line is too wide, none could have taken the next word, and no sign is cut."""
    words = 4 * 12 // (width + 1)
    lines = wrap(" ".join([sign] * words), 12)
    assert all(columns(line) <= 12 < columns(line) + 1 + width for line in lines[:-1])
    pieces = wrap(sign * 12, 5)
    assert "".join(pieces) == sign * 12
    assert all(columns(piece) <= 5 for piece in pieces)
    if width < 4:
        assert all(len(piece) % len(sign) == 0 for piece in pieces)


def test_labels_hang_by_what_is_seen() -> None:
    """The text beside a label begins at its column."""
    assert hang("☕\ufe0f", "rest here", 20, 4) == ["☕\ufe0f  rest here"]


def test_joined_pictures_are_kept_and_other_hidden_signs_are_not() -> None:
    """A page shows what is written and nothing that steers."""
    assert clean("👩\u200d🌾 plays\u202e\x1b G\u200d") == "👩\u200d🌾 plays G"
