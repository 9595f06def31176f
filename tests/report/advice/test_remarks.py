"""Remarks on a lesson in another key, in words, and which of them a ranking of capos shows."""

from __future__ import annotations

import pytest

from fretloom.api import as_data, as_text, loads, suggest_capos
from fretloom.arranging.remarks import (
    CommonShapeTaken,
    FretNamed,
    LineLost,
    NamedInWords,
    NutBarred,
    Remark,
)
from fretloom.notation.model.walking.places import WrittenPlace
from fretloom.report.advice.remarks import remark_text
from fretloom.trade.guitar.voicing import Hop, Voicing

D = Voicing(name="D", symbol="D", frets=(None, None, 0, 2, 3, 2))
HOP = Hop(finger="2", string=6, fret=2)


@pytest.mark.parametrize(
    ("remark", "text"),
    [
        (
            CommonShapeTaken("E", D),
            "E becomes D xx0232: its fingers and bass order are new",
        ),
        (
            CommonShapeTaken("E", D, (HOP,)),
            "E becomes D xx0232: its fingers and bass order are new, and its hop is left out",
        ),
        (
            NutBarred("E", D, 10, (HOP, HOP)),
            "E becomes D with a barre at fret 10: look for an easier shape, "
            "and its hops are left out",
        ),
        (
            FretNamed(WrittenPlace("section", "verse", short="pickup")),
            "the pickup of verse names a fret that was not moved: check what to play there",
        ),
        (
            NamedInWords(WrittenPlace("step", "One"), ("E", "fret 3")),
            "the step One speaks of E and fret 3: say it anew for the new shapes",
        ),
        (
            LineLost("Em", "Em/D"),
            "from Em to Em/D a note went on by steps, and does not any more: look for other shapes",
        ),
    ],
)
def test_remarks_in_words(remark: Remark, text: str) -> None:
    """One sentence each, with the names of the lesson."""
    assert remark_text(remark) == text


def test_a_ranking_shows_only_barres_in_the_nuts_place() -> None:
    """The new voicings stand in the ranking itself; programs get every remark."""
    text = """lesson "Two cups"
  plays in C

voicings
  C     x32010
  walk  x2x01x

patterns
  plain  p , - , - , -

section t  using plain
  C | walk
"""
    choices = suggest_capos(loads(text))
    shown = as_text(choices)
    assert "note: walk becomes walk with a barre at fret" in shown
    assert "note: C becomes" not in shown
    data = as_data(choices)["choices"]
    remarks = [remark["message"] for choice in data for remark in choice["remarks"]]
    assert "C becomes G 320003: its fingers and bass order are new" in remarks
