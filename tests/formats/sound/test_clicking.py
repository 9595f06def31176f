"""Which bars are clicked."""

from __future__ import annotations

from attrs import evolve
from played_back import heard

from fretloom.formats.sound.clicking import clicked_bar
from fretloom.performance.playback.joining import counted_in


def test_bars_that_do_not_sound_are_clicked_unless_none_or_all_are():
    """A count, a bar of the song, and one that is left to the student."""
    count, sounding = counted_in(heard("section verse using plain\n  E\n")).bars
    bars = (count, sounding, evolve(sounding, answer=True))
    assert [clicked_bar("count-in", bar) for bar in bars] == [True, False, True]
    assert [clicked_bar("always", bar) for bar in bars] == [True] * 3
    assert [clicked_bar("never", bar) for bar in bars] == [False] * 3
