"""What a lesson holds beside its music: each format tells what its files do not have of it."""

from __future__ import annotations

import pytest
from reading_through import reading_of

from fretloom.formats.shape import in_words
from fretloom.formats.table import FORMATS

LESSON = """\
# For the Tuesday group.
lesson "Two Gates"
  instrument classical
  level beginner

voicings
  D  xx0232
  A  x02220  # loosely held

patterns
  plain "Even steps"  p , m , p , m
  other  p , i , p , i

section verse using plain "Gate"
  D

section coda using plain
  D

form
  verse

step "Slowly"
  show form
step "Faster"
  show form
"""
NAMES = ("the voicing A, which no bar takes", "the pattern other, which no bar has")
CODA = "the section coda, which the form does not play"


@pytest.mark.parametrize(
    ("name", "options", "told"),
    [
        (
            "tab", {},
            ("2 comments, which are not part of a tab", "from the heading: instrument and level",
             *NAMES, "the titles of patterns"),
        ),
        (
            "tab", {"unrolled": True},
            ("2 comments, which are not part of a tab", "from the heading: instrument and level",
             *NAMES, CODA, "the titles of patterns"),
        ),
        (
            "musicxml", {},
            ("2 steps and 2 comments, which are not part of a notation file", "from the heading: level", *NAMES, CODA),
        ),
        (
            "mxl", {},
            ("2 steps and 2 comments, which are not part of a notation file", "from the heading: level", *NAMES, CODA),
        ),
        (
            "svg", {},
            ("2 steps and 2 comments, which are not part of a picture", "from the heading: level", *NAMES, CODA),
        ),
        (
            "midi", {},
            ("2 steps and 2 comments, which are not part of a MIDI file", "from the heading: level",
             *NAMES, CODA, "the titles of patterns"),
        ),
        (
            "wav", {},
            ("2 steps and 2 comments, which are not part of a recording", "from the heading: level",
             *NAMES, CODA, "the titles of patterns", "the titles of sections"),
        ),
        (
            "json", {},
            ("2 steps and 2 comments, which are not part of what is played", "from the heading: instrument and level",
             *NAMES, CODA, "the titles of patterns", "the titles of sections"),
        ),
    ],
)  # fmt: skip
def test_each_format_tells_what_it_has_no_place_for(
    name: str, options: dict[str, object], told: tuple[str, ...]
) -> None:
    """Once a file, in plain words."""
    form = FORMATS[name]
    outputs = form.write(reading_of(LESSON), form.chosen(options))
    assert in_words(one for output in outputs for one in output.left_out) == told


@pytest.mark.parametrize("name", ["tab", "musicxml", "midi", "wav", "json"])
def test_a_lesson_of_music_alone_leaves_nothing_out(name: str) -> None:
    """No line on the terminal without a reason."""
    plain = 'lesson "Gate"\nvoicings\n  D  xx0232\nsection verse\n  D { p , m , p , m }\n'
    form = FORMATS[name]
    assert [one.left_out for one in form.write(reading_of(plain), form.chosen({}))] == [()]
