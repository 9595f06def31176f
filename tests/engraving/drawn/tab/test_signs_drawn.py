"""How each thing that the notation can say is drawn, and that it has its sign on the page."""

from __future__ import annotations

from itertools import pairwise

import pytest
from attrs import evolve
from drawn_bars import HEAD, bars_of, drawn, letters, lines, texts

from fretloom.engraving.drawn.drawing import Disc, Drawing
from fretloom.engraving.drawn.sign_samples import all_signs, sign_samples
from fretloom.engraving.drawn.tab.strip import strip
from fretloom.engraving.drawn.tab.values import TabLook


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
        ("i3@0h1.grace, -, -, -", "grace-on-beat"),
        ("i3@0h1.grace-before, -, -, -", "grace"),
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


def test_a_stem_reaches_all_notes_of_its_hand():
    """From the highest of the thumb's down, from the lowest of the fingers' up."""
    found = bar("p6-4, i3+m2+a1, -, -")
    bottom = found.height - 9.8
    [thumb] = [one for one in lines(found, "thumb") if one.width == 0.55]
    assert thumb.points[0][1] == pytest.approx(bottom - 6)
    [finger] = [
        one for one in lines(found, "ink") if one.width == 0.3 and one.points[1][1] < bottom - 16
    ]
    assert finger.points[0][1] == pytest.approx(bottom - 9)


def test_the_count_between_the_numbers_only_where_something_sounds():
    """Each number once."""
    counted = [one for one in texts(bar("p m, -, m i, -")) if one in ("1", "2", "3", "4", "&")]
    soft = [one for one in letters(bar("p m, -, m i, -"), "1") if one.ink == "soft"]
    assert counted.count("&") == 2
    assert not soft


def test_a_section_ends_with_a_second_line_and_the_song_with_a_heavy_one():
    bars, timeline = bars_of("E")
    for closes, widths in (("", [0.3, 0.3]), ("section", [0.3] * 3), ("song", [0.3, 0.3, 1.0])):
        one = evolve(bars[0], closes=closes)
        [found] = strip([one], timeline.settings, TabLook()).bars
        upright = [
            mark.width
            for mark in lines(found, "ink")
            if mark.points[0][0] == mark.points[1][0] and mark.points[1][1] == found.height - 9.8
        ]
        assert upright == widths


def test_a_course_has_two_strings():
    """The octave as thin as string 1, both thinner than one alone."""
    tuning = "  tuning E2+E3 A2+A3 D3+D4 G3+G4 B3+B3 E4+E4\n"
    [found] = drawn("E", head=HEAD.replace("  meter 4/4\n", f"{tuning}  meter 4/4\n")).bars
    widths = [round(one.width, 3) for one in lines(found, "line")]
    assert len(widths) == 12
    assert widths[0] == round(0.8 * 0.72 * 0.60, 3)
    assert widths[1] == widths[10] == widths[11] < widths[0] / 2


@pytest.mark.parametrize(
    ("meter", "pattern", "sign"),
    [
        ("4/4", "p m, -, -, -", "half-beat"),
        ("6/8", "p m i , m i m", "flag-count"),
        ("12/16", "p m i , m i m , p m i , m i m", "flags"),
        ("2/2", "p m i m, -", "flag"),
    ],
)
def test_a_flag_is_explained_by_the_count_of_the_meter(meter: str, pattern: str, sign: str) -> None:
    """An eighth note is a whole count in 6/8 and a quarter of one in 2/2: never half a beat there."""
    head = HEAD.replace("meter 4/4", f"meter {meter}")
    head = head.replace("  step  p , p m , p i , p m", f"  step  {pattern}")
    [found] = drawn("E", head=head).bars
    assert sign in found.signs
    assert ("half-beat" in found.signs) is (sign == "half-beat")
