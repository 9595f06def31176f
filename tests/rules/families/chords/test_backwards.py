"""Frets and tunings written from string 1 on; common practice lists the lowest string first, no source."""

from __future__ import annotations

import pytest
from rule_lessons import findings, lesson

from fretloom.edits import apply_edits

SHAPES = {"C": "x32010", "G": "320003", "D": "xx0232", "Am": "x02210"}
SECTION = "section tune  using plain\n  C G | D Am\n"
HEAD = 'lesson "Two cups"\n  tuning {}\n'


def _voicings(*turned: str) -> str:
    lines = [
        f"  {name}  {frets[::-1] if name in turned else frets}" for name, frets in SHAPES.items()
    ]
    return "voicings\n" + "\n".join(lines) + "\n"


@pytest.mark.parametrize("turned", [("C",), ("C", "Am"), ("C", "D", "Am")])
def test_frets_the_other_way_round(turned: tuple[str, ...]) -> None:
    """One finding at the first, however many there are, and its edits turn them all."""
    text = lesson(voicings=_voicings(*turned), section=SECTION)
    (found,) = findings(text)
    assert (found.rule, found.span.text) == ("name-does-not-sound", "01023x")
    assert "only the other way round" in found.message
    assert apply_edits(text, found.edits) == lesson(voicings=_voicings(), section=SECTION)


def test_frets_that_are_wrong_both_ways_are_only_wrong() -> None:
    """A shape of another chord is not turned."""
    (found,) = findings(lesson(voicings="voicings\n  C  xx0232  fingers ...132\n"))
    assert "the other way round" not in found.message


@pytest.mark.parametrize(
    ("tuning", "meant"),
    [("E4 B3 G3 D3 A2 E2", "E2 A2 D3 G3 B3 E4"), ("DADGAD", "standard"), ("open G", "standard")],
)
def test_a_tuning_in_which_nothing_sounds_its_name(tuning: str, meant: str) -> None:
    """One finding on its line, with the tuning in which all names are right."""
    text = lesson(head=HEAD.format(tuning), voicings=_voicings(), section=SECTION)
    (found,) = findings(text)
    assert (found.rule, found.span.text) == ("name-does-not-sound", tuning)
    assert [edit.text for edit in found.edits] == [meant]
    assert findings(apply_edits(text, found.edits)) == []


def test_a_tuning_that_is_forgotten() -> None:
    """The finding stands at the heading."""
    shapes = (
        "voicings\n  D5  000200\n  G  5x0450\n  A7sus4  x02200\n  Dsus4  000000\n  A5  x02x00\n"
    )
    text = lesson(voicings=shapes, section="section tune  using plain\n  D5 G | A7sus4 Dsus4\n")
    found = [one for one in findings(text) if one.span.line == 1]
    assert all("in DADGAD all do" in one.message for one in found)
