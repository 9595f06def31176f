"""How names over diagrams are set."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretloom.engraving.drawn.diagrams.names import ROOM, chord_name, fitted, name_width, printed
from fretloom.engraving.drawn.drawing import Letters


def width(name: Letters) -> float:
    return name_width(name.text, name.size, name.after)


@pytest.mark.parametrize(
    ("name", "root", "after"),
    [
        ("Cadd9", "C", "add9"),
        ("C♯m7", "C♯", "m7"),
        ("Dsus4", "D", "sus4"),
        ("Gaug", "G", "aug"),
        ("B♭", "B♭", ""),
        ("G at fret 3", "G", " at fret 3"),
        ("Dronelike", "Dronelike", ""),
        ("walkdown", "walkdown", ""),
    ],
)
def test_the_root_of_a_chord_stands_out(name: str, root: str, after: str):
    """A plain name is bold as a whole."""
    found = chord_name(name, 4.9, 3.4)
    assert (found.text, found.after, found.bold, found.size) == (root, after, True, 4.9)


def test_what_does_not_fit_gets_smaller():
    """Just so much smaller that it fits, down to the least size."""
    found = fitted("C♯m7 to B♭maj7", 4.9, 3.0)
    assert 3.0 < found.size < 4.9
    assert (found.text, width(found)) == ("C♯m7 to B♭maj7", pytest.approx(ROOM))


def test_what_does_not_fit_at_all_is_cut():
    """First of what goes on behind the root."""
    assert fitted("w" * 30, 4.9, 3.4).text.endswith("w…")
    assert chord_name("C" + "7" * 40, 4.9, 3.4).text == "C"
    assert chord_name("C" + "7" * 40, 4.9, 3.4).after.endswith("7…")


@given(st.text(max_size=60), st.text(max_size=60))
def test_a_name_never_takes_more_than_its_room(text: str, after: str):
    assert width(fitted(text, 4.9, 3.4, after)) <= ROOM + 1e-6


def test_names_are_on_one_line_with_printed_signs():
    assert printed("C#m7\n\u202eb5") == "C♯m7 ♭5"
