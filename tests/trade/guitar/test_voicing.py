"""What a voicing says of itself."""

from __future__ import annotations

from fretloom.trade.guitar.voicing import Barre, Voicing


def test_a_barre_is_one_finger_on_several_strings_of_a_fret():
    """From the string with the highest number; a finger on one string is none, nor are open strings."""
    f = Voicing(name="F", frets=(1, 3, 3, 2, 1, 1), fingers=("1", "3", "4", "2", "1", "1"))
    assert f.barres == (Barre("1", 1, 6, 1),)
    two = Voicing(name="D", frets=(None, 5, 7, 7, 7, 5), fingers=(None, "1", "3", "3", "3", "1"))
    assert two.barres == (Barre("1", 5, 5, 1), Barre("3", 7, 4, 2))
    assert (
        Voicing(
            name="Em", frets=(0, 2, 2, 0, 0, 0), fingers=(None, "2", "3", None, None, None)
        ).barres
        == ()
    )
    assert Voicing(name="A", frets=(None, 0, 2, 2, 2, 0)).barres == ()
