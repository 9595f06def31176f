"""What stands in the picture of a change."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from pictures_drawn import (
    LOOKS,
    assert_inside,
    assert_mirrored,
    assert_no_figures_meet,
    boxes,
    capos,
    discs,
    letters,
    lines,
    taken,
    tunings,
)
from timelines import STANDARD

from fretloom.engraving.drawn.change_diagram import MOST_FRETS, change_diagram
from fretloom.engraving.drawn.drawing import Drawing
from fretloom.engraving.drawn.shape_diagram import DiagramLook
from fretloom.performance.showing.shape_use import ShapeUse
from fretloom.performance.showing.taken_shapes import TakenShape
from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.playability.moving.changes import Change, change
from fretloom.trade.playability.shape import Fretted

LOOK = DiagramLook()


def shape(name: str, frets: str, fingers: str, plucked: str = "654321") -> TakenShape:
    """A shape by frets and fingers as a lesson writes them."""
    places = frets.split("-") if "-" in frets else list(frets)
    voicing = Voicing(
        name=name,
        frets=tuple(None if one == "x" else int(one) for one in places),
        fingers=tuple(None if one == "." else one for one in fingers),
    )
    return TakenShape(voicing, name, ShapeUse(frozenset(map(int, plucked))))


A = shape("A", "x02220", "..123.")
B7 = shape("B7", "x21202", ".213.4", "5432")
CSM7 = shape("C#m7", "x46454", ".13121")
BM7 = shape("Bm7", "x24232", ".13121")


def between(before: TakenShape, after: TakenShape, capo: Capo | None = None) -> Change:
    strings = len(before.voicing.frets)
    neck = Neck(strings=strings, frets=30, capo=capo or Capo())
    one, other = (Fretted(each.voicing.frets, each.voicing.fingers) for each in (before, after))
    return change(neck, one, other)


def drawn(before: TakenShape, after: TakenShape, look: DiagramLook = LOOK) -> Drawing:
    return change_diagram(before, after, between(before, after), STANDARD, look)


def rings(picture: Drawing) -> int:
    """How many dashed rings there are."""
    return len([one for one in discs(picture) if one.dash])


def arrows(picture: Drawing) -> list[tuple[float, float]]:
    """Where arrows begin and end along the neck."""
    shafts = [one for one in lines(picture, 0.5) if len(one.points) == 2]
    return [(one.points[0][1], one.points[1][1]) for one in shafts]


def test_the_new_shape_is_full_and_the_old_places_are_rings():
    """A to B7: the middle and ring fingers leave places that are free; the index slides back one fret."""
    picture = drawn(A, B7)
    assert picture.title == "A to B7"
    assert ("A to B7", "ink") in letters(picture)
    assert [text for text, ink in letters(picture) if ink == "paper"] == ["2", "1", "3"]
    assert [text for text, ink in letters(picture) if ink == "soft" and text.isdigit()] == [
        "1",
        "3",
        "4",
    ]
    assert rings(picture) == 2
    [(start, end)] = arrows(picture)
    assert start > end
    assert picture.signs == {"finger", "quiet", "open", "mute", "was-here", "slide"}


def test_what_the_new_shape_covers_is_left_out():
    """The ring finger of A stands where the ring finger of B7 comes to, on another string."""
    covering = shape("Am", "x02210", "..231.")
    assert rings(drawn(A, covering)) == 1
    barred = shape("B", "x24442", ".13331")
    assert rings(drawn(A, barred)) == 0


def test_a_hand_that_slides_has_arrows_on_its_strings():
    """C#m7 to Bm7: of the old barre only its bass end; all three fingers slide toward the head."""
    picture = drawn(CSM7, BM7)
    assert rings(picture) == 3
    assert len(arrows(picture)) == 3
    assert all(start > end for start, end in arrows(picture))
    [(start, end)] = arrows(
        drawn(shape("one", "xxx2xx", "...1.."), shape("two", "xxx4xx", "...1.."))
    )
    assert start < end


@pytest.mark.parametrize(("old", "new"), [("xxx2xx", "xxx4xx"), ("xxx4xx", "xxx2xx")])
def test_an_arrow_leads_from_ring_to_finger(old: str, new: str):
    """It touches both and runs into neither."""
    picture = drawn(shape("one", old, "...1.."), shape("two", new, "...1.."))
    [ring] = [one for one in discs(picture) if one.dash]
    [finger] = [one for one in discs(picture) if one.fill == "ink"]
    [(start, end)] = arrows(picture)
    assert abs(start - ring.at[1]) == pytest.approx(ring.radius)
    assert abs(end - finger.at[1]) == pytest.approx(finger.radius + 0.15)
    assert (
        min(ring.at[1], finger.at[1])
        < min(start, end)
        < max(start, end)
        < max(ring.at[1], finger.at[1])
    )


def test_a_finger_that_goes_to_another_string_has_no_arrow():
    crossing = shape("E", "022100", ".231..")
    other = shape("Em", "002000", "..2...")
    assert arrows(drawn(crossing, other)) == []
    assert "slide" not in drawn(crossing, other).signs


def test_both_shapes_are_in_the_window():
    """From the nut to the highest fret of both, or from the lowest where that is further up."""
    low, high = shape("F", "133211", "134211"), shape("A", "577655", "134211")
    assert len(lines(drawn(low, high), 0.3)) == MOST_FRETS
    assert len(lines(drawn(low, low), 0.3)) == 4


def test_shapes_far_apart_are_not_put_in_one_picture():
    """The new shape alone, and a line that says where the hand comes from: no ring, no arrow."""
    up, down = shape("D", "x-x-x-10-11-10", "...132"), shape("E", "022100", ".231..")
    picture = drawn(up, down)
    assert len(lines(picture, 0.3)) == 4
    assert (rings(picture), arrows(picture)) == (0, [])
    assert ("from fret 10", "soft") in letters(picture)
    assert ("from fret 1", "soft") in letters(drawn(down, up))
    assert picture.height > drawn(A, down).height


def test_a_change_is_said_finger_by_finger():
    """What stays first; places as they are counted from the capo."""
    stay = shape("E7", "020100", ".2.1..")
    assert drawn(shape("E", "022100", ".231.."), stay).says == (
        "E to E7. The index finger stays at string 3, fret 1. The middle finger stays at string 5, fret 2. "
        "The ring finger leaves string 4, fret 2."
    )
    assert drawn(CSM7, BM7).says == (
        "C sharp m7 to Bm7. The index finger slides from fret 4 to strings 5 to 1, fret 2. "
        "The middle finger slides from fret 5 to string 2, fret 3. "
        "The ring finger slides from fret 6 to string 4, fret 4."
    )
    assert drawn(A, B7).says.endswith("The little finger comes down at string 1, fret 2.")


def test_a_change_can_be_said_otherwise():
    picture = change_diagram(A, B7, between(A, B7), STANDARD, LOOK, says="Keep calm.")
    assert picture.says == "Keep calm."


@st.composite
def changes(
    draw: st.DrawFn,
) -> tuple[TakenShape, TakenShape, Tuning, DiagramLook, Capo]:
    strings = draw(st.integers(3, 12))
    before, after = draw(taken(strings)), draw(taken(strings))
    return before, after, draw(tunings(strings)), draw(LOOKS), draw(capos(strings))


def of(made: tuple[TakenShape, TakenShape, Tuning, DiagramLook, Capo]) -> Drawing:
    before, after, tuning, look, capo = made
    return change_diagram(before, after, between(before, after, capo), tuning, look, capo=capo)


@given(changes())
def test_any_change_fits_its_picture(
    made: tuple[TakenShape, TakenShape, Tuning, DiagramLook, Capo],
):
    """Any two shapes on any number of strings; no figure stands on another."""
    assert_inside(of(made))
    assert_no_figures_meet(of(made))


@given(changes())
def test_the_other_hand_has_the_exact_mirror_image(
    made: tuple[TakenShape, TakenShape, Tuning, DiagramLook, Capo],
):
    before, after, tuning, look, capo = made
    plain, mirror = (
        of((before, after, tuning, evolve(look, named=False, mirrored=mirrored), capo))
        for mirrored in (False, True)
    )
    assert_mirrored(plain, mirror)


@given(changes())
def test_no_ring_stands_where_the_new_shape_is(
    made: tuple[TakenShape, TakenShape, Tuning, DiagramLook, Capo],
):
    """What a finger covers cannot be seen; each free old place has one ring, a barre its bass end."""
    before, after, tuning, look, _ = made
    picture = of((before, after, tuning, look, Capo()))
    old = [one.at for one in discs(picture) if one.dash]
    new = [one.at for one in discs(picture) if not one.dash and one.radius > 1.5]
    assert not set(old) & set(new)
    assert len(set(old)) == len(old)
    bars = [box for box in (*boxes(picture, "ink"), *boxes(picture, "paper")) if box.radius > 1.5]
    for x, y in old:
        for bar in bars:
            inside = (
                bar.at[0] < x < bar.at[0] + bar.width and bar.at[1] < y < bar.at[1] + bar.height
            )
            assert not inside


def test_fingers_that_are_not_known_have_rings_without_figures():
    """Nothing is made up."""
    unknown = TakenShape(Voicing(name="E", frets=(0, 2, 2, 1, 0, 0)), "E", ShapeUse())
    picture = change_diagram(unknown, A, Change((), 0, 0.0, False, 0.0), STANDARD, LOOK)
    assert rings(picture) == 2
    assert [text for text, ink in letters(picture) if ink == "soft" and text.isdigit()] == []
    assert picture.says == "E to A."


@pytest.mark.parametrize("lying", [True, False])
def test_a_change_without_its_name_is_lower(lying: bool):
    look = DiagramLook(lying=lying)
    assert drawn(A, B7, evolve(look, named=False)).height < drawn(A, B7, look).height


def test_names_that_do_not_fit_in_one_row_stand_in_two():
    """So that neither is cut; the picture is higher by a row."""
    one, other = (
        shape("Fmaj7#11 at fret 5", "x02220", "..123."),
        shape("Bbmaj7/D at fret 3", "x21202", ".213.4"),
    )
    picture = drawn(one, other)
    rows = [text for text, ink in letters(picture) if ink == "ink" and "fret" in text]
    assert rows == ["Fmaj7♯11 at fret 5", "to B♭maj7/D at fret 3"]
    assert picture.height == pytest.approx(drawn(A, B7).height + 4.6)
    assert picture.title == "Fmaj7♯11 at fret 5 to B♭maj7/D at fret 3"
