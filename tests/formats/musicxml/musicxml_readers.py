"""Independent readers of what we write: music21 and verovio, both general-purpose libraries."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from typing import Any

import music21
import verovio
from lxml import etree

ID = "{http://www.w3.org/XML/1998/namespace}id"
MEI = "{http://www.music-encoding.org/ns/mei}"


def exact(number: float | Fraction) -> Fraction:
    """Return music21's or verovio's number of quarter notes as the fraction it stands for."""
    return Fraction(number).limit_denominator(5040)


def read21(data: bytes) -> Any:
    """Read a file with music21, in sounding pitch."""
    return music21.converter.parseData(data, format="musicxml").toSoundingPitch()


def notes21(data: bytes, staff: int = 0) -> Counter[Any]:
    """Return (measure, onset, length, MIDI) of a staff as music21 reads it, ties joined."""
    score = read21(data)
    found: Counter[Any] = Counter()
    for place, measure in enumerate(score.parts[staff].getElementsByClass("Measure")):
        for element in measure.recurse().notes:
            if isinstance(element, music21.harmony.ChordSymbol):
                continue
            onset = exact(element.getOffsetInHierarchy(measure))
            for one in element.notes if element.isChord else (element,):
                tie = one.tie or element.tie
                tied = tie is not None and tie.type in ("stop", "continue")
                found[place, onset, exact(element.quarterLength), one.pitch.midi, tied] += 1
    return found


def chords21(data: bytes) -> list[tuple[int, Fraction, str, frozenset[int]]]:
    """Return (measure, onset, root, pitch classes) of the chord symbols, in sounding pitch."""
    found = []
    score = read21(data)
    for place, measure in enumerate(score.parts[0].getElementsByClass("Measure")):
        for symbol in measure.recurse().getElementsByClass(music21.harmony.ChordSymbol):
            onset = exact(symbol.getOffsetInHierarchy(measure))
            if isinstance(symbol, music21.harmony.NoChord):
                found.append((place, onset, "", frozenset[int]()))
            else:
                classes = frozenset(pitch.pitchClass for pitch in symbol.pitches)
                found.append((place, onset, symbol.root().name.replace("-", "b"), classes))
    return found


def toolkit(data: bytes) -> Any:
    """Load a file into verovio."""
    verovio.enableLog(verovio.LOG_OFF)
    kit = verovio.toolkit()
    kit.setOptions({"transposeToSoundingPitch": True})
    assert kit.loadData(data.decode())
    return kit


def mei_of(data: bytes) -> Any:
    """Return the tree into which verovio turns a file."""
    return etree.fromstring(toolkit(data).getMEI().encode())


def played_by_verovio(data: bytes) -> tuple[Counter[Any], Counter[Any]]:
    """Return (quarter notes from the start, MIDI) of what verovio plays, notation and tablature.

    Notation is given as it sounds, tablature as its tuning and frets say, without `transpose`.
    """
    kit = toolkit(data)
    mei = etree.fromstring(kit.getMEI().encode())
    tabbed = {note.get(ID) for note in mei.iter(f"{MEI}note") if note.get("tab.fret") is not None}
    tied = {tie.get("endid")[1:] for tie in mei.iter(f"{MEI}tie")}
    staves: tuple[Counter[Any], Counter[Any]] = (Counter(), Counter())
    for event in kit.renderToTimemap():
        for name in set(event.get("on", ())) - tied:
            pitch = kit.getMIDIValuesForElement(name)["pitch"]
            staves[name in tabbed][exact(event["qstamp"]), pitch] += 1
    return staves


def tab_of_verovio(data: bytes) -> list[tuple[int, int]]:
    """Return (string, fret) of each tablature note as verovio draws it, in order of strings."""
    return sorted(
        (int(note.get("tab.course")), int(note.get("tab.fret")))
        for note in mei_of(data).iter(f"{MEI}note")
        if note.get("tab.fret") is not None
    )
