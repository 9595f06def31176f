"""How each thing that the notation can say is drawn, and that it has its sign on the page."""

from __future__ import annotations

from itertools import pairwise

import pytest
from drawn_bars import drawn, letters, lines, texts

from fretloom.engraving.drawn.drawing import Disc, Drawing
from fretloom.engraving.drawn.sign_samples import all_signs, sign_samples


def bar(beats: str, chord: str = "E") -> Drawing:
    [found] = drawn(f"{chord} {{ {beats} }}").bars
    return found


@pytest.mark.parametrize(
    ("beats", "sign"),
    [
        ("p, -, -, -", "thumb"),
        ("m, -, -, -", "picking-finger"),
        ("p m, -, -, -", "half-beat"),
        ("p m i m, -, -, -", "quarter-beat"),
        ("p m, -, -, -", "half-count"),
        ("p m i, -, -, -", "tuplet"),
        ("m2@0h3, -, -, -", "hammer-on"),
        ("m2@3p0, -, -, -", "pull-off"),
        ("m2@3s5, -, -, -", "slide-to"),
        ("i3@0h1.grace, -, -, -", "grace"),
        ("m2@3.bend-half, -, -, -", "bend"),
        ("m2@3.vibrato, -, -, -", "vibrato"),
        ("m2@3.trill-5, -, -, -", "trill"),
        ("m2@12*, -, -, -", "harmonic"),
        ("m2@2.harmonic-14, -, -, -", "touched"),
        ("mx, -, -, -", "dead"),
        ("m.ghost, -, -, -", "ghost"),
        ("m!, -, -, -", "accent"),
        ("m.for-2, -, -, -", "held-on"),
        ("m.ring, -, -, -", "ring-on"),
        ("m.damped, -, -, -", "short"),
        ("(p i m a), -, -, -", "roll"),
        ("p6-4, -, -, -", "brush"),
        ("slap, -, -, -", "slap"),
    ],
)
def test_a_bar_names_its_signs(beats: str, sign: str) -> None:
    """Only where it has them; and of each there is a sample with its meaning."""
    assert sign in bar(beats).signs
    assert sign not in bar("p, -, -, -" if sign != "thumb" else "m, -, -, -").signs
    assert sign in all_signs()
    [sample] = sign_samples([sign])
    assert sample.meaning


def test_the_signs_around_the_notes():
    """A fermata, a bar that comes again, a finger that has crossed."""
    [found] = drawn("E fermata on 4").bars
    assert "fermata" in found.signs
    assert drawn("E x2").bars[1].signs == {"again-bar"}
    assert "crossed" in drawn("B7").bars[0].signs
    assert {"fermata", "again-bar", "crossed"} <= set(all_signs())


def test_a_slur_leads_to_its_fret():
    """A bow over both, with its letter where there is room; a line for a slide."""
    found = bar("m2@0h3, p, p m, p")
    assert {"0", "3", "h"} <= set(texts(found))
    [curve] = [one for one in lines(found, "ink") if one.curved]
    assert curve.points[0][0] < letters(found, "h")[0].at[0] < curve.points[-1][0]
    slide = bar("m2@3s5, -, -, -")
    assert not [one for one in lines(slide, "ink") if one.curved]
    [line] = [one for one in lines(slide, "ink") if one.width == 0.4]
    assert line.points[0][1] > line.points[1][1]
    [down] = [one for one in lines(bar("m2@5s3, -, -, -"), "ink") if one.width == 0.4]
    assert down.points[0][1] < down.points[1][1]


def test_a_bend_says_how_far():
    """In whole tones."""
    assert "½" in texts(bar("m2@3.bend-half, -, -, -"))
    assert "full" in texts(bar("m2@3.bend-full, -, -, -"))
    once, twice = bar("m2@3.bend-half, -, -, -"), bar("m2@3.bend-half-release, -, -, -")
    assert len(lines(twice, "ink")) == len(lines(once, "ink")) + 2


def test_a_grace_note_is_small_and_stands_before_its_note():
    """Both at the place of the main note."""
    found = bar("i3@0h1.grace, -, -, -")
    [grace] = [one for one in letters(found, "0") if one.size < 3.4]
    [main] = [one for one in letters(found, "1") if one.size == 3.4]
    assert grace.at[0] < main.at[0]
    assert main.at[0] == pytest.approx(letters(found, "i")[0].at[0])


def test_notes_of_a_roll_stand_one_after_the_other():
    """2.7 mm apart, each with its stem; those of a brush stand together behind an arrow."""
    rolled = bar("(p i m a), -, -, -")
    xs = [letters(rolled, one)[0].at[0] for one in "ima"]
    assert [round(b - a, 6) for a, b in pairwise(xs)] == [2.7, 2.7]
    [dotted] = [one for one in lines(rolled, "ink") if one.dash]
    assert len(dotted.points) == 4
    up, down = bar("p6-4, -, -, -"), bar("p4-6, -, -, -")
    heads = [
        [one for one in lines(found, "ink") if len(one.points) == 3][-1] for found in (up, down)
    ]
    assert heads[0].points[1][1] < heads[0].points[0][1]
    assert heads[1].points[1][1] > heads[1].points[0][1]


def test_what_is_held_is_a_heavy_string():
    """To where it is let go, with a stroke; over the bar line it goes on in the next bar."""
    found = bar("m2@0.for-2, -, -, -")
    [heavy] = [one for one in lines(found, "ink") if one.width == 0.75]
    third = letters(found, "3")[-1].at[0]
    assert heavy.points[1][0] == pytest.approx(third - 1.6)
    first, second = drawn("E { p, -, -, m2@0.for-3 } | E { p, -, -, p }").bars
    [on] = [one for one in lines(first, "ink") if one.width == 0.75]
    assert on.points[1][0] == first.width
    [came] = [one for one in lines(second, "ink") if one.width == 0.75]
    assert came.points[0][0] == 0.0


def test_accents_stand_where_their_finger_is():
    """Over the letter, or under the foot of the thumb."""
    over, under = bar("m!, -, -, -"), bar("p!, -, -, -")
    [one] = [mark for mark in lines(over, "ink") if len(mark.points) == 3]
    assert one.points[1][1] < letters(over, "m")[0].at[1]
    [other] = [mark for mark in lines(under, "ink") if len(mark.points) == 3]
    assert other.points[1][1] > under.height - 9.8 + 3.7


def test_words_stand_over_their_time():
    """Where the hand lets go, where all strings stop; a rest says so."""
    found = drawn("E stop on 3").bars[0]
    [word] = letters(found, "stop")
    assert word.at[0] == pytest.approx(letters(found, "3")[-1].at[0] - 1.4)
    assert "let go" in texts(drawn("E release on 3").bars[0])
    assert "rest" in texts(drawn("rest").bars[0])


def test_a_triplet_has_its_number():
    """Between the ends of a line, over the letters."""
    found = bar("p m i, p, p, p")
    [number] = [one for one in letters(found, "3") if one.ink == "soft"]
    assert number.at[1] < letters(found, "m")[0].at[1]


def test_a_dot_stops_a_note_short():
    """Behind its fret."""
    found = bar("m2@0.damped, -, -, -")
    [dot] = [one for one in found.marks if isinstance(one, Disc)]
    assert dot.at[0] > letters(found, "0")[0].at[0]


def test_a_fret_of_two_figures_has_a_wider_pill():
    """Bold and at full size."""
    [figure] = letters(bar("p4@12, -, -, -"), "12")
    assert (figure.size, figure.bold) == (3.4, True)
