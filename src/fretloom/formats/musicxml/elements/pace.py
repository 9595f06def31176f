"""Writes how fast and how loud a bar is (MusicXML 4.0 `metronome`, `sound`, `dynamics`, `wedge`)."""

from __future__ import annotations

from typing import Literal

from fretloom.formats.musicxml.elements.directions import (
    decimal,
    end_dashes,
    write_dynamic,
    write_tempo,
    write_wedge,
    write_words,
)
from fretloom.formats.musicxml.planning.pace import CHANGES, BarPace
from fretloom.formats.musicxml.planning.swinging import Swung
from fretloom.formats.xml import Element
from fretloom.trade.music.meter import Meter

#: Where loudness stands.
Loudness = Literal["above", "below"]


def begin(
    measure: Element,
    staff: str,
    pace: BarPace,
    loudness: Loudness,
    meter: Meter,
    swing: Swung | None = None,
) -> None:
    """Write what stands at the start of a bar; `swing` if the piece begins with it."""
    if pace.back:
        write_words(measure, staff, "a tempo", italic=True)
    if pace.tempo is not None:
        write_tempo(measure, staff, pace.tempo, meter, swing)
    for words in pace.words:
        dashes = pace.line and words in CHANGES
        write_words(measure, staff, words, italic=True, dashes=dashes)
    if pace.heard is not None:
        measure.add("sound", {"tempo": decimal(pace.heard.quarters_per_minute)})
    if pace.dynamic:
        write_dynamic(measure, staff, pace.dynamic, loudness)
    if pace.swell:
        write_wedge(measure, staff, pace.swell, loudness)


def end(measure: Element, staff: str, pace: BarPace, loudness: Loudness) -> None:
    """Write what stands at the end of a bar, behind its notes."""
    if pace.line_ends:
        end_dashes(measure, staff)
    if pace.swell_ends:
        write_wedge(measure, staff, "stop", loudness)
    if pace.dynamic_after:
        write_dynamic(measure, staff, pace.dynamic_after, loudness)
