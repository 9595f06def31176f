"""How the trade says it: hands, fingers, strings, places, changes."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.guitar.plucking import PICKING_FINGERS
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.harmony.naming import names_of
from fretloom.trade.playability.moving.changes import KINDS, Change, FingerMove, change
from fretloom.trade.playability.shape import Fretted
from fretloom.trade.wording import (
    CARE,
    CAUTION,
    PICKING_FINGER_WORDS,
    capo_words,
    change_words,
    finger_word,
    fingers_words,
    fret_words,
    hand_words,
    name_words,
    strings_words,
)


def test_hands_are_named_by_size_or_length() -> None:
    """A size takes its article, a length its unit."""
    assert [hand_words(size) for size in ("small", "average")] == [
        "a small hand",
        "an average hand",
    ]
    assert hand_words(Fraction(361, 2)) == "a hand of 180.5 mm"


@pytest.mark.parametrize(
    ("fingers", "said"),
    [
        ("2", "finger 2"),
        ("13", "fingers 1 and 3"),
        ("124", "fingers 1, 2 and 4"),
        ("T", "the thumb"),
        ("T2", "the thumb and finger 2"),
        ("T13", "the thumb, fingers 1 and 3"),
        ("im", "fingers i and m"),
    ],
)
def test_fingers_are_named_together(fingers: str, said: str) -> None:
    """One word for all that have a number, the thumb by its name."""
    assert fingers_words(fingers) == said
    if len(fingers) == 1:
        assert finger_word(fingers) == said


def test_fingers_and_strings_can_be_a_choice() -> None:
    """The last is joined as the sentence needs it."""
    assert fingers_words("13", "or") == "fingers 1 or 3"
    assert strings_words((2, 1), "or") == "strings 2 or 1"


def test_strings_and_places_are_named() -> None:
    """In the order given; a place is a string and a fret, or an open string."""
    assert [strings_words(one) for one in ((2,), (5, 4), (5, 4, 3))] == [
        "string 2",
        "strings 5 and 4",
        "strings 5, 4 and 3",
    ]
    assert [fret_words(3, 2), fret_words(3, 0)] == ["string 3, fret 2", "string 3, open"]


def test_every_picking_finger_has_a_name() -> None:
    """The letters of `fretloom.trade.guitar.plucking` and no others."""
    assert tuple(PICKING_FINGER_WORDS) == PICKING_FINGERS
    assert PICKING_FINGER_WORDS["m"] == "the middle finger"


@pytest.mark.parametrize(
    ("capo", "said"),
    [
        (Capo(), "no capo"),
        (Capo(2), "capo 2"),
        (Capo(2, (5, 4, 3)), "capo 2 on strings 5 4 3"),
        (Capo(1, (6,)), "capo 1 on string 6"),
    ],
)
def test_capos_are_named(capo: Capo, said: str) -> None:
    """A partial capo names its strings."""
    assert capo_words(capo) == said


def _moves(*moves: tuple[str, str], groups: int = 2) -> str:
    made = tuple(FingerMove(finger, kind) for finger, kind in moves)
    return change_words(Change(made, groups, 0.0, False, 0.0))


def test_one_finger_and_several_take_their_verb() -> None:
    """Every kind of move in the singular and in the plural."""
    one = {kind: _moves(("2", kind)) for kind in KINDS}
    assert one == {
        "anchor": "2 stays",
        "guide": "2 slides along its string",
        "extend": "2 lies down to a barre",
        "move": "2 moves",
        "place": "2 is put down",
        "lift": "2 lifts",
    }
    two = {kind: _moves(("2", kind), ("3", kind)) for kind in KINDS}
    assert two == {
        "anchor": "2 and 3 stay",
        "guide": "2 and 3 slide along their strings",
        "extend": "2 and 3 lie down to a barre",
        "move": "2 and 3 move",
        "place": "2 and 3 are put down",
        "lift": "2 and 3 lift",
    }


def test_what_stays_is_said_first() -> None:
    """Whatever the order of the fingers; the thumb is called by its name."""
    assert (
        _moves(("T", "lift"), ("1", "move"), ("3", "anchor")) == "3 stays, 1 moves, the thumb lifts"
    )


def test_a_block_is_several_fingers_that_move_as_one() -> None:
    """E to Am: all three fingers go one string over (common practice, no source)."""
    e = Fretted((0, 2, 2, 1, 0, 0), (None, "2", "3", "1", None, None))
    am = Fretted((None, 0, 2, 2, 1, 0), (None, None, "2", "3", "1", None))
    assert change_words(change(Neck(), e, am)) == "1, 2 and 3 move (all as one block)"
    assert _moves(("1", "move"), groups=1) == "1 moves"
    assert _moves(("1", "move"), ("2", "anchor"), groups=1) == "2 stays, 1 moves"


def test_a_name_without_its_root_says_so() -> None:
    """E G Bb D can be a C9 whose root is left out (standard theory)."""
    names = {str(one.symbol): one for one in names_of([52, 55, 58, 62])}
    assert name_words(names["C9"], "english") == "C9 without its root"
    assert name_words(names["Em7b5"], "english") == "Em7b5"


def test_the_caution_advises_rest_and_a_teacher_or_clinician() -> None:
    """The short form stands within the sentence, so that both say the same."""
    assert CARE.capitalize() in CAUTION
    assert all(word in CAUTION for word in ("Warm up", "Rest", "stop", "teacher", "clinician"))
