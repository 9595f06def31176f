"""Signs by themselves, and which of them a picture has."""

from __future__ import annotations

import pytest
from pictures_drawn import assert_inside, assert_mirrored
from timelines import STANDARD

from fretloom.engraving.drawn.drawing import Box, Disc, DrawnLine, Letters, Mark
from fretloom.engraving.drawn.shape_diagram import DiagramLook, shape_diagram
from fretloom.engraving.drawn.sign_samples import all_signs, sign_samples
from fretloom.engraving.drawn.stairs import stairs
from fretloom.engraving.drawn.tab.samples import TAB_SAMPLES
from fretloom.performance.showing.shape_use import ShapeUse
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.guitar.voicing import Hop, Voicing
from fretloom.trade.music.meter import Count
from fretloom.trade.phrases.table import phrases

ALL = frozenset(range(1, 7))
#: Tab runs one way for both hands.
OF_TAB = set(TAB_SAMPLES)


def of(voicing: Voicing, use: ShapeUse | None = None, capo: Capo | None = None) -> set[str]:
    """The signs that the diagram of a shape says it has."""
    return set(shape_diagram(voicing, use, STANDARD, DiagramLook(), capo=capo).signs)


def test_signs_that_are_used_come_in_the_order_of_the_table():
    """No others, and each with its meaning."""
    found = sign_samples({"mute", "finger", "no-such-sign"})
    assert [one.key for one in found] == ["finger", "mute"]
    assert found[1].meaning == phrases()["signs.mute"] == found[1].picture.title


@pytest.mark.parametrize("key", all_signs())
def test_each_sign_fits_its_picture(key: str):
    """Also for the other hand, and there is something to see."""
    [sample], [mirror] = sign_samples({key}), sign_samples({key}, mirrored_hand=True)
    assert sample.picture.marks
    assert_inside(sample.picture)
    if key in OF_TAB:
        assert mirror.picture == sample.picture
    else:
        assert_mirrored(sample.picture, mirror.picture)


def test_a_diagram_names_the_signs_it_has():
    """Fingers, strings that are open or not, and what is never plucked."""
    c = Voicing(name="C", frets=(None, 3, 2, 0, 1, 0), fingers=(None, "3", "2", None, "1", None))
    assert of(c) == {"finger", "open", "mute"}
    quiet = ShapeUse(frozenset({5, 3}), ((5, (Count(1),)),))
    assert of(c, quiet) == {"finger", "quiet", "open", "quiet-open", "mute", "thumb-count"}
    assert of(Voicing(name="D", frets=(5, 5, 0, 7, 5, 5), fingers=("1", "1", None, "3", "T", ""))) == {
        "barre", "finger", "thumb-fret", "unfingered", "open", "first-fret",
    }  # fmt: skip
    hopping = Voicing(
        name="B7", frets=(None, 2, 1, 2, 0, 2), fingers=(None, "2", "1", "3", None, "4"),
        hops=(Hop("2", 6, 2),),
    )  # fmt: skip
    assert of(hopping) == {"finger", "open", "hop"}
    assert of(c, capo=Capo(2, (4, 3, 2))) == {"finger", "open", "mute", "capo"}
    assert of(c, capo=Capo(2)) == {"finger", "open", "mute"}


def test_a_sample_is_made_of_the_marks_of_its_picture():
    """Of the same kinds, inks and sizes: what the page explains is what stands there."""
    voicing = Voicing(
        name="B7", frets=(None, 2, 1, 2, 0, 2), fingers=(None, "2", "1", "3", None, "4"),
        hops=(Hop("2", 6, 2),),
    )  # fmt: skip
    use = ShapeUse(frozenset({5, 4, 3}), ((5, (Count(3),)),), ((6, (Count(3),)),))
    drawn = {_form(mark) for mark in shape_diagram(voicing, use, STANDARD, DiagramLook()).marks}
    drawn |= {_form(mark) for mark in stairs([60, 80]).marks}
    for sample in sign_samples({"finger", "quiet", "hop", "quiet-open", "good-turn"}):
        assert {_form(mark) for mark in sample.picture.marks} <= drawn, sample.key


def _form(mark: Mark) -> tuple[object, ...]:
    if isinstance(mark, Disc):
        return (mark.radius, mark.fill, mark.line, mark.width)
    if isinstance(mark, Letters):
        return (mark.size, mark.ink, mark.bold)
    if isinstance(mark, Box):
        return (mark.height, mark.radius, mark.fill, mark.line_width)
    assert isinstance(mark, DrawnLine)
    return (mark.width, mark.ink, mark.curved)


def test_every_sign_that_has_a_meaning_has_a_sample():
    """And the other way round: a page can explain whatever its pictures have."""
    meanings = [key.removeprefix("signs.") for key in phrases() if key.startswith("signs.")]
    assert list(all_signs()) == meanings
