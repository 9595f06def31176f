"""Writes words and tempo over the staff (MusicXML 4.0 `direction`).

Imports lxml: import this module inside functions only.
"""

from __future__ import annotations

from fractions import Fraction
from math import gcd

from lxml.etree import SubElement, _Element

from fretloom.engraving.values import value_of
from fretloom.trade.music.tempo import Tempo


def _direction(
    measure: _Element, staff: str, placement: str = "above"
) -> tuple[_Element, _Element]:
    direction = SubElement(measure, "direction", {"placement": placement})
    kind = SubElement(direction, "direction-type")
    if staff:
        SubElement(direction, "staff").text = staff
    return direction, kind


def write_rehearsal(measure: _Element, staff: str, text: str) -> None:
    """Write the name of a section."""
    _, kind = _direction(measure, staff)
    SubElement(kind, "rehearsal").text = text


def write_words(
    measure: _Element, staff: str, text: str, *, italic: bool = False, placement: str = "above"
) -> None:
    """Write free text, such as a cue or the capo."""
    _, kind = _direction(measure, staff, placement)
    SubElement(kind, "words", {"font-style": "italic"} if italic else {}).text = text


def write_tempo(measure: _Element, staff: str, tempo: Tempo) -> None:
    """Write a metronome mark with its sound; a unit without a note value of its own is written in quarter notes."""
    value = value_of(tempo.unit)
    name, dots = value or ("quarter", 0)
    number = tempo.per_minute if value else tempo.quarters_per_minute
    direction, kind = _direction(measure, staff)
    metronome = SubElement(kind, "metronome")
    SubElement(metronome, "beat-unit").text = name
    for _ in range(dots):
        SubElement(metronome, "beat-unit-dot")
    SubElement(metronome, "per-minute").text = decimal(number)
    SubElement(direction, "sound", {"tempo": decimal(tempo.quarters_per_minute)})


def write_swing(measure: _Element, staff: str, swing: tuple[int, int]) -> None:
    """Write that eighths are swung; their written lengths stay even."""
    common = gcd(*swing)
    direction, kind = _direction(measure, staff)
    SubElement(kind, "words").text = "Swing"
    element = SubElement(SubElement(direction, "sound"), "swing")
    SubElement(element, "first").text = str(swing[0] // common)
    SubElement(element, "second").text = str(swing[1] // common)
    SubElement(element, "swing-type").text = "eighth"


def decimal(number: Fraction) -> str:
    """Return a number as XML decimal text: `92`, `66.5`, or rounded to three places."""
    text = f"{float(number):.3f}".rstrip("0").rstrip(".")
    return text or "0"
