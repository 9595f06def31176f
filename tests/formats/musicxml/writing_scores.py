"""Writes timelines that were built by hand, with options by name.

Every bar is written as it is played, so that a file can be compared with what is played bar by bar;
that a folded score says the same is another law (`test_musicxml_folding.py`).
"""

from __future__ import annotations

from fretloom.formats.musicxml.mxl import pack
from fretloom.formats.musicxml.options import ScoreOptions
from fretloom.formats.musicxml.score import score_of
from fretloom.formats.shape import LeftOut
from fretloom.performance.events import Timeline


def to_musicxml(timeline: Timeline, **options: object) -> bytes:
    """Return the score, with every bar in performing order unless another form is asked for."""
    return score_of(timeline, ScoreOptions(**{"form": "played"} | options))[0]  # type: ignore[arg-type]


def to_mxl(timeline: Timeline, **options: object) -> bytes:
    """Return the score, packed."""
    return pack(to_musicxml(timeline, **options))


def left_out_of(timeline: Timeline, **options: object) -> tuple[LeftOut, ...]:
    """Return what the score leaves out."""
    return score_of(timeline, ScoreOptions(**{"form": "played"} | options))[1]  # type: ignore[arg-type]
