"""The road map: which blocks a song has, and what is new in them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from lesson_pool import LESSONS
from places import EXAMPLES
from reading_through import reading_of

from fretloom.api.reading import examine, load
from fretloom.formats.students.telling.road import chords_of, road_of
from fretloom.performance.showing.shape_names import signed_names

HEAD = """
lesson "Kiln Lane Evening"
  tuning standard
  meter 4/4

voicings
  C      x32010
  G      320003
  G.bar  355433
  F      xx3211

patterns
  plain  p , i , p , i
  full   p , p i , p i , p

section verse  using plain  "Verse"
  C | G | F | C
  words: "Lamps are" | "lit, the" | "kiln is" | "warm and the tea is nearly ready"
section bridge  using plain
  F:2 G.bar:2 | rest
form
"""


def _road(form: str):
    return road_of(reading_of(HEAD + form).timeline)


def test_a_section_is_written_out_the_first_time_only():
    first, bridge, again = _road("  verse\n  bridge\n  verse\n")
    assert (first.title, first.size, first.number) == ("Verse 1", "4 bars", 1)
    assert [cell.chords[0][0] for cell in first.cells] == ["C", "G", "F", "C"]
    assert not first.played_before
    assert bridge.cells[0].chords == (("F", Fraction(1, 2)), ("G at fret 3", Fraction(1, 2)))
    assert bridge.cells[1].chords == ()
    assert [(cell.bars, cell.as_before) for cell in again.cells] == [(4, True)]
    assert again.hints == ()


def test_the_first_words_tell_where_one_is():
    (block,) = _road("  verse\n")
    assert block.words == "Lamps are lit, the kiln is ..."


@pytest.mark.parametrize(
    ("but", "hint", "cells"),
    [
        ("but last bar: G x2", "The end is new: G, 2 times.", [3, 1, 1]),
        ("but last bar: C using full", "The end is picked in another way.", [3, 1]),
        ("but bar 1: F", "The beginning is new: F.", [1, 3]),
        ("but bar 2: F", "Bar 2 is new: F.", [1, 1, 2]),
        ("but bars 2-3: F | F", "Bars 2 to 3 are new: F, 2 times.", [1, 1, 1, 1]),
        ("but bars 2-3: rest | rest", "Bars 2 to 3 are new: rest.", [1, 1, 1, 1]),
        ("but using full", "With the pattern full.", [1, 1, 1, 1]),
        ("but tempo 60", "At tempo 60.", [4]),
    ],
)
def test_what_is_new_is_said_and_framed(but: str, hint: str, cells: list[int]):
    block = _road(f"  verse\n  bridge\n  verse\n    {but}\n")[-1]
    assert block.hints == (hint,)
    assert [cell.bars for cell in block.cells] == cells
    assert all(cell.new is not cell.as_before for cell in block.cells)


@pytest.mark.parametrize(
    ("but", "hints", "cells"),
    [
        ("but without bars 1-2", "Bars 1 and 2 are as bars 3 and 4 of Verse 1.", "F C"),
        ("but only bars 2-2", "Bar 1 is as bar 2 of Verse 1.", "G"),
        ("but without bars 2-2", "Bars 2 and 3 are as bars 3 and 4 of Verse 1.", "- F C"),
        ("but without last 2 bars", None, "- -"),
    ],
)
def test_bars_in_another_place_are_written_out_and_it_is_said_where_they_were(
    but: str, hints: str | None, cells: str
):
    block = _road(f"  verse\n  bridge\n  verse\n    {but}\n")[-1]
    assert block.hints[1:] == ((hints,) if hints else ())
    shown = [
        name
        for cell in block.cells
        for name in (["-"] * cell.bars if cell.as_before else [cell.chords[0][0]])
    ]
    assert shown == cells.split()


def test_an_ending_that_comes_earlier_is_not_as_before():
    """Without the repeat the verse goes straight to its last ending."""
    text = HEAD.replace(
        "section bridge",
        "section tale using plain\n  C\n  repeat 2\n    G\n    ending 1: F\n    ending 2: C\n  end\n"
        "section bridge",
    )
    form = "  tale\n  bridge\n  tale\n    but without repeats\n"
    block = road_of(reading_of(text + form).timeline)[-1]
    assert [(cell.bars, cell.as_before) for cell in block.cells] == [(2, True), (1, False)]
    assert block.hints == ("Without repeats.", "Bar 3 is as bar 5 of Tale 1.")


def test_playings_in_a_row_that_are_alike_are_one_block():
    blocks = _road("  bridge x3\n")
    assert [(one.title, one.times, one.size) for one in blocks] == [
        ("Bridge 1", 1, "2 bars"),
        ("Bridge 2", 2, "2 bars, 2 times"),
    ]


def test_a_pickup_counts_for_no_bar():
    text = HEAD.replace("  C | G | F | C\n", "  pickup 1: G\n  C | G | F | C\n", 1)
    text = text.replace(
        '  words: "Lamps are" | "lit, the" | "kiln is" | "warm and the tea is nearly ready"\n', ""
    )
    first, again = road_of(reading_of(text + "  verse\n  verse\n    but bar 2: F\n").timeline)
    assert [(cell.pickup, cell.bars) for cell in first.cells] == [(True, 0), *[(False, 1)] * 4]
    assert (first.size, again.size) == ("4 bars", "4 bars")
    assert [cell.bars for cell in again.cells] == [1, 1, 2]
    assert again.hints == ("Bar 2 is new: F.",)


@pytest.mark.parametrize(
    ("bar", "chords"),
    [
        ("G:2 G:2", [("G", Fraction(1))]),
        ("G:1 G.bar:3", [("G", Fraction(1, 4)), ("G at fret 3", Fraction(3, 4))]),
        ("G.bar:4", [("G at fret 3", Fraction(1))]),
    ],
)
def test_a_shape_that_is_taken_again_is_one_and_two_shapes_of_a_chord_are_told_apart(bar, chords):
    """A student who reads only "G" twice would not know that the hand moves to another fret."""
    timeline = reading_of(HEAD.replace("F:2 G.bar:2", bar) + "  bridge\n").timeline
    assert list(chords_of(timeline.bars[0].bar, signed_names(timeline))) == chords


def test_a_later_playing_with_another_shape_of_the_chord_says_which():
    assert _road("  verse\n  verse\n    but bar 2: G.bar\n")[1].hints == (
        "Bar 2 is new: G at fret 3.",
    )


@LESSONS.law()
def test_every_bar_has_its_place_and_shares_are_whole(made):
    timeline = reading_of(made.text).timeline
    blocks = road_of(timeline)
    bars = sum(sum(cell.bars for cell in block.cells) * block.times for block in blocks)
    assert bars == sum(one.bar.kind != "pickup" for one in timeline.bars)
    assert all(sum(cell.bars for cell in block.cells) == block.bars for block in blocks)
    for block in blocks:
        for cell in block.cells:
            assert not cell.chords or sum(share for _, share in cell.chords) == 1


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.lesson")), ids=lambda one: one.stem)
def test_no_example_shows_a_student_the_notation(path):
    for block in road_of(examine(load(path)).reading.timeline):
        for hint in block.hints:
            assert " x2" not in hint
            assert ":" not in hint.split("new:")[0]
