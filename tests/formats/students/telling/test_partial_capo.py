"""A capo over some strings only: one number for each place, as the lesson writes it, on every page for students.

Frets count from the capo on the strings that it covers and from the nut on the others, so that 0 is always the
open string (our own decision, docs/explanation/notation-decisions.md; there is no common practice).
"""

from __future__ import annotations

import re

import pytest
from reading_through import reading_of

from fretloom.api import export, loads
from fretloom.formats.students.handout.options import HandoutOptions
from fretloom.formats.students.handout.page import page_of
from fretloom.formats.students.telling.head import counted_from, head_of
from fretloom.formats.students.telling.listener import listener_of
from fretloom.formats.students.telling.shapes import shape_sentences
from fretloom.performance.showing.taken_shapes import taken_shapes

LESSON = """\
lesson "Under the Short Capo"
  capo 2 on 5 4 3
  meter 4/4

voicings
  home   022100  fingers .231..
  across 422000  fingers 123...

patterns
  plain  p , i , p , i

section verse  using plain
  home | across
"""
COUNTED = "On strings 5, 4 and 3 frets are counted from the capo, on the others from the nut."


def shapes(text: str = LESSON):
    timeline = reading_of(text).timeline
    listener = listener_of(timeline.settings)
    return {one.voicing.name: shape_sentences(one, listener) for one in taken_shapes(timeline)}


@pytest.mark.parametrize(
    ("capo", "said"),
    [
        ("", ""),
        ("capo 2", "Frets are counted from the capo."),
        ("capo 2 on 5 4 3", COUNTED),
        ("capo 2 on 6 5 4 3 2 1", "Frets are counted from the capo."),
    ],
)
def test_it_is_said_from_where_frets_are_counted(capo: str, said: str):
    """A capo that is written over all strings one by one is a whole one."""
    settings = reading_of(LESSON.replace("capo 2 on 5 4 3", capo)).timeline.settings
    assert counted_from(settings, listener_of(settings)) == said
    fact = {one.label: one.value for one in head_of(settings).facts}["Capo"]
    assert ("only" in fact) == (said == COUNTED)


def test_a_shape_is_said_with_the_numbers_of_the_lesson():
    """Fret 2 of string 5 and fret 2 of string 4 lie at fret 4 of the neck, fret 1 of string 3 at fret 3."""
    assert shapes()["home"][0] == (
        "The index finger is on string 3, fret 1; "
        "the middle and ring fingers are on strings 5 and 4, fret 2."
    )


def test_places_side_by_side_that_have_other_numbers_are_said_one_by_one():
    """At fret 4 of the neck: fret 4 of string 6, which the capo leaves out, and fret 2 of strings 5 and 4."""
    assert shapes()["across"][0] == (
        "The index finger is on string 6, fret 4; "
        "the middle and ring fingers are on strings 5 and 4, fret 2."
    )


def test_a_barre_over_strings_with_other_numbers_says_on_which_string():
    text = LESSON.replace("422000  fingers 123...", "422xxx  fingers 111...")
    assert shapes(text)["across"][0] == (
        "The index finger lies across strings 6 to 4 at fret 4 of string 6."
    )


def test_every_page_says_it():
    """Handout, wall card, words, script, drawn tab, and the plain diagrams, which count from the nut."""
    for sheet in ("handout", "wall-card"):
        page = page_of(reading_of(LESSON), HandoutOptions(sheet=sheet))
        assert page.count(COUNTED) == 2  # With the diagrams, and at the foot.
        assert "Frets are counted from the capo." not in page
        assert "a number beside one is counted from the nut" in page
    lesson = loads(LESSON, path="short.lesson")
    for to in ("words", "script", "drawn-tab"):
        text = re.sub(r"\s+", " ", re.sub("<[^>]*>", " ", export(lesson, to)[0].text))
        assert COUNTED in text, to


def test_a_diagram_that_is_heard_says_it_too():
    """Only where a finger stands on a string under the capo."""
    text = LESSON.replace("home | across", "home | open").replace(
        "  across", "  open   000000\n  across"
    )
    heard = re.findall(r"<desc[^>]*>([^<]*)</desc>", export(loads(text), "shapes")[0].text)
    said = "On strings 5, 4 and 3 frets are counted from the capo."
    assert [one.endswith(said) for one in heard if one.startswith("Shape")] == [True, False]


def test_plain_diagrams_show_the_neck_with_the_capo_where_it_lies():
    """The same picture as the drawn one: fingers at frets 3 and 4 of the neck."""
    text = export(loads(LESSON), "shapes-text")[0].text
    assert "= is where it lies, and frets are counted from the nut here." in " ".join(text.split())
    first = [line[:21].rstrip() for line in text.splitlines() if line[:2].strip().isdigit()]
    assert first == [
        " 1 |  |  |  |  |  |",
        " 2 |  =  =  =  |  |",
        " 3 |  |  |  1 (.)".replace(" (.)", "  |  |"),
        " 4 | (2) 3  |  |  |",
    ]


def test_a_change_from_afar_says_that_its_picture_counts_from_the_nut():
    """Fret 8 of string 4 lies at fret 10 of the neck."""
    text = LESSON.replace("  across 422000  fingers 123...", "  high   x08900  fingers ..12..")
    page = export(loads(text.replace("home | across", "high | home")), "changes")[0].text
    assert "from fret 10 of the neck" in page
    whole = text.replace("capo 2 on 5 4 3", "capo 2").replace("home | across", "high | home")
    assert "from fret 8<" in export(loads(whole), "changes")[0].text
