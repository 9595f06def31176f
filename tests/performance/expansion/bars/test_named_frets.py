"""Plucks that name their fret: which finger of the voicing is there already."""

from __future__ import annotations

import pytest
from timeline_lessons import bars_of


@pytest.mark.parametrize(
    ("pluck", "finger"), [("m2@1", "1"), ("i4@2", "2"), ("m2@3", "4"), ("m1@0", None)]
)
def test_a_named_fret_that_the_voicing_holds_has_its_finger(pluck: str, finger: str | None) -> None:
    """Over C x32010 finger 1 is on string 2 at fret 1, finger 2 on string 4 at fret 2."""
    (played,) = bars_of(f"section verse\n  C {{ p , {pluck} , p , - }}\n")
    note = played.notes[1]
    assert (note.fretting, note.literal) == (finger, True)


def test_a_hand_that_has_let_go_comes_back_for_a_named_fret() -> None:
    """After the release no finger of the voicing is there; one comes back for the note."""
    (played,) = bars_of("section verse\n  C { p , - , m2@1 , - } release on 2\n")
    assert played.notes[1].fretting == "1"
