"""Diagrams in words, for those who hear them."""

from __future__ import annotations

from fractions import Fraction

from fretloom.engraving.drawn.shape_words import count_words, said_aloud, spoken
from fretloom.performance.showing.called_strings import CalledStrings
from fretloom.performance.showing.shape_use import ShapeUse
from fretloom.trade.guitar.voicing import Hop, Voicing
from fretloom.trade.music.meter import Count


def test_a_shape_is_said_string_by_string():
    """Open, held, held but not plucked, a hop with its counts, and the thumb."""
    voicing = Voicing(
        name="B7", symbol="B7", frets=(None, 2, 1, 2, 0, 2), fingers=(None, "2", "1", "3", None, "4"),
        hops=(Hop("2", 6, 2),),
    )  # fmt: skip
    use = ShapeUse(
        frozenset({5, 4, 3, 2}),
        ((6, (Count(3),)), (5, (Count(1),)), (4, (Count(2), Count(4)))),
        ((6, (Count(3),)),),
    )
    assert spoken("B7", voicing, use) == (
        "Shape B7. From the thick string: string 6, the middle finger crosses here at fret 2 on count 3; "
        "string 5 middle at fret 2; string 4 index at fret 1; string 3 ring at fret 2; string 2 open; "
        "string 1 little finger at fret 2, held but not plucked. "
        "Thumb: string 6 on 3; string 5 on 1; string 4 on 2 and 4."
    )


def test_strings_that_are_not_played_are_said():
    """Without a known use nothing is called unplucked, and without fingers only frets are said."""
    voicing = Voicing(name="D", symbol="D", frets=(None, 0, 0, 2, 3, 2))
    assert spoken("D", voicing, None) == (
        "Shape D. From the thick string: string 6 is not played; string 5 open; string 4 open; "
        "string 3 at fret 2; string 2 at fret 3; string 1 at fret 2."
    )
    quiet = spoken("D", voicing, ShapeUse(frozenset({4, 3, 2, 1})))
    assert "string 5 open, not plucked" in quiet


def test_a_little_finger_that_hops_is_one_finger():
    """Its name has the word already."""
    voicing = Voicing(
        name="G", frets=(3, 2, 0, 0, 0, None), fingers=("2", "1", None, None, None, None),
        hops=(Hop("4", 1, 3),),
    )  # fmt: skip
    assert "string 1, the little finger crosses here at fret 3" in spoken("G", voicing, None)


def test_signs_and_counts_are_said_aloud():
    """Sharp is said "sharp"."""
    names = ["C#m7", "B♭", "F#/A#", "C", "Bm7", "walkdown"]
    assert [said_aloud(one) for one in names] == [
        "C sharp m7", "B flat", "F sharp over A sharp", "C", "Bm7", "walkdown",
    ]  # fmt: skip
    counts = [
        Count(3),
        Count(2, Fraction(1, 2)),
        Count(1, Fraction(1, 3)),
        Count(1, Fraction(1, 6)),
    ]
    assert [count_words(one) for one in counts] == ["3", "2 and", "1 trip", "1 +1/6"]


def test_strings_go_by_their_names_where_that_is_wished():
    """In the shape, in the thumb's strings and in a hop."""
    voicing = Voicing(
        name="G", frets=(3, 2, 0, 0, 0, None), fingers=("2", "1", None, None, None, None),
        hops=(Hop("4", 1, 3),),
    )  # fmt: skip
    names = CalledStrings(string_names=("low E", "A", "D", "G", "B", "high E"))
    use = ShapeUse(frozenset({6, 5, 4, 3, 2}), thumb=((6, (Count(1),)),))
    assert spoken("G", voicing, use, called=names) == (
        "Shape G. From the thick string: the low E string middle at fret 3; the A string index at fret 2; "
        "the D string open; the G string open; the B string open; "
        "the high E string, the little finger crosses here at fret 3. Thumb: the low E string on 1."
    )


def test_an_outer_string_that_is_not_the_lowest_goes_by_its_number():
    """As on a ukulele with a high G (g' c' e' a': common practice, no source)."""
    voicing = Voicing(name="C", frets=(0, 0, 0, 3))
    assert spoken("C", voicing, None, thick=False).startswith(
        "Shape C. From string 4: string 4 open;"
    )
