"""Writes the head of a score and the attributes of its first bar.

MusicXML 4.0 `work`, `identification`, `part-list`, `attributes`. Imports lxml: import this module
inside functions only.
"""

from __future__ import annotations

from collections.abc import Sequence
from importlib.metadata import PackageNotFoundError, version

from lxml.etree import Element, SubElement, _Element

from fretloom.formats.musicxml.planning.page import Clef, Page
from fretloom.formats.musicxml.planning.staves import Staff
from fretloom.performance.events import Settings
from fretloom.trade.music.meter import Meter

#: Words in the name of the tuning or the instrument, the part's name and the General MIDI program (1-based, as
#: MusicXML counts: 25 nylon, 26 steel guitar; General MIDI Level 1 sound set).
_INSTRUMENTS = (
    ("ukulele", "Ukulele", 25), ("bass", "Bass guitar", 33), ("banjo", "Banjo", 106),
    ("nylon", "Guitar", 25), ("classical", "Guitar", 25), ("electric", "Guitar", 28),
    ("steel", "Guitar", 26), ("guitar", "Guitar", 26),
)  # fmt: skip


def head_of(settings: Settings, encoding_date: str | None, parts: Sequence[str]) -> list[_Element]:
    """Return all elements before the first part; `parts` are the ids of the parts."""
    score = Element("score-partwise")
    if settings.title:
        SubElement(SubElement(score, "work"), "work-title").text = settings.title
    identification = SubElement(score, "identification")
    if settings.by:
        SubElement(identification, "creator", {"type": "composer"}).text = settings.by
    if settings.rights:
        SubElement(identification, "rights").text = settings.rights
    encoding = SubElement(identification, "encoding")
    SubElement(encoding, "software").text = _software()
    if encoding_date is not None:
        SubElement(encoding, "encoding-date").text = encoding_date
    for element in ("accidental", "beam", "stem"):
        SubElement(encoding, "supports", {"element": element, "type": "yes"})
    part_list = SubElement(score, "part-list")
    for number, part in enumerate(parts):
        _part(part_list, part, settings, number)
    return list(score)


def _software() -> str:
    try:
        return f"fretloom {version('fretloom')}"
    except PackageNotFoundError:
        return "fretloom"


def _part(part_list: _Element, part: str, settings: Settings, number: int) -> None:
    instrument = settings.instrument
    words = f"{settings.tuning.name} {instrument}".lower()
    known = next((row for row in _INSTRUMENTS if row[0] in words), None)
    name, program = known[1:] if known else (instrument.capitalize() or "Guitar", 26)
    score_part = SubElement(part_list, "score-part", {"id": part})
    SubElement(score_part, "part-name").text = name if number == 0 else f"{name} tablature"
    sound = f"{part}-I1"
    score_instrument = SubElement(score_part, "score-instrument", {"id": sound})
    SubElement(score_instrument, "instrument-name").text = instrument.capitalize() or name
    midi = SubElement(score_part, "midi-instrument", {"id": sound})
    SubElement(midi, "midi-channel").text = str(number + 1)
    SubElement(midi, "midi-program").text = str(program)


def write_first_attributes(
    measure: _Element, staves: Sequence[Staff], page: Page, meter: Meter, divisions: int
) -> None:
    """Write the `attributes` of the first bar of a part with these staves."""
    attributes = SubElement(measure, "attributes")
    SubElement(attributes, "divisions").text = str(divisions)
    key = SubElement(attributes, "key")
    SubElement(key, "fifths").text = str(page.fifths)
    if page.key is not None:
        SubElement(key, "mode").text = page.key.mode
    write_time(attributes, staves, meter)
    if len(staves) > 1:
        SubElement(attributes, "staves").text = str(len(staves))
        SubElement(attributes, "part-symbol").text = "none"
    for staff in staves:
        clef = Clef("TAB", 5) if staff.tab else page.clef
        _clef(attributes, clef, staff.number)
    for staff in staves:
        if staff.tab:
            _tablature(attributes, page, staff.number)
    _transpose(attributes, page)


def write_time(attributes: _Element, staves: Sequence[Staff], meter: Meter) -> None:
    """Write a time signature on each staff, hidden on a tablature under notation."""
    for staff in staves:
        numbered = {"number": staff.number} if staff.number else {}
        time = SubElement(attributes, "time", numbered)
        if staff.tab and staff.number:
            time.set("print-object", "no")
        SubElement(time, "beats").text = "+".join(map(str, meter.groups))
        SubElement(time, "beat-type").text = str(meter.unit)


def _clef(attributes: _Element, clef: Clef, number: str) -> None:
    element = SubElement(attributes, "clef", {"number": number} if number else {})
    SubElement(element, "sign").text = clef.sign
    SubElement(element, "line").text = str(clef.line)
    if clef.octaves:
        SubElement(element, "clef-octave-change").text = str(clef.octaves)


def _tablature(attributes: _Element, page: Page, number: str) -> None:
    """Write the tuning: line 1 is the bottom one, the string with the highest number."""
    details = SubElement(attributes, "staff-details", {"number": number} if number else {})
    if number:
        SubElement(details, "staff-type").text = "alternate"
    SubElement(details, "staff-lines").text = str(page.strings)
    for line, pitch in enumerate(page.tuning, start=1):
        tuning = SubElement(details, "staff-tuning", {"line": str(line)})
        SubElement(tuning, "tuning-step").text = pitch.step
        if pitch.alter:
            SubElement(tuning, "tuning-alter").text = str(pitch.alter)
        SubElement(tuning, "tuning-octave").text = str(pitch.octave)
    if page.capo:
        SubElement(details, "capo").text = str(page.capo)


def _transpose(attributes: _Element, page: Page) -> None:
    move = page.transposition
    if move is None:
        return
    transpose = SubElement(attributes, "transpose")
    SubElement(transpose, "diatonic").text = str(move.diatonic)
    SubElement(transpose, "chromatic").text = str(move.chromatic)
    if move.octaves:
        SubElement(transpose, "octave-change").text = str(move.octaves)
