"""Writes how fast and how loud a bar is (MusicXML 4.0 `metronome`, `sound`, `dynamics`, `wedge`)."""

from __future__ import annotations

from fretloom.formats.musicxml.elements.directions import (
    decimal,
    write_dynamic,
    write_tempo,
    write_wedge,
    write_words,
)
from fretloom.formats.musicxml.planning.pace import BarPace
from fretloom.formats.musicxml.planning.swinging import Swung
from fretloom.formats.xml import Element


def begin(measure: Element, staff: str, pace: BarPace, swing: Swung | None = None) -> None:
    """Write what stands at the start of a bar; `swing` if the piece begins with it."""
    if pace.back:
        write_words(measure, staff, "a tempo", italic=True)
    if pace.tempo is not None:
        write_tempo(measure, staff, pace.tempo, swing)
    for words in pace.words:
        write_words(measure, staff, words, italic=True)
    if pace.heard is not None:
        measure.add("sound", {"tempo": decimal(pace.heard.quarters_per_minute)})
    if pace.dynamic:
        write_dynamic(measure, staff, pace.dynamic)
    if pace.swell:
        write_wedge(measure, staff, pace.swell)


def end(measure: Element, staff: str, pace: BarPace) -> None:
    """Write what stands at the end of a bar, behind its notes."""
    if pace.swell_ends:
        write_wedge(measure, staff, "stop")
    if pace.dynamic_after:
        write_dynamic(measure, staff, pace.dynamic_after)
