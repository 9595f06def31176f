"""How wide words are."""

from __future__ import annotations

import pytest

from fretloom.engraving.drawn.lettering import width_of, wrapped


def test_widths_are_those_of_the_font():
    """Advance widths of Andika 5.3 from npm `@fontsource/andika`, latin, 400 and 700 (read with fontTools)."""
    assert width_of("0123456789", 1) == pytest.approx(5.86)
    assert width_of("W", 2) == pytest.approx(2 * 1.016)
    assert width_of("W", 1, bold=True) == pytest.approx(1.042)
    assert width_of("¼", 1) == pytest.approx(0.781)


def test_what_the_font_has_not_is_taken_as_broad():
    """Two columns are more than an em, a mark on a letter is nothing."""
    assert width_of("窯", 1) > 1
    assert width_of("e\u0301", 1) < 1.5
    assert width_of("♯", 1) > 0.5


def test_lines_are_no_wider_than_their_room():
    """Broken at spaces, and within a word where it must be."""
    assert wrapped("the bass can wait", 1, 4.4) == ("the bass", "can wait")
    assert wrapped("the bass can wait", 1, 100) == ("the bass can wait",)
    assert wrapped("  ", 1, 4) == ()
    long = wrapped("W" * 40, 1, 5)
    assert "".join(long) == "W" * 40
    assert all(width_of(line, 1) <= 5 for line in long)
    assert wrapped("W", 1, 0.1) == ("W",)
