"""What stands in a diagram and where."""

from __future__ import annotations

from fractions import Fraction

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
    edges,
    letters,
    lines,
    taken,
    tunings,
)
from timelines import STANDARD

from fretloom.engraving.drawn.drawing import (
    Box,
    Disc,
    Drawing,
    DrawnLine,
    Letters,
    mirrored,
    moved,
    scaled,
)
from fretloom.engraving.drawn.shape_diagram import DiagramLook, shape_diagram
from fretloom.performance.showing.shape_use import ShapeUse
from fretloom.performance.showing.taken_shapes import TakenShape
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.guitar.voicing import FINGERS, Hop, Voicing
from fretloom.trade.music.meter import Count

UPRIGHT = DiagramLook()
C = Voicing(
    name="C", symbol="C", frets=(None, 3, 2, 0, 1, 0), fingers=(None, "3", "2", None, "1", None)
)
F = Voicing(name="F", symbol="F", frets=(1, 3, 3, 2, 1, 1), fingers=("1", "3", "4", "2", "1", "1"))
ALL = ShapeUse(frozenset(range(1, 13)))


def drawn(voicing: Voicing, use: ShapeUse | None = ALL, look: DiagramLook = UPRIGHT) -> Drawing:
    return shape_diagram(voicing, use, STANDARD, look)


def test_a_shape_by_the_nut():
    """Three fingers, two open strings, one that is not played."""
    picture = drawn(C)
    filled = [one for one in discs(picture) if one.fill == "ink"]
    rings = [one for one in discs(picture) if one.fill is None]
    assert (len(filled), len(rings)) == (3, 2)
    assert [text for text, ink in letters(picture) if ink == "paper"] == ["3", "2", "1"]
    left_to_right = [one.at[0] for one in filled]
    assert left_to_right == sorted(left_to_right)
    third, second, first = filled
    assert third.at[1] > second.at[1] > first.at[1]
    nut = boxes(picture, "ink")
    assert len(nut) == 1


def test_a_barre_is_one_bar_with_one_figure():
    """On its bass end; other fingers stand above it."""
    picture = drawn(F)
    bars = boxes(picture, "ink")
    assert len(bars) == 2
    assert bars[1].width > 5 * 4.0
    assert sorted(text for text, ink in letters(picture) if ink == "paper") == ["1", "2", "3", "4"]


def test_what_is_never_plucked_stands_back():
    """A ring with a soft figure, and a small ring for an open string."""
    use = ShapeUse(frozenset({5, 4, 2}))
    picture = drawn(C, use)
    assert [(one.radius, one.line) for one in discs(picture) if one.line == "soft"] == [
        (0.8, "soft"),
        (0.8, "soft"),
    ]
    quiet = drawn(C, ShapeUse(frozenset({5})))
    assert [text for text, ink in letters(quiet) if ink == "soft" and text.isdigit()] == ["2", "1"]


def test_the_box_belongs_to_the_thumb():
    """Its counts under each string, stacked; the ink of the thumb is nowhere else."""
    thumb = ((5, (Count(1), Count(3))), (4, (Count(2), Count(4, Fraction(1, 2)))))
    picture = drawn(C, ShapeUse(ALL.plucked, thumb))
    counts = [
        (one.text, one.at)
        for one in picture.marks
        if isinstance(one, Letters) and one.ink == "thumb"
    ]
    assert [text for text, _ in counts] == ["1", "3", "2", "4&"]
    assert counts[0][1][0] == counts[1][1][0] < counts[2][1][0]
    assert counts[0][1][1] < counts[1][1][1]
    assert not [mark for mark in drawn(C).marks if "thumb" in repr(mark)]


def test_counts_beyond_six_are_cut():
    """More are more than a glance."""
    counts = tuple(Count(1 + at // 2, Fraction(at % 2, 2)) for at in range(8))
    picture = drawn(C, ShapeUse(ALL.plucked, ((5, counts),)))
    assert [text for text, ink in letters(picture) if ink == "thumb"] == [
        "1",
        "1&",
        "2",
        "2&",
        "3",
        "…",
    ]


def test_a_hop_leads_from_its_finger_to_its_goal():
    """A ring at the goal and a curve that ends there; no cross on the string it hops to."""
    hopping = Voicing(
        name="B7", symbol="B7", frets=(None, 2, 1, 2, 0, 2), fingers=(None, "2", "1", "3", None, "4"),
        hops=(Hop("2", 6, 2),),
    )  # fmt: skip
    picture = drawn(hopping)
    curves = [one for one in picture.marks if isinstance(one, DrawnLine) and one.curved]
    goal = next(one for one in discs(picture) if one.fill == "paper")
    assert [one.ink for one in curves] == ["paper", "ink"]
    assert curves[1].points[-1][0] == goal.at[0]
    assert len([one for one in discs(picture) if one.radius == 1.05]) == 1
    assert [one for one in picture.marks if isinstance(one, DrawnLine) and one.width == 0.42] == []
    muted = drawn(Voicing(name="B7", symbol="B7", frets=(None, 2, 1, 2, 0, 2)))
    assert (
        len([one for one in muted.marks if isinstance(one, DrawnLine) and one.width == 0.42]) == 2
    )


def test_further_up_a_number_stands_for_the_nut():
    """The first fret of the window, in bold."""
    high = Voicing(name="D", symbol="D", frets=(None, 5, 7, 7, 7, 5))
    assert ("5", "ink") in letters(drawn(high))
    assert [one for one in drawn(high).marks if isinstance(one, Box) and one.fill == "ink"] == []
    assert drawn(high, None).width > drawn(C).width


def test_names_have_printed_signs():
    """The root bold, the rest behind it; strings by their notes."""
    sharp = Voicing(name="C#m7", symbol="C#m7", frets=(None, 4, 6, 4, 5, 4))
    name = next(one for one in drawn(sharp).marks if isinstance(one, Letters))
    assert (name.text, name.after, name.bold) == ("C♯", "m7", True)
    plain = Voicing(name="walkdown", frets=(3, None, None, 0, 0, None))
    name = next(one for one in drawn(plain).marks if isinstance(one, Letters))
    assert (name.text, name.after) == ("walkdown", "")
    assert [text for text, ink in letters(drawn(C)) if ink == "soft" and text.isalpha()] == list(
        "EADGBE"
    )


def test_the_board_has_its_wires_and_strings():
    """Four frets behind the nut, five wires without one; only there strings reach out over the first."""
    high = Voicing(name="D", symbol="D", frets=(None, 5, 7, 7, 7, 5))
    assert (len(lines(drawn(C), 0.3)), len(lines(drawn(high), 0.3))) == (4, 5)
    tops = [min(y for _, y in lines(drawn(one), 0.6)[0].points) for one in (C, high)]
    assert (tops[0], tops[1]) == (pytest.approx(10.2), pytest.approx(9.0))


def test_nut_and_barre_have_their_own_forms():
    """The nut reaches out over the outer strings, also where the neck lies; a barre is as round as a finger."""
    nut, barre = (one for one in drawn(F).marks if isinstance(one, Box) and one.fill == "ink")
    assert (nut.radius, nut.height, nut.width) == (0.8, pytest.approx(1.6), pytest.approx(23.4))
    assert (barre.radius, barre.height) == (pytest.approx(1.84), pytest.approx(3.68))
    lying = next(
        one for one in drawn(F, look=DiagramLook(lying=True)).marks if isinstance(one, Box)
    )
    assert (lying.width, lying.height) == (pytest.approx(1.6), pytest.approx(23.4))


def test_a_barre_may_lie_over_two_strings():
    """One finger on two strings at one fret."""
    small = Voicing(
        name="A", frets=(None, 0, 2, 2, None, None), fingers=(None, None, "1", "1", None, None)
    )
    bars = [one for one in drawn(small).marks if isinstance(one, Box) and one.fill == "ink"]
    assert bars[1].width == pytest.approx(4 + 2 * 1.84)


def test_six_counts_fit():
    """Only a seventh is cut."""
    counts = tuple(Count(number) for number in range(1, 7))
    picture = drawn(C, ShapeUse(ALL.plucked, ((5, counts),)))
    assert [text for text, ink in letters(picture) if ink == "thumb"] == list("123456")


def test_counts_stand_at_the_end_of_strings_that_lie():
    """Each string's in a row; in the mirror image they end where the strings do."""
    use = ShapeUse(ALL.plucked, ((5, (Count(1), Count(3))),))
    for other_hand, anchor in ((False, "start"), (True, "end")):
        picture = drawn(C, use, DiagramLook(lying=True, mirrored=other_hand))
        [counts] = [one for one in picture.marks if isinstance(one, Letters) and one.ink == "thumb"]
        assert (counts.text, counts.anchor) == ("1 3", anchor)


def test_without_a_name_the_diagram_is_lower():
    """Where the name stands elsewhere."""
    unnamed = drawn(C, look=DiagramLook(named=False))
    assert unnamed.height < drawn(C).height
    assert "C" not in [text for text, _ in letters(unnamed)]


def test_a_picture_can_be_moved():
    """All marks by the same way."""
    [disc, stroke] = moved(
        [Disc(at=(1, 2), radius=1), DrawnLine(points=((0, 0), (1, 1)), width=1, ink="ink")], 3, 4
    )
    assert (disc.at, stroke.points) == ((4, 6), ((3, 4), (4, 5)))


STRINGS = st.integers(3, 12)


@st.composite
def shapes(draw: st.DrawFn) -> tuple[TakenShape, Tuning, DiagramLook, Capo]:
    """Any shape on any number of strings, with any use."""
    strings = draw(STRINGS)
    return draw(taken(strings)), draw(tunings(strings)), draw(LOOKS), draw(capos(strings))


def of(shape: tuple[TakenShape, Tuning, DiagramLook, Capo]) -> Drawing:
    one, tuning, look, capo = shape
    return shape_diagram(one.voicing, one.use, tuning, look, one.name, capo)


@given(shapes())
def test_everything_lies_inside_the_picture_and_no_figure_on_another(
    shape: tuple[TakenShape, Tuning, DiagramLook, Capo],
):
    """For any number of strings, any frets, any hand, any name."""
    assert_inside(of(shape))
    assert_no_figures_meet(of(shape))


@given(shapes())
def test_the_other_hand_has_the_exact_mirror_image(
    shape: tuple[TakenShape, Tuning, DiagramLook, Capo],
):
    """Each mark is where a mirror shows it; only the name stands where a line begins."""
    one, tuning, look, capo = shape
    plain = of((one, tuning, evolve(look, mirrored=False, named=False), capo))
    mirror = of((one, tuning, evolve(look, mirrored=True, named=False), capo))
    assert_mirrored(plain, mirror)
    assert (mirror.signs, mirror.says) == (plain.signs, plain.says)


@given(shapes())
def test_each_held_finger_is_drawn_once(shape: tuple[TakenShape, Tuning, DiagramLook, Capo]):
    """A finger on several strings of a fret is one bar; on each other place it has its figure."""
    one, tuning, look, capo = shape
    picture = of((one, tuning, evolve(look, named=False), capo))
    held = {
        (finger, fret + capo.on(string) if capo.strings else fret)
        for string, (fret, finger) in enumerate(
            zip(reversed(one.voicing.frets), reversed(one.voicing.fingers), strict=True), 1
        )
        if fret and finger
    }
    figures = [
        mark.text
        for mark in picture.marks
        if isinstance(mark, Letters)
        and mark.text in FINGERS
        and ((mark.ink, mark.bold) in {("paper", True), ("soft", False)})
    ]
    assert sorted(figures) == sorted(finger for finger, _ in held)


def test_counts_wider_than_their_column_have_rows_of_their_own():
    """Small ones stand side by side; a wide one goes where it has room, below those of its own string."""
    thumb = ((6, (Count(1),)), (5, (Count(2, Fraction(1, 3)),)), (4, (Count(3),)))
    picture = drawn(C, ShapeUse(ALL.plucked, thumb))
    rows = {
        one.text: one.at[1]
        for one in picture.marks
        if isinstance(one, Letters) and one.ink == "thumb"
    }
    assert rows["1"] == rows["3"] < rows["2trip"]
    plain = ((6, (Count(1),)), (5, (Count(12),)), (4, (Count(3, Fraction(1, 2)),)))
    picture = drawn(C, ShapeUse(ALL.plucked, plain))
    assert (
        len({one.at[1] for one in picture.marks if isinstance(one, Letters) and one.ink == "thumb"})
        == 1
    )


def test_a_picture_can_be_larger():
    """Places, lines, letters and dashes alike, and nothing else changes."""
    picture = drawn(C, ShapeUse(frozenset({5}), ((5, (Count(1),)),)))
    large = scaled(picture, 1.5)
    assert (large.width, large.height) == (picture.width * 1.5, picture.height * 1.5)
    assert (large.title, large.says, large.signs) == (picture.title, picture.says, picture.signs)
    for one, other in zip(picture.marks, large.marks, strict=True):
        assert edges(other) == pytest.approx([1.5 * place for place in edges(one)])
    ring = Disc(at=(1, 1), radius=1, line="ink", width=0.4, dash=(0.9, 0.7))
    [half] = scaled(Drawing(width=4, height=4, marks=(ring,), title="ring"), 0.5).marks
    assert (half.width, half.dash) == (0.2, (0.45, 0.35))


def test_a_mirror_leaves_words_readable():
    """A text that began on the left ends on the right."""
    [text, box] = mirrored(
        [
            Letters(at=(1, 2), text="A", size=3, anchor="start"),
            Box(at=(1, 0), width=2, height=1),
        ],
        10,
    )
    assert (text.at, text.anchor, box.at) == ((9, 2), "end", (7, 0))
