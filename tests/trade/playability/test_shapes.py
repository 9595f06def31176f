"""What a hand can hold: printed voicings accepted, impossible shapes refused, and the laws of reach."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from voicing_table import hand, impossible, shape, table

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.playability.reach import Contact, Hand, comfortable, hand_of, maximum, reach
from fretloom.trade.playability.shape import Verdict, inner_muted, is_wide, judge, refused
from fretloom.trade.playability.solver import fingerings

SIZES = ("small", "average", "large")
SCALES = (610.0, 628.7, 647.7, 650.0)
TOO_FAR = {"reach", "thumb-reach"}


def test_average_hand_holds_printed_voicings(capsys) -> None:
    """An average hand accepts at least 99 % of the 2,054 well-formed voicings; the figure is printed."""
    rows = [row for row in table() if row.well_formed]
    accepted = sum(not refused(judge(Neck(), Hand(), row.frets, row.fingers)) for row in rows)
    share = accepted / len(rows)
    with capsys.disabled():
        print(f" accepted {accepted} of {len(rows)} voicings ({share:.2%})", end=" ")
    assert len(rows) == 2054
    assert share >= 0.99


def test_small_hand_holds_nearly_all() -> None:
    """A small hand accepts at least 98 %."""
    rows = [row for row in table() if row.well_formed]
    hand_small = hand_of("small")
    refusals = sum(refused(judge(Neck(), hand_small, row.frets, row.fingers)) for row in rows)
    assert refusals <= 0.02 * len(rows)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("scale", SCALES)
def test_impossible_shapes_are_refused(size: str, scale: float) -> None:
    """Every shape built to be impossible is refused on every instrument by every hand."""
    for case in impossible():
        neck = Neck(scale=scale, capo=Capo(case["capo"]))
        frets = tuple(None if fret < 0 else fret for fret in case["frets"])
        if case["fingers"] is None:
            found = fingerings(frets, neck, hand_of(size), thumb=case["thumb_allowed"])
            assert not found, case["id"]
        else:
            fingers = tuple(str(one) if one else None for one in case["fingers"])
            assert refused(judge(neck, hand_of(size), frets, fingers)), case["id"]


@pytest.mark.parametrize(
    "case", [case for case in impossible() if case["fingers"]], ids=lambda case: case["id"]
)
def test_impossible_shapes_are_refused_for_the_right_reason(case) -> None:
    """The fault that was built in is among the errors found."""
    frets = tuple(None if fret < 0 else fret for fret in case["frets"])
    fingers = tuple(str(one) if one else None for one in case["fingers"])
    verdicts = judge(Neck(capo=Capo(case["capo"])), Hand(), frets, fingers)
    assert case["rule"] in {one.rule for one in verdicts if one.severity == "error"}


def test_verdict_quotes_millimetres() -> None:
    """A reach verdict says how far apart the fingers are and how far they may be."""
    (verdict,) = (
        one for one in judge(Neck(), Hand(), shape("1xxx5x"), hand("1...4.")) if one.rule == "reach"
    )
    assert (round(verdict.value), round(verdict.limit)) == (127, 112)
    assert verdict.fingers == ("1", "4")


def test_open_strings_on_the_bass_side_of_a_barre_are_free() -> None:
    """A barre stops short of the strings below it."""
    assert not refused(judge(Neck(), Hand(), shape("002222"), hand("..1111")))


def test_capo_on_some_strings_only() -> None:
    """Under a partial capo the open string it covers lies under no barre behind it."""
    neck = Neck(capo=Capo(2, (5, 4, 3)))
    lies_under = judge(neck, Hand(), (3, 0, 0, 0, 3, 3), hand("1...11"))
    assert "barre-inner" in {one.rule for one in lies_under}
    level = judge(neck, Hand(), (2, 0, 0, 0, 2, 2), hand("1...11"))
    assert "barre-inner" not in {one.rule for one in level}


def test_inner_muted_strings() -> None:
    """Only unplayed strings between sounding ones have to be damped."""
    assert inner_muted(shape("2x0232")) == (5,)
    assert inner_muted(shape("xx0232")) == ()


FINGERED = st.sampled_from([row for row in table() if row.well_formed and any(row.fingers)])
WIDE = st.lists(st.sampled_from([None, 0, 1, 2, 3, 4, 5, 6, 7, 9]), min_size=6, max_size=6).map(
    tuple
)
HANDS = st.floats(min_value=150, max_value=215).map(Hand)
NECKS = st.builds(
    Neck, scale=st.floats(min_value=560, max_value=700), capo=st.integers(0, 6).map(Capo)
)


@st.composite
def fretted(draw):
    """A voicing with fingers that may well be too far apart."""
    if draw(st.booleans()):
        row = draw(FINGERED)
        return row.frets, row.fingers
    frets = draw(WIDE)
    order = sorted({fret for fret in frets if fret})
    names = draw(st.permutations("1234"))[: len(order)]
    by_fret = dict(zip(order, sorted(names), strict=False))
    return frets, tuple(by_fret.get(fret) if fret else None for fret in frets)


def _far(verdicts: tuple[Verdict, ...]) -> set[tuple[str, ...]]:
    return {one.fingers for one in verdicts if one.rule in TOO_FAR}


@given(fretted(), HANDS, NECKS, st.integers(1, 6))
def test_a_capo_never_adds_a_reach_error(voicing, hand_, neck, more) -> None:
    """A capo, or one further up, brings the frets closer together."""
    higher = Neck(scale=neck.scale, capo=Capo(neck.capo.fret + more))
    assert _far(judge(higher, hand_, *voicing)) <= _far(judge(neck, hand_, *voicing))


@given(fretted(), HANDS, NECKS, st.floats(min_value=0.7, max_value=1))
def test_a_shorter_scale_never_adds_a_reach_error(voicing, hand_, neck, factor) -> None:
    """A shorter scale brings the frets closer together."""
    shorter = Neck(scale=neck.scale * factor, capo=neck.capo)
    assert _far(judge(shorter, hand_, *voicing)) <= _far(judge(neck, hand_, *voicing))


@given(fretted(), HANDS, NECKS, st.floats(min_value=1, max_value=1.2))
def test_a_larger_hand_never_adds_an_error(voicing, hand_, neck, factor) -> None:
    """What a hand can do, a larger one can."""
    larger = Hand(hand_.length * factor)
    errors = {
        (one.rule, one.fingers) for one in judge(neck, larger, *voicing) if one.severity == "error"
    }
    assert errors <= {
        (one.rule, one.fingers) for one in judge(neck, hand_, *voicing) if one.severity == "error"
    }


@given(fretted(), HANDS, NECKS)
def test_a_mirrored_player_gets_the_same_verdicts(voicing, hand_, neck) -> None:
    """Strung the other way round, the same fingers do the same."""
    mirrored = Neck(scale=neck.scale, capo=neck.capo, mirrored=True)
    reported = judge(neck, hand_, *voicing)
    other = judge(mirrored, hand_, *voicing)
    assert [(one.rule, one.fingers, round(one.value, 6)) for one in reported] == [
        (one.rule, one.fingers, round(one.value, 6)) for one in other
    ]


@given(st.integers(0, 12), st.integers(0, 12), st.integers(1, 6), st.integers(1, 6))
def test_reach_is_the_same_both_ways(one_fret, other_fret, one, other) -> None:
    """How far apart two contacts are does not depend on which is named first."""
    first, second = Contact(one_fret, one, one), Contact(other_fret, other, other)
    assert reach(Neck(), first, second) == pytest.approx(reach(Neck(), second, first))


@pytest.mark.parametrize(("part", "wide"), [(0.0, False), (0.7, False), (0.8, True)])
def test_a_stretch_is_wide_near_the_greatest_reach(part: float, wide: bool) -> None:
    """From three quarters of the way between comfortable and greatest reach on (an assumption)."""
    easy, most = comfortable(Hand(), "1", "4"), maximum(Hand(), "1", "4")
    far = easy + part * (most - easy)
    verdict = Verdict("stretch", "warning", ("1", "4"), (6, 1), (1, 4), far, easy)
    assert is_wide(verdict, Hand()) is wide


def test_only_stretches_are_wide() -> None:
    """What is out of reach altogether is another verdict."""
    assert not is_wide(Verdict("reach", "error", ("1", "4"), (6, 1), (1, 9), 200.0, 90.0), Hand())
