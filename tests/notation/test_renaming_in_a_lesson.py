"""A lesson value in which something is called otherwise."""

from __future__ import annotations

import pytest
from lesson_pool import LESSONS, Made

import fretloom
from fretloom.errors import ModelError
from fretloom.model import Part, with_name
from fretloom.notation.model.walking.names import named

TEXT = """\
lesson "Tea"

voicings
  C     x32010
  C.up  like C  up 2  mute 3 2 1

patterns
  plain  p , p , p , p

section verse  using plain
  "C" C | C.up using plain

form
  verse

step "C"
  show pattern plain over C
"""


def test_a_name_is_changed_where_it_is_given_and_used() -> None:
    """And nowhere else."""
    lesson = fretloom.loads(TEXT)
    assert fretloom.dumps(with_name(lesson, "voicing", "C.up", "walk")) == fretloom.dumps(
        fretloom.loads(TEXT.replace("C.up", "walk"))
    )
    sections = with_name(
        with_name(lesson, "pattern", "plain", "verse"), "section", "verse", "plain"
    )
    assert [one.name for one in sections.sections] == ["plain"]
    assert fretloom.dumps(sections).count("plain") == 2
    assert fretloom.dumps(sections).count("verse") == 4


@pytest.mark.parametrize(
    ("kind", "old", "new", "said"),
    [
        ("voicing", "c", "D", "there is no voicing 'c'; there are: C, C.up"),
        ("pattern", "C", "D", "there is no pattern 'C'; there are: plain"),
        ("voicing", "C", "C.up", "there is a voicing 'C.up' already"),
        ("chord", "C", "D", "kind: one of voicing, pattern, section, not 'chord'"),
        ("voicing", "C", "with", r"Part\.voicing: \"with\" means something else in a bar"),
        ("section", "verse", "a b", r"FormEntry\.section|Section\.name"),
    ],
)
def test_what_cannot_be_is_refused(kind: str, old: str, new: str, said: str) -> None:
    """As by every function that changes a lesson."""
    with pytest.raises(ModelError, match=said):
        with_name(fretloom.loads(TEXT), kind, old, new)  # type: ignore[arg-type]
    with pytest.raises(TypeError, match="new is a str, not Part"):
        with_name(fretloom.loads(TEXT), "voicing", "C", Part(voicing="C"))  # type: ignore[arg-type]


@LESSONS.law()
def test_there_and_back_is_the_same_lesson(made: Made) -> None:
    """Of whatever kind, and with the comments."""
    for kind in ("voicing", "pattern", "section"):
        found = [one.name for one in named(made.read) if one.kind == kind]
        if found:
            there = with_name(made.read, kind, found[0], "zz")  # type: ignore[arg-type]
            assert there != made.read
            assert with_name(there, kind, "zz", found[0]) == made.read  # type: ignore[arg-type]
