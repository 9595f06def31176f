"""How short plucks are, as the stems say it."""

from __future__ import annotations

from fractions import Fraction

from drawn_bars import bars_of

from fretloom.engraving.drawn.tab.placing.rhythm import Rhythm, rhythm_of


def rhythm(beats: str) -> Rhythm:
    return rhythm_of(bars_of(f"E {{ {beats} }}")[0][0].bar)


def test_values_run_to_the_next_note_of_the_voice_and_are_cut_at_the_beat():
    """An eighth note off the beat; the thumb's quarter below it."""
    found = rhythm("p, p m, p i, p m").flags
    assert found[Fraction(1), True] == 0
    assert found[Fraction(3, 2), False] == 1


def test_sixteenths_have_two():
    assert rhythm("m i m i, -, -, -").flags[Fraction(1, 4), False] == 2


def test_stems_go_from_pluck_to_pluck():
    """A slurred note is not plucked."""
    found = rhythm("m2@0h3, -, -, -").flags
    assert found == {(Fraction(0), False): 0}


def test_tuplets_that_meet_have_rows_of_their_own():
    """The long one on top."""
    one = rhythm("m i m, -, -, -").tuplets
    assert [(each.count, each.row) for each in one] == [(3, 0)]
    nested = rhythm("m i [m i m], -, -, -").tuplets
    assert sorted(each.row for each in nested) == list(range(len(nested)))
