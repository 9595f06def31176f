"""Hops worked out anew for other shapes; which strings and fingers is common practice, no source."""

from __future__ import annotations

from fretloom.api import as_text, dumps, expand, loads, transpose
from fretloom.arranging.moving.hops import hops_missing, with_hops
from fretloom.trade.guitar.plucking import usual_plan
from fretloom.trade.guitar.voicing import Hop, Voicing

SETTINGS = expand(loads('lesson "Hops"\n')).settings
PLAN = usual_plan(6)
A7 = Voicing(name="A7", frets=(None, 0, 2, 0, 2, 0), hops=(Hop("2", 6, 3),))


def test_the_ring_finger_of_c_reaches_for_the_fifth() -> None:
    """From B7 to C7 the fifth lies on string 6 fret 3: the ring finger leaves string 5 for it."""
    old = Voicing(name="B7", frets=(None, 2, 1, 2, 0, 2), hops=(Hop("2", 6, 2),))
    new = with_hops(old, Voicing(name="C7", frets=(None, 3, 2, 3, 1, 0)), 1, SETTINGS, PLAN)
    assert new.hops == (Hop("3", 6, 3),)
    assert new.fingers_text == ".3241."
    assert hops_missing(old, new, 1, SETTINGS, PLAN) == ()


def test_a_degree_that_the_thumb_has_needs_no_hop() -> None:
    """E has its fifth on string 5, and A on its open string 6."""
    old = Voicing(name="C", frets=(None, 3, 2, 0, 1, 0), hops=(Hop("3", 6, 3),))
    for frets, steps in (((0, 2, 2, 1, 0, 0), 4), ((None, 0, 2, 2, 2, 0), 9)):
        new = with_hops(old, Voicing(name="new", frets=frets), steps, SETTINGS, PLAN)
        assert new.hops == ()
        assert hops_missing(old, new, steps, SETTINGS, PLAN) == ()


def test_a_degree_out_of_reach_is_missing() -> None:
    """The flat seventh that A7 hops to has no place near the fingers of an open E."""
    old = Voicing(name="A", frets=(None, 0, 2, 2, 2, 0), hops=(Hop("1", 4, 5),))
    new = with_hops(old, Voicing(name="E", frets=(0, 2, 2, 1, 0, 0)), 7, SETTINGS, PLAN)
    assert hops_missing(old, new, 7, SETTINGS, PLAN) == tuple(
        hop for hop in old.hops if not new.hops and hop
    )


def test_a_lesson_has_the_new_hop() -> None:
    """It is written with the fingers that it needs, and checked as everything that is moved."""
    text = (
        'lesson "Hops"\n  plays in B\n  capo 3\n  tempo 70\n'
        "voicings\n  B7  x21202  fingers .213.4  bass 5 4 6 4  hop 2 to 6@2\n"
        "patterns\n  plain  p , i , p , m\nsection t  using plain\n  B7\n"
    )
    found = transpose(loads(text), plays="C")
    assert "C7  x32310  fingers .3241.  hop 3 to 6@3" in dumps(found.lesson)
    assert "hop" not in as_text(found)
