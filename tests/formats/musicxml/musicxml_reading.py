"""Reads exported MusicXML back from its own tree, and with independent readers.

The tree reader follows the W3C reference (MusicXML 4.0, `backup`, `forward`, `duration`, `chord`)
and shares no code with the exporter.
"""

from __future__ import annotations

import importlib.metadata
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache
from typing import Any

import places
from lxml import etree

DATA = places.DATA / "xsd"
SEMITONES = dict(zip("CDEFGAB", (0, 2, 4, 5, 7, 9, 11), strict=True))
TYPES = {
    name: Fraction(32, 2**place)
    for place, name in enumerate(
        [
            "maxima",
            "long",
            "breve",
            "whole",
            "half",
            "quarter",
            "eighth",
            "16th",
            "32nd",
            "64th",
            "128th",
            "256th",
            "512th",
            "1024th",
        ]
    )
}


class _Local(etree.Resolver):
    def resolve(self, url: str, pubid: str, context: Any) -> Any:
        name = url.rsplit("/", 1)[-1]
        if name in ("xml.xsd", "xlink.xsd"):
            return self.resolve_filename(str(DATA / name), context)
        return None


@lru_cache(maxsize=1)
def schema() -> etree.XMLSchema:
    """Return the W3C schema of MusicXML 4.0 (carried by PyPI `musicxml` 1.6.3), read offline."""
    files = importlib.metadata.distribution("musicxml")
    parser = etree.XMLParser(no_network=True)
    parser.resolvers.add(_Local())
    path = files.locate_file("musicxml/generate_classes/musicxml_4_0.xsd")
    return etree.XMLSchema(etree.parse(str(path), parser))


@dataclass
class Note:
    """A note of the tree; times in quarter notes from the bar's start."""

    measure: int
    onset: Fraction
    duration: Fraction
    element: Any
    midi: int | None
    voice: str
    staff: str
    fields: dict[str, str] = field(default_factory=dict)

    @property
    def grace(self) -> bool:
        return self.element.find("grace") is not None

    @property
    def rest(self) -> bool:
        return self.midi is None

    @property
    def tab(self) -> bool:
        """Whether it stands on tablature: its fret is printed."""
        shown = (
            one for one in self.element.findall("notations") if one.get("print-object") != "no"
        )
        return any(one.find("technical/fret") is not None for one in shown)

    def text(self, path: str) -> str | None:
        return self.element.findtext(path)

    def number(self, path: str) -> int | None:
        text = self.text(path)
        return None if text is None else int(text)


@dataclass
class Bar:
    """A measure of the tree: its notes, and where chord symbols and words stand."""

    element: Any
    length: Fraction
    notes: list[Note]
    above: list[tuple[Fraction, Any]]
    end: Fraction


def midi_of(pitch: Any, prefix: str = "") -> int:
    """Return the MIDI number of a `pitch` or `staff-tuning` element."""
    step = pitch.findtext(f"{prefix}step")
    alter = int(pitch.findtext(f"{prefix}alter") or 0)
    return 12 * (int(pitch.findtext(f"{prefix}octave")) + 1) + SEMITONES[step] + alter


def bars_of(data: bytes, part: int = 0) -> list[Bar]:
    """Read the measures of a part, following the cursor."""
    root = etree.fromstring(data)
    divisions = 1
    length = Fraction(4)
    bars: list[Bar] = []
    for measure in root.findall("part")[part].findall("measure"):
        text = measure.findtext("attributes/divisions")
        divisions = int(text) if text else divisions
        time = measure.find("attributes/time")
        if time is not None:
            beats = sum(map(int, time.findtext("beats").split("+")))
            length = Fraction(4 * beats, int(time.findtext("beat-type")))
        bars.append(_bar(measure, len(bars), divisions, length))
    return bars


def _bar(measure: Any, place: int, divisions: int, length: Fraction) -> Bar:
    cursor = begun = Fraction(0)
    bar = Bar(measure, length, [], [], Fraction(0))
    for element in measure:
        if element.tag in ("harmony", "direction"):
            bar.above.append((cursor, element))
        if element.tag not in ("note", "backup", "forward"):
            continue
        ticks = element.findtext("duration")
        grace = element.find("grace") is not None
        assert grace or (ticks is not None and ticks.isdigit() and int(ticks) > 0)
        duration = Fraction(0) if grace else Fraction(int(ticks), divisions)
        if element.tag == "backup":
            cursor -= duration
            assert cursor >= 0
            continue
        if element.find("chord") is None:
            begun = cursor
            cursor += duration
        if element.tag == "note":
            pitch = element.find("pitch")
            bar.notes.append(
                Note(
                    place, begun, duration, element,
                    None if pitch is None else midi_of(pitch),
                    element.findtext("voice"), element.findtext("staff") or "1",
                )
            )  # fmt: skip
    bar.end = cursor
    return bar


def notes_of(data: bytes, part: int = 0) -> Iterator[Note]:
    """Yield the notes of a part that are no rests."""
    for bar in bars_of(data, part):
        yield from (note for note in bar.notes if not note.rest)
