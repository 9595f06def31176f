"""Writes the head of a score and the attributes of its first bar.

MusicXML 4.0 `work`, `identification`, `part-list`, `attributes`, `print`.
"""

from __future__ import annotations

from collections.abc import Sequence

from fretloom.formats.musicxml.front.credits import Front, write_front
from fretloom.formats.musicxml.planning.page import Clef, Page
from fretloom.formats.musicxml.planning.staves import Staff
from fretloom.formats.xml import Element
from fretloom.performance.events import Settings
from fretloom.trade.guitar.instruments import find_instrument
from fretloom.trade.music.meter import Meter
from fretloom.version import VERSION

#: Words in the name of the tuning or the instrument, the part's name and the General MIDI program (1-based, as
#: MusicXML counts: 25 nylon, 26 steel guitar; General MIDI Level 1 sound set).
_INSTRUMENTS = (
    ("ukulele", "Ukulele", 25), ("bass", "Bass guitar", 33), ("banjo", "Banjo", 106),
    ("nylon", "Guitar", 25), ("classical", "Guitar", 25), ("electric", "Guitar", 28),
    ("steel", "Guitar", 26), ("guitar", "Guitar", 26),
)  # fmt: skip


def head_of(
    settings: Settings, encoding_date: str | None, parts: Sequence[str], front: Front
) -> Sequence[Element | str]:
    """Return all elements before the first part; `parts` are the ids of the parts."""
    score = Element("score-partwise")
    if settings.title:
        score.add("work").add("work-title", text=settings.title)
    identification = score.add("identification")
    if settings.by:
        identification.add("creator", {"type": "composer"}, text=settings.by)
    if settings.rights:
        identification.add("rights", text=settings.rights)
    encoding = identification.add("encoding")
    encoding.add("software", text=f"fretloom {VERSION}")
    if encoding_date is not None:
        encoding.add("encoding-date", text=encoding_date)
    for element in ("accidental", "beam", "stem"):
        encoding.add("supports", {"element": element, "type": "yes"})
    write_front(score, front)
    part_list = score.add("part-list")
    if len(parts) > 1:
        _group(part_list, "start")
    for number, part in enumerate(parts):
        _part(part_list, part, settings, number)
    if len(parts) > 1:
        _group(part_list, "stop")
    return score.children


def _group(part_list: Element, end: str) -> None:
    """Join the staves of both parts, which are one player's, by their bar lines."""
    group = part_list.add("part-group", {"type": end, "number": "1"})
    if end == "start":
        group.add("group-symbol", text="none")
        group.add("group-barline", text="yes")


def _part(part_list: Element, part: str, settings: Settings, number: int) -> None:
    instrument = settings.instrument
    kind = find_instrument(instrument)
    words = f"{settings.tuning.name} {instrument} {kind.name if kind else ''}".lower()
    known = next((row for row in _INSTRUMENTS if row[0] in words), None)
    name, program = known[1:] if known else (instrument.capitalize() or "Guitar", 26)
    score_part = part_list.add("score-part", {"id": part})
    # One player: nobody has to be told beside the staff who plays.
    said = name if number == 0 else f"{name} tablature"
    score_part.add("part-name", {"print-object": "no"}, text=said)
    sound = f"{part}-I1"
    score_instrument = score_part.add("score-instrument", {"id": sound})
    score_instrument.add("instrument-name", text=instrument.capitalize() or name)
    midi = score_part.add("midi-instrument", {"id": sound})
    midi.add("midi-channel", text=str(number + 1))
    midi.add("midi-program", text=str(program))


def write_first_attributes(
    measure: Element, staves: Sequence[Staff], page: Page, meter: Meter, divisions: int
) -> None:
    """Write the `attributes` of the first bar of a part with these staves."""
    attributes = measure.add("attributes")
    attributes.add("divisions", text=str(divisions))
    key = attributes.add("key")
    key.add("fifths", text=str(page.fifths))
    if page.key is not None:
        key.add("mode", text=page.key.mode)
    write_time(attributes, staves, meter)
    if len(staves) > 1:
        attributes.add("staves", text=str(len(staves)))
        attributes.add("part-symbol", text="none")
    for staff in staves:
        clef = Clef("TAB", 5) if staff.tab else page.clef
        _clef(attributes, clef, staff.number)
    for staff in staves:
        if staff.tab:
            _tablature(attributes, page, staff.number)
    _transpose(attributes, page)


def write_first_print(measure: Element, page: Page) -> None:
    """Write where the first staff stands, below the words of the head, and that each line has a bar number."""
    layout = measure.add("print")
    system = layout.add("system-layout")
    margins = system.add("system-margins")
    margins.add("left-margin", text="0")
    margins.add("right-margin", text="0")
    system.add("top-system-distance", text=str(page.top))
    layout.add("measure-numbering", text="system")


def write_time(attributes: Element, staves: Sequence[Staff], meter: Meter) -> None:
    """Write a time signature on each staff, hidden on tablature under notation."""
    for staff in staves:
        numbered = {"number": staff.number} if staff.number else {}
        time = attributes.add("time", numbered)
        if staff.digits:
            time.set("print-object", "no")
        time.add("beats", text="+".join(map(str, meter.groups)))
        time.add("beat-type", text=str(meter.unit))


def _clef(attributes: Element, clef: Clef, number: str) -> None:
    element = attributes.add("clef", {"number": number} if number else {})
    element.add("sign", text=clef.sign)
    element.add("line", text=str(clef.line))
    if clef.octaves:
        element.add("clef-octave-change", text=str(clef.octaves))


def _tablature(attributes: Element, page: Page, number: str) -> None:
    """Write the tuning: line 1 is the bottom one, the string with the highest number."""
    details = attributes.add("staff-details", {"number": number} if number else {})
    if number:
        details.add("staff-type", text="alternate")
    details.add("staff-lines", text=str(page.strings))
    for line, pitch in enumerate(page.tuning, start=1):
        tuning = details.add("staff-tuning", {"line": str(line)})
        tuning.add("tuning-step", text=pitch.step)
        if pitch.alter:
            tuning.add("tuning-alter", text=str(pitch.alter))
        tuning.add("tuning-octave", text=str(pitch.octave))
    if page.capo:
        details.add("capo", text=str(page.capo))


def _transpose(attributes: Element, page: Page) -> None:
    move = page.transposition
    if move is None:
        return
    transpose = attributes.add("transpose")
    transpose.add("diatonic", text=str(move.diatonic))
    transpose.add("chromatic", text=str(move.chromatic))
    if move.octaves:
        transpose.add("octave-change", text=str(move.octaves))
