"""Hands what is played to music21, a library that analyses music."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fretloom.api.exporting import export, export_options, options_named
from fretloom.api.reading import Examined
from fretloom.errors import FretloomError
from fretloom.formats.options import FormatOptions
from fretloom.notation.model.lesson import Lesson

if TYPE_CHECKING:
    from music21.stream import Score

    from fretloom.formats.musicxml.options import ScoreOptions


def to_music21(
    lesson: Lesson | Examined, options: ScoreOptions | None = None, *, despite_errors: bool = False
) -> Score:
    """Return what is played as a score of music21, at sounding pitch.

    It is read from the MusicXML of the lesson, so it holds what music21 reads of that: notes with
    their fingers, strings and frets, chord symbols, keys, words and signs; not the diagrams, nor
    the letters of the plucking hand.

    Args:
        lesson: what to hand on.
        options: how the score is written; without any it is notation alone, every bar as it is played.
        despite_errors: as for `export`.

    Raises:
        FretloomError: music21 is not installed, or the lesson cannot be exported (see `export`).
    """
    wanted = _as_played() if options is None else options
    data = export(lesson, "musicxml", wanted, despite_errors=despite_errors)[0].data
    try:
        from music21 import converter, stream
    except ImportError:
        raise FretloomError(
            "music21 is not installed: install it with pip install 'fretloom[music21]'"
        ) from None
    read = converter.parseData(data, format="musicxml").toSoundingPitch()
    assert isinstance(read, stream.Score)
    return read


def _as_played() -> FormatOptions:
    """Return options for a score that another program counts and does not print."""
    known = {one.name for one in export_options()}
    wanted = {"layout": "notation", "form": "played"}
    return options_named("musicxml", {name: wanted[name] for name in wanted if name in known})
