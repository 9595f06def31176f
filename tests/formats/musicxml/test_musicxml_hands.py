"""Fingers are printed where they are news, the word simile and the names of patterns once (common practice, no source)."""

from __future__ import annotations

from collections import Counter

import pytest
from musicxml_lesson import lower, root_of, upper, words_in, written
from musicxml_reading import Bar, Note

PATTERNS = """

patterns
  pinched  p+m , p i , p+m , p i
  pair "Two and two": p , i , m , a | p , m , i , a
  walked   p , p m , p i3@0h2 , p m
"""


def letters(bar: Bar) -> str:
    """Return the plucking fingers that are printed in a bar, in order of time."""
    notes = sorted(upper(bar), key=lambda one: one.onset)
    return "".join(one.text("notations/technical/pluck") or "" for one in notes)


def fingers(bar: Bar) -> list[tuple[int, int, str]]:
    """Return the fretting fingers that are printed, each with string and fret, in order of time."""
    found = []
    places = {id(one): two for one, two in zip(upper(bar), lower(bar), strict=True)}
    for one in sorted(upper(bar), key=lambda one: one.onset):
        finger = one.text("notations/technical/fingering")
        if finger:
            found.append((*_place(places[id(one)]), finger))
    return found


def _place(note: Note) -> tuple[int, int]:
    return note.number("notations/technical/string"), note.number("notations/technical/fret")


def said(bar: Bar, *wanted: str) -> list[str]:
    return [text for _, text in words_in(bar) if text in wanted]


def test_each_finger_of_a_voicing_is_printed_once():
    """At the first note of its string, wherever in the piece that is."""
    bars = written("Am | Am | E7 | Am")
    assert fingers(bars[0]) == [(4, 2, "2"), (2, 1, "1"), (3, 2, "3")]
    assert fingers(bars[1]) == fingers(bars[3]) == []
    assert fingers(bars[2]) == [(5, 2, "2"), (3, 1, "1")]


def test_a_string_that_comes_later_has_its_finger_there():
    """The thumb walks to string 5 of E7 in the second bar only."""
    bars = written("E7 { p6, m, -, - } | E7 { p5, m, -, - }")
    assert [fingers(bar) for bar in bars] == [[], [(5, 2, "2")]]


def test_a_barre_has_its_finger_once():
    """Where the first of its strings sounds; the fingers beside it have theirs."""
    bars = written("Fm { p6+i+m+a, -, p5, - } | Fm { p6, i, m, a }")
    assert fingers(bars[0]) == [(6, 1, "1"), (5, 3, "3")]
    assert fingers(bars[1]) == []


def test_another_finger_is_printed_and_so_is_the_return():
    """A note that another finger stops for once, and the usual one afterwards."""
    bars = written("Am { p5, m2@1:4, -, - } | Am { p5, m, -, - } | Am { p5, m, -, - }")
    assert [fingers(bar) for bar in bars] == [[(2, 1, "4")], [(2, 1, "1")], []]


def test_what_lies_beside_the_voicing_has_its_finger_in_every_bar_of_its_own():
    """A melody note, twice in a bar, in two bars: the voicing says nothing about it."""
    bars = written("Am { p5, a@3, -, a@3 } | Am { p5, -, a@3, - }")
    assert [fingers(bar) for bar in bars] == [[(1, 3, "4")], [(1, 3, "4")]]


def test_what_a_pattern_plays_beside_the_voicing_is_not_said_again_where_it_goes_on():
    """A hammer-on of the pattern: in its first bar, and over another voicing."""
    bars = written(f"using walked\nAm | Am | E7 | E7{PATTERNS}")
    beside = [[one for one in fingers(bar) if one[:2] == (3, 2)] for bar in bars]
    assert beside == [[(3, 2, "3")], [], [(3, 2, beside[2][0][2])], []]


def test_letters_stand_in_the_first_bar_of_a_pattern_and_simile_in_the_next():
    """The word once; the letters again after another pattern."""
    bars = written(f"Am | Am | E7 | Am using pinched | Am | Am{PATTERNS}")
    assert [letters(bar) for bar in bars] == ["ppmpipm", "", "", "mppimppi", "ppmpipm", ""]
    assert [said(bar, "simile") for bar in bars] == [[], ["simile"], [], [], [], ["simile"]]


def test_a_pattern_of_two_bars_has_its_letters_in_both():
    """Simile stands where it comes round."""
    bars = written(f"using pair\nAm x5{PATTERNS}")
    assert [letters(bar) for bar in bars] == ["pima", "pmia", "", "", ""]
    assert [len(said(bar, "simile")) for bar in bars] == [0, 0, 1, 0, 0]


def test_a_bar_that_departs_has_its_letters_and_so_has_the_next():
    """Simile would mean the bar that departs."""
    bars = written("Am | Am | Am with a on 4 | Am | Am")
    assert [bool(letters(bar)) for bar in bars] == [True, False, True, True, False]
    assert [len(said(bar, "simile")) for bar in bars] == [0, 1, 0, 0, 1]


def test_bars_with_plucks_of_their_own_go_on_from_the_bar_before_only():
    """The third has the letters of the first, but who reads simile thinks of the second."""
    bars = written("Am { p, i, m, a } | Am { p, m, i, a } | Am { p, i, m, a } | Am { p, i, m, a }")
    assert [letters(bar) for bar in bars] == ["pima", "pmia", "pima", ""]
    assert [len(said(bar, "simile")) for bar in bars] == [0, 0, 0, 1]


def test_the_finger_that_brushes_has_its_letter_once():
    """It is one stroke over all its strings; with all fingers each of them has it."""
    assert letters(written("Am { p5-1, -, - , - }")[0]) == "p"
    assert letters(written("Am { p5-1, -, - , - }", fingers="all")[0]) == "ppppp"


def test_a_silent_bar_does_not_break_a_pattern():
    """What goes on after a rest goes on."""
    bars = written("Am | rest | Am | Am")
    assert [bool(letters(bar)) for bar in bars] == [True, False, False, False]
    assert [len(said(bar, "simile")) for bar in bars] == [0, 0, 1, 0]


def test_all_fingers_on_demand():
    """Each plucked note has its letter, each stopped one its finger, and nothing is the same as before."""
    bars = written("Am | Am | Am", fingers="all")
    assert [letters(bar) for bar in bars] == ["ppmpipm"] * 3
    assert Counter(len(fingers(bar)) for bar in bars) == {5: 3}
    assert not any(said(bar, "simile") for bar in bars)


@pytest.mark.parametrize("fingers", ["first", "all"])
def test_the_name_of_a_pattern_stands_at_its_first_bar(fingers: str):
    """Its title, or its name where that is a word."""
    bars = written(f"Am | Am using pair | Am | Am using pair{PATTERNS}", fingers=fingers)
    names = [said(bar, "plain", "pair", "Two and two") for bar in bars]
    assert names == [["plain"], ["Two and two"], [], []]


@pytest.mark.parametrize(
    ("layout", "placements"),
    [("notation-and-tab", "below"), ("notation", "below"), ("tab", "above")],
)
def test_words_stand_between_the_staves(layout: str, placements: str):
    """Cue, name and simile are under the notation, which leaves chord symbols alone over it; over tablature that is alone."""
    root = root_of('"Lamps are lit" Am | Am', layout=layout)
    found = {
        one.findtext("direction-type/words"): one.get("placement") for one in root.iter("direction")
    }
    for words in ("Lamps are lit", "plain", "simile"):
        assert found[words] == placements


def test_words_stand_once_in_a_score_of_two_parts():
    """The tablature of the second part only repeats the first."""
    root = root_of('"Lamps are lit" Am | Am', layout="two-parts")
    words = Counter(one.text for one in root.iter("words"))
    assert [words[one] for one in ("Lamps are lit", "plain", "simile")] == [1, 1, 1]
