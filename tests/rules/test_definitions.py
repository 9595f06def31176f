"""A name that nobody has given, shown where the thing was given under another one."""

from __future__ import annotations

import pytest
from rule_lessons import findings, lesson

from fretloom.edits import apply_edits


@pytest.mark.parametrize("name", ["CM", "Cmaj", "Cmajor"])
def test_a_chord_in_other_letters_is_mended_where_it_is_given(name: str) -> None:
    """One finding on the voicing's line, with the bars that use it."""
    text = lesson(voicings=f"voicings\n  {name}  x32010  fingers .32.1.\n")
    (found,) = findings(text)
    assert (found.rule, found.span.line, found.span.text) == ("unknown-voicing", 5, name)
    assert [place.span.line for place in found.related] == [11, 11]
    assert findings(apply_edits(text, found.edits)) == []


def test_a_chord_that_is_another_one_is_not_meant() -> None:
    """C7 may be a voicing that is missing."""
    found = findings(lesson(voicings="voicings\n  C7  x32310  fingers .3241.\n"))
    assert [(one.rule, one.span.line) for one in found] == [("unknown-voicing", 11)]


def test_what_is_given_under_a_like_name_is_shown() -> None:
    """Either end may be misspelt: the finding stays where the name is used."""
    (found,) = findings(lesson(patterns="patterns\n  plane  p , p m , p i , p m\n"))
    assert (found.rule, found.span.line) == ("unknown-pattern", 10)
    assert [(one.message, one.span.line) for one in found.related] == [
        ("the pattern plane is given here", 8)
    ]


def test_voicings_for_another_number_of_strings_are_one_finding() -> None:
    """The tuning is what is wrong."""
    voicings = "voicings\n  C  0003\n  G  0232\n"
    (found,) = findings(lesson(voicings=voicings, section="section tune  using plain\n  C | G\n"))
    assert (found.rule, found.span.line) == ("wrong-places", 1)
    assert found.message == "all voicings have 4 frets, but the tuning has 6 strings"
