"""What stands before a fret has room from the bar line on."""

from __future__ import annotations

import fretloom

LESSON = """\
lesson "Two cups"

voicings
  C  x32010  fingers .32.1.

section tune
  C { - m1@1h3p1h3.grace m1@0 -, p, p, p }
"""


def test_a_long_grace_note_near_the_bar_line_does_not_touch_the_next_note() -> None:
    """The three small notes and the main one, a line, and the open string."""
    tab = fretloom.export_tab(fretloom.loads(LESSON))
    assert "g1h3p1h3-0" in tab
