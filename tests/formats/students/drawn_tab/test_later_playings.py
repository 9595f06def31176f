"""Of a later playing the bars that are new are drawn, all of them and no others."""

from __future__ import annotations

import pytest
from places import EXAMPLES
from reading_through import reading_of

from fretloom.api.reading import examine, load
from fretloom.formats.students.drawn_tab.song import song_parts
from fretloom.formats.students.telling.road import road_of

LESSON = """
lesson "Ferry rope"
  meter 3/4

voicings
  C  x32010
  G  320003
  F  xx3211

patterns
  row  p , i , m

section verse  using row
  pickup 1: G
  C | G | F | C

form
  verse
  verse
    but {but}
"""


def _drawn(but: str) -> list[tuple[str, ...]]:
    return [bar.chords for bar in song_parts(reading_of(LESSON.format(but=but)).timeline)[-1].bars]


@pytest.mark.parametrize(
    ("but", "chords"),
    [
        ("last bar: F", [("F",)]),
        ("bar 2: F", [("F",)]),
        ("bar 1: F", [("G",), ("F",)]),  # With the pickup that leads to it.
        ("without bars 1-2", [("G",), ("F",), ("C",)]),
    ],
)
def test_a_pickup_does_not_shift_what_is_new(but: str, chords: list[tuple[str, ...]]) -> None:
    assert _drawn(but) == chords


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.lesson")), ids=lambda one: one.stem)
def test_as_many_bars_are_drawn_as_the_road_says_are_new(path) -> None:
    timeline = examine(load(path)).reading.timeline
    for part, block in zip(song_parts(timeline), road_of(timeline), strict=True):
        if block.played_before:
            drawn = [bar for bar in part.bars if bar.bar.kind != "pickup"]
            assert len(drawn) == sum(cell.bars for cell in block.cells if cell.new), block.title
