"""Writes words and tempo over the staff (MusicXML 4.0 `direction`)."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from fretloom.engraving.values import value_of
from fretloom.formats.musicxml.planning.swinging import Swung
from fretloom.formats.xml import Element
from fretloom.trade.music.loudness import Dynamic
from fretloom.trade.music.meter import Meter
from fretloom.trade.music.tempo import Tempo, in_beats


def _direction(measure: Element, staff: str, placement: str = "above") -> tuple[Element, Element]:
    direction = measure.add("direction", {"placement": placement})
    kind = direction.add("direction-type")
    if staff:
        direction.add("staff", text=staff)
    return direction, kind


def write_rehearsal(measure: Element, staff: str, text: str) -> None:
    """Write the name of a section."""
    _, kind = _direction(measure, staff)
    kind.add("rehearsal", text=text)


def write_words(
    measure: Element,
    staff: str,
    text: str,
    *,
    italic: bool = False,
    placement: str = "above",
    dashes: bool = False,
) -> None:
    """Write free text, such as a cue or the capo; dashes behind it go on until they are ended."""
    direction = measure.add("direction", {"placement": placement})
    kind = direction.add("direction-type")
    kind.add("words", {"font-style": "italic"} if italic else {}, text=text)
    if dashes:
        direction.add("direction-type").add("dashes", {"type": "start", "number": "1"})
    if staff:
        direction.add("staff", text=staff)


def write_sign(measure: Element, staff: str, sound: dict[str, str], sign: str) -> None:
    """Write a sign to which the way leads, a `segno` or `coda`, and that programs find it there."""
    direction, kind = _direction(measure, staff)
    kind.add(sign)
    direction.add("sound", sound)


def write_way(
    measure: Element, staff: str, sound: dict[str, str], words: str, symbol: str = ""
) -> None:
    """Write words that say where the way leads, perhaps with the sign it leads to, and what a program does there."""
    direction, kind = _direction(measure, staff)
    # They end with the bar line, so that nobody takes them for the next bar's.
    kind.add("words", {"font-weight": "bold", "halign": "right", "justify": "right"}, text=words)
    if symbol:
        # Only to be seen: a second `coda` would be taken for the place itself.
        kind.add("symbol", {"halign": "right"}, text=symbol)
    if sound:
        direction.add("sound", sound)


def write_dynamic(measure: Element, staff: str, dynamic: Dynamic, placement: str) -> None:
    """Write a degree of loudness."""
    _, kind = _direction(measure, staff, placement)
    kind.add("dynamics").add(dynamic)


def write_wedge(
    measure: Element, staff: str, kind: Literal["crescendo", "diminuendo", "stop"], placement: str
) -> None:
    """Write where a crescendo or diminuendo begins, or where it stops."""
    _, element = _direction(measure, staff, placement)
    element.add("wedge", {"type": kind})


def end_dashes(measure: Element, staff: str) -> None:
    """Write where the dashes behind words over the staff stop."""
    _, kind = _direction(measure, staff)
    kind.add("dashes", {"type": "stop", "number": "1"})


def write_tempo(
    measure: Element, staff: str, tempo: Tempo, meter: Meter, swing: Swung | None = None
) -> None:
    """Write a metronome mark with its sound; a unit without a note value of its own is written in quarter notes.

    `swing` is that of the piece where it begins: only for the ear, the head says it in words.
    """
    tempo = in_beats(tempo, meter)
    value = value_of(tempo.unit)
    name, dots = value or ("quarter", 0)
    number = tempo.per_minute if value else tempo.quarters_per_minute
    direction, kind = _direction(measure, staff)
    metronome = kind.add("metronome")
    metronome.add("beat-unit", text=name)
    for _ in range(dots):
        metronome.add("beat-unit-dot")
    metronome.add("per-minute", text=decimal(number))
    sound = direction.add("sound", {"tempo": decimal(tempo.quarters_per_minute)})
    if swing is not None:
        _swing(sound, swing)


def write_swing(measure: Element, staff: str, swing: Swung | None) -> None:
    """Write that notes are swung, or (None) straight; their written lengths stay even."""
    direction, kind = _direction(measure, staff)
    kind.add("words", text="Swing" if swing else "Straight")
    if swing is None:
        direction.add("sound").add("swing").add("straight")
    elif swing.note:
        _swing(direction.add("sound"), swing)


def _swing(sound: Element, swing: Swung) -> None:
    if swing.note:
        element = sound.add("swing")
        element.add("first", text=str(swing.first))
        element.add("second", text=str(swing.second))
        element.add("swing-type", text=swing.note)


def decimal(number: Fraction) -> str:
    """Return a number as XML decimal text: `92`, `66.5`, or rounded to three places."""
    text = f"{float(number):.3f}".rstrip("0").rstrip(".")
    return text or "0"
