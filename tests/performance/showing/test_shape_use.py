"""How a song uses its voicings."""

from __future__ import annotations

from fractions import Fraction

from attrs import evolve
from timelines import bar, note, timeline

from fretloom.performance.events import TimedBar, TimedNote, TimedVoicing
from fretloom.performance.showing.shape_use import ShapeUse, shape_uses
from fretloom.trade.guitar.voicing import Hop, Voicing
from fretloom.trade.music.meter import Count


def test_what_is_plucked_and_when_the_thumb_plays():
    """Over all bars that take the voicing, each count once, in order."""
    one = bar(
        "4/4",
        note(0, 5, 3, "p"),
        note(2, 4, 2, "p"),
        note("3/2", 3, 0, "i"),
        chord="C",
        frets="x32010",
    )
    two = bar("4/4", note("5/2", 4, 2, "p"), note(0, 5, 3, "p"), chord="C", frets="x32010")
    assert shape_uses(timeline([one, two])) == {
        "C": ShapeUse(
            frozenset({5, 4, 3}),
            ((5, (Count(1),)), (4, (Count(3), Count(3, Fraction(1, 2))))),
        )
    }


def test_counts_are_in_order():
    """Whatever order the bars have."""
    places = ["7/4", "3/2", "5/4", "1"]
    bars = [bar("4/4", note(at, 5, 3, "p"), chord="C", frets="x32010") for at in places]
    counts = shape_uses(timeline(bars))["C"].thumb_on(5)
    assert [str(one) for one in counts] == ["2", "2e", "2&", "2a"]


def test_counts_go_by_the_full_bar():
    """A pickup of one quarter is on count four."""
    pickup = evolve(
        bar("4/4", note(0, 5, 3, "p"), chord="C", frets="x32010"),
        start=Fraction(3),
        length=Fraction(1),
    )
    assert shape_uses(timeline([pickup]))["C"].thumb_on(5) == (Count(4),)


def test_a_note_beside_the_voicing_is_not_its():
    """Another fret on its string; nor is a note before any voicing is taken."""
    found = shape_uses(timeline([bar("4/4", note(0, 5, 5, "p"), chord="C", frets="x32010")]))
    assert found == {"C": ShapeUse()}
    assert shape_uses(timeline([bar("4/4", note(0, 5, 5, "p"))])) == {}


B7 = Voicing(
    name="B7", frets=(None, 2, 1, 2, 0, 2), fingers=(None, "2", "1", "3", None, "4"), hops=(Hop("2", 6, 2),),
)  # fmt: skip


def hopping(*notes: TimedNote, voicing: Voicing = B7) -> TimedBar:
    return evolve(bar("4/4", *notes), voicings=(TimedVoicing(onset=Fraction(0), voicing=voicing),))


HOME, AWAY = note(0, 5, 2, "p"), note(2, 6, 2, "p")


def test_a_finger_that_hops_is_back_when_its_string_is_plucked():
    """In the next bar, if the voicing is still held there; a string beside its own does not bring it back."""
    twice = shape_uses(timeline([hopping(HOME, AWAY, note(3, 4, 1, "p"))] * 2))["B7"]
    assert twice.hops == ((6, (Count(3),)),)
    assert twice.back == ((6, (Count(1),)),)
    within = shape_uses(timeline([hopping(HOME, AWAY, note(3, 5, 2, "p"))]))["B7"]
    assert within.back == ((6, (Count(4),)),)
    once = shape_uses(timeline([hopping(HOME, AWAY)]))["B7"]
    assert once.back == ()


def test_a_change_between_means_that_a_finger_is_not_back():
    """The hand has been elsewhere."""
    other = hopping(note(0, 5, 0, "p"), voicing=Voicing(name="A", frets=(None, 0, 2, 2, 2, 0)))
    assert shape_uses(timeline([hopping(HOME, AWAY), other, hopping(HOME, AWAY)]))["B7"].back == ()


def test_a_hop_that_not_every_bar_has_comes_at_times():
    """A bar without it, or with it on another count."""
    always = shape_uses(timeline([hopping(HOME, AWAY), hopping(AWAY)]))["B7"]
    assert always.at_times == frozenset()
    for other in (hopping(HOME), hopping(HOME, note(3, 6, 2, "p"))):
        assert shape_uses(timeline([hopping(HOME, AWAY), other]))["B7"].at_times == {6}
