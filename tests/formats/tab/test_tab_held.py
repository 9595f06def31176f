"""How a tab shows for how long a note is held, in its bar and in those after it."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from attrs import evolve
from timelines import bar, note, timeline

from fretloom.formats.tab.options import TabOptions
from fretloom.formats.tab.page import to_tab
from fretloom.performance.events import SlurredNote, TimedBar
from fretloom.performance.manner import Manner, NoteTechnique

OTHER = bar("4/4", note(0, 1, 0, "m"))


def lines_of(*bars: TimedBar) -> list[str]:
    return to_tab(timeline(bars), TabOptions(width=200, unrolled=True)).splitlines()


def string_of(name: str, *bars: TimedBar) -> list[str]:
    """Return what stands on a string in each bar."""
    line = next(line for line in lines_of(*bars) if line.startswith(f"{name}|"))
    return line.split("|")[1:-1]


def held(length: str | int) -> dict[str, Any]:
    """The fields of a note that is held for so long."""
    return {"technique": NoteTechnique(held=Fraction(length)), "ring": Fraction(length)}


def test_a_held_note_has_a_double_line_up_to_its_end() -> None:
    """It ends under the count to which the note is held."""
    lines = lines_of(bar("4/4", note(0, 6, 3, "p", **held(2)), note(2, 1, 0, "m")))
    count = lines[next(place for place, line in enumerate(lines) if line.startswith("e|")) - 1]
    bass = next(line for line in lines if line.startswith("E|"))
    first, third = count.index("1"), count.index("3")
    assert bass[first:third] == "3" + "=" * (third - first - 1)
    assert "=" not in bass[third:]


@pytest.mark.parametrize(
    ("length", "ends"),
    [
        (4, [True, False, False]),
        (6, [True, True, False]),
        (8, [True, True, False]),
        (10, [True, True, True]),
    ],
)
def test_a_note_is_held_over_bar_lines_up_to_its_end(length: int, ends: list[bool]) -> None:
    """In brackets where it goes on; where it ends with a bar, the next one has nothing of it."""
    bars = (bar("4/4", note(0, 6, 3, "p", **held(length))), OTHER, evolve(OTHER, cue="on"))
    first, *after = string_of("E", *bars)
    assert first.strip("-").rstrip("=") == "3"
    assert [one.startswith("(3)=") for one in after] == ends[1:]
    assert [set(one) == {"-"} for one in after] == [not end for end in ends[1:]]
    assert [one.endswith("=") for one in (first, *after)] == [length >= 4, length >= 8, False]


def test_a_note_goes_on_into_the_next_section() -> None:
    """Played through, sections follow each other as bars do."""
    bars = [bar("4/4", note(0, 6, 3, "p", **held(6))), OTHER]
    piece = timeline(bars)
    first, second = piece.bars
    piece = evolve(piece, bars=(first, evolve(second, entry=2, first=True)))
    lines = to_tab(piece, TabOptions(unrolled=True)).splitlines()
    assert [line[2:6] for line in lines if line.startswith("E|")][1] == "(3)="


@pytest.mark.parametrize("onset", [0, 2])
def test_the_next_pluck_of_a_string_ends_what_was_held(onset: int) -> None:
    """In the same bar, in the next one and in the one after that."""
    again = note(onset, 6, 2, "p")
    here, *after = string_of(
        "E", bar("4/4", note(0, 6, 3, "p", **held(10))), bar("4/4", again), OTHER
    )
    assert here.endswith("=")
    assert "=" not in after[0].partition("2")[2]
    assert set(after[1]) == {"-"}
    [same] = string_of("E", bar("4/4", note(0, 6, 3, "p", **held(4)), note(1, 6, 2, "p")))
    assert "=" not in same.partition("2")[2]


def test_a_dead_note_does_not_go_on() -> None:
    """Nothing of it is left to ring."""
    dead = evolve(note(3, 6, 3, "p", dead=True), ring=Fraction(3))
    assert set(string_of("E", bar("4/4", dead), bar("4/4", note(1, 1, 0, "m")))[1]) == {"-"}


def test_what_is_held_up_to_a_grace_note_leaves_it_its_room() -> None:
    """The main note still stands under its count."""
    slur = SlurredNote(kind="hammer-on", onset=Fraction(2), fret=3, midi=60)
    said = NoteTechnique(grace="before", grace_length=Fraction(1, 8))
    quick = note(2, 6, 1, "p", slurs=(slur,), technique=said)
    lines = lines_of(bar("4/4", note(0, 6, 5, "p", **held(2)), quick))
    count = lines[next(place for place, line in enumerate(lines) if line.startswith("e|")) - 1]
    bass = next(line for line in lines if line.startswith("E|"))
    assert "=g1H3" in bass
    assert bass[count.index("3")] == "3"


def test_a_bar_made_wider_for_words_is_held_to_its_end() -> None:
    """The double line reaches the bar line."""
    piece = timeline([bar("2/4", note(0, 6, 3, "p", **held(4))), OTHER])
    loud = evolve(piece.bars[0], manner=Manner(dynamic="mp", swell="crescendo"))
    lines = to_tab(
        evolve(piece, bars=(loud, *piece.bars[1:])), TabOptions(unrolled=True)
    ).splitlines()
    bass = next(line for line in lines if line.startswith("E|"))
    assert set(bass.split("|")[1].strip("-")) == {"3", "="}
    assert bass.split("|")[1].endswith("=")
