"""Findings as values: when they are the same, where they are, and how they are known again."""

from __future__ import annotations

import copy
import pickle

import pytest

import fretloom
from fretloom.diagnostics import Diagnostic

TUNE = """lesson "Two cups"
  meter 4/4

voicings
  C   x32010  fingers .32.1.  bass 5 4 5 4

patterns
  plain  p , p m , p i , p m

section verse  using plain
  C | C { p , p m } | C | C { p , p m }

section chorus  using plain
  C | C { p , p m }
"""


def found_in(text: str) -> list[Diagnostic]:
    return fretloom.check(fretloom.loads(text))


def fingerprints(text: str) -> list[str]:
    return [one.fingerprint for one in found_in(text)]


def test_findings_of_two_readings_are_equal() -> None:
    """They say the same about the same place of the same text."""
    one, other = found_in(TUNE), found_in(TUNE)
    assert one == other
    assert set(one) == set(other)
    assert one[0] != one[1]


def test_findings_about_another_text_are_not_equal() -> None:
    """The same words at the same place of another text are about something else."""
    assert found_in(TUNE)[0] != found_in(TUNE.replace("cups", "mugs"))[0]


@pytest.mark.parametrize(
    "made_again", [copy.copy, copy.deepcopy, lambda one: pickle.loads(pickle.dumps(one))]
)
def test_a_finding_can_be_copied_and_sent(made_again: object) -> None:
    """It arrives with its place, its text and its fingerprint."""
    for found in found_in(TUNE):
        again = made_again(found)  # type: ignore[operator]
        assert again == found
        assert again.fingerprint == found.fingerprint
        assert again.span.text == found.span.text


def test_a_place_is_given_in_lines_and_as_editors_count() -> None:
    """Code points from 1, and UTF-16 units from 0, in which 𝄞 counts twice (Unicode 15, UTF-16)."""
    verse = 'section verse  using plain\n  "𝄞" C | Dm\n'
    (found,) = found_in(TUNE.partition("section verse")[0] + verse)
    span = found.span
    assert (span.line, span.column, span.end_line, span.end_column) == (11, 11, 11, 13)
    assert span.utf16 == ((10, 11), (10, 13))


def test_fingerprints_tell_findings_apart() -> None:
    """Two alike in one block, and one in another block, are three."""
    assert len(set(fingerprints(TUNE))) == 3


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('lesson "Two cups"', '# written in spring\n\nlesson "Three cups"'),
        ("voicings\n", "voicings\n  Am  x02210  fingers ..231.  bass 5 4  # new\n"),
        ("  C | C { p , p m } |", "  C\n  C {  p , p   m }\n "),
        ("section verse  using plain", 'section verse  using plain  "Verse"'),
        ("\n", "\r\n"),
        ("\n", "\r"),
    ],
)
def test_a_fingerprint_outlives_edits_around_it(old: str, new: str) -> None:
    """Neither lines above nor beside it change it."""
    assert set(fingerprints(TUNE)) <= set(fingerprints(TUNE.replace(old, new)))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("section chorus", "section bridge"),
        ("plain\n  C | C { p , p m }\n", "plain\n  C | C { p , p i }\n"),
    ],
)
def test_a_fingerprint_changes_with_what_it_is_about(old: str, new: str) -> None:
    """Another block or another chord is another finding."""
    before, after = fingerprints(TUNE), fingerprints(TUNE.replace(old, new))
    assert before[:2] == after[:2]
    assert before[2] != after[2]


def test_a_finding_before_the_first_block_has_a_fingerprint() -> None:
    """An empty text is a finding too."""
    (found,) = found_in("")
    assert (found.span.block_opening, len(found.fingerprint)) == ("", 16)
