"""What all diagrams of shapes share."""

from __future__ import annotations

import pytest
from timelines import STANDARD

from fretloom.engraving.drawn.diagrams.board import Board, capo_bars, neck_of, on_neck
from fretloom.engraving.drawn.drawing import Box, Disc, Letters
from fretloom.engraving.drawn.neck import DrawnNeck
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.guitar.voicing import Hop, Voicing


def board(frets: list[int], lying: bool = False) -> Board:
    return Board(neck_of(6, frets, lying=lying, rows=0, room=0.0), STANDARD)


def plucked(_: int) -> bool:
    return True


def test_where_a_capo_leaves_strings_out_frets_count_from_the_nut():
    """On its strings its own fret is added; open strings stay open, and a whole capo is the nut."""
    voicing = Voicing(name="E", frets=(0, 2, 2, 1, 3, None), hops=(Hop("2", 5, 2), Hop("1", 6, 1)))
    drawn = on_neck(voicing, Capo(2, (5, 4, 3)))
    assert drawn.frets == (0, 4, 4, 3, 3, None)
    assert [hop.fret for hop in drawn.hops] == [4, 1]
    assert on_neck(voicing, Capo(2)) is voicing


def test_a_capo_has_a_bar_for_each_group_of_strings():
    neck = DrawnNeck(strings=6, low=0, high=4, corner=(0, 0))
    bars = list(capo_bars(neck, Capo(2, (6, 4, 3))))
    assert [(round(one.at[0], 2), round(one.width, 2)) for one in bars] == [
        (6.85, 6.3),
        (-1.15, 2.3),
    ]
    wire, before = neck.wire(2), neck.wire(1)
    assert all(before < one.at[1] and one.at[1] + one.height < wire for one in bars)


def test_a_finger_within_a_barre_of_another_is_seen():
    """It has an edge of paper; what stands behind the barre of its own finger is not drawn again."""
    voicing = Voicing(name="odd", frets=(2, 2, 2, 2, 2, 2), fingers=("1", "1", "3", None, "1", "1"))
    one = board([2])
    marks = list(one.fingers(voicing, plucked))
    [bar] = [mark for mark in marks if isinstance(mark, Box)]
    [disc] = [mark for mark in marks if isinstance(mark, Disc)]
    assert (bar.line, disc.line, disc.fill) == (None, "paper", "ink")
    assert [mark.text for mark in marks if isinstance(mark, Letters)] == ["1", "3"]


def test_barres_that_meet_are_told_apart():
    """The second has an edge of paper."""
    voicing = Voicing(
        name="odd", frets=(2, 2, 2, 2, 0, 0), fingers=("1", "2", "1", "2", None, None)
    )
    bars = [mark for mark in board([2]).fingers(voicing, plucked) if isinstance(mark, Box)]
    assert [bar.line for bar in bars] == [None, "paper"]


def test_a_barre_that_is_never_plucked_stands_back():
    """Like a finger: a ring; one string that is plucked is enough to fill it."""
    voicing = Voicing(name="F", frets=(1, 3, 3, 2, 1, 1), fingers=("1", "3", "4", "2", "1", "1"))
    one = board([3])
    quiet = next(
        mark for mark in one.fingers(voicing, lambda string: string == 5) if isinstance(mark, Box)
    )
    heard = next(
        mark for mark in one.fingers(voicing, lambda string: string == 1) if isinstance(mark, Box)
    )
    assert (quiet.fill, quiet.line, heard.fill) == ("paper", "soft", "ink")


@pytest.mark.parametrize(("low", "left"), [(3, 2.6), (7, 5.8), (12, 7.0)])
def test_there_is_room_for_the_number_of_the_first_fret(low: int, left: float):
    """None by the nut, a little for one figure, more for two."""
    assert board([low, low + 1]).neck.corner[0] == left
