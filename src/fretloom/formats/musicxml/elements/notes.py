"""Writes the notes of a voice on one staff (MusicXML 4.0 `note`, `backup`, `forward`)."""

from __future__ import annotations

from fractions import Fraction

from attrs import field

from fretloom.engraving.rhythm import Piece
from fretloom.engraving.voices import Head
from fretloom.formats.musicxml.elements.marks import write_marks, write_tuplets
from fretloom.formats.musicxml.planning.prepare import WrittenChord
from fretloom.formats.musicxml.planning.staves import Staff
from fretloom.formats.xml import Element, written
from fretloom.trade.music.pitch import Pitch
from fretloom.values import frozen

_ACCIDENTALS = {-2: "flat-flat", -1: "flat", 0: "natural", 1: "sharp", 2: "double-sharp"}


@frozen(eq=False)
class StaffWriter:
    """Writes what one staff shows of a bar into a `measure`.

    `divisions` is the number of parts of a quarter note that the file counts in. `known` are the
    texts of values by all that is written of them: most are written many times in a piece.
    """

    staff: Staff
    divisions: int
    known: dict[object, str] = field(factory=dict)

    def ticks(self, length: Fraction) -> str:
        """Return a length in quarter notes as the text of a `duration`."""
        return str(length.numerator * (self.divisions // length.denominator))

    def move(self, measure: Element, tag: str, length: Fraction, voice: str = "") -> None:
        """Move the cursor with `backup` or `forward`; a `forward` over a gap names the voice."""
        element = measure.add(tag)
        element.add("duration", text=self.ticks(length))
        if voice:
            element.add("voice", text=voice)
            self._number(element)

    def rest_bar(self, measure: Element, length: Fraction) -> None:
        """Write a bar in which nothing is plucked."""
        voice = self.staff.voices[0]
        if self.staff.tab and self.staff.number:
            self.move(measure, "forward", length, voice)
            return
        note = measure.add("note")
        note.add("rest", {"measure": "yes"})
        note.add("duration", text=self.ticks(length))
        note.add("voice", text=voice)
        self._number(note)

    def write_value(self, measure: Element, thumb: bool, chord: WrittenChord, index: int) -> None:
        """Write the value numbered `index` of a chord or rest of the fingers or the thumb."""
        piece = chord.values[index]
        ticks = self.ticks(piece.length)
        key = (thumb, index, len(chord.values), ticks, piece.looks, chord.beams[index], chord.looks)
        if key not in self.known:
            music = Element("measure")
            if chord.chord.heads:
                self._heads(music, thumb, chord, index)
            else:
                self._rest(music, thumb, piece)
            self.known[key] = "".join([written(one, depth=1) for one in music.children])
        measure.put(self.known[key])

    def _heads(self, measure: Element, thumb: bool, chord: WrittenChord, index: int) -> None:
        piece = chord.values[index]
        ticks = self.ticks(piece.length)
        for place, head in enumerate(chord.chord.heads):
            note = measure.add("note")
            if self.staff.tab and index:
                note.set("print-object", "no")
            if place:
                note.add("chord")
            _pitch(note, chord.pitches[place])
            note.add("duration", text=ticks)
            tied = _ties(note, index, len(chord.values))
            note.add("voice", text=self.staff.voices[thumb])
            self._value(
                note, piece, chord.pitches[place] if chord.signs[place] and not index else None
            )
            self._looks(note, thumb, head)
            if not (self.staff.tab or place):
                _beams(note, chord, index)
            write_marks(note, self.staff, thumb, chord, index, place, tied)

    def _rest(self, measure: Element, thumb: bool, piece: Piece) -> None:
        voice = self.staff.voices[thumb]
        if self.staff.tab and not piece.path:
            self.move(measure, "forward", piece.length, voice)
            return
        # In a tuplet a hole without a note value makes readers lose the beat.
        note = measure.add("note", {"print-object": "no"} if self.staff.tab else {})
        note.add("rest")
        note.add("duration", text=self.ticks(piece.length))
        note.add("voice", text=voice)
        self._value(note, piece, None)
        self._number(note)
        write_tuplets(note, self.staff, piece)

    def _value(self, note: Element, piece: Piece, signed: Pitch | None) -> None:
        note.add("type", text=piece.value)
        for _ in range(piece.dots):
            note.add("dot")
        if signed is not None and not self.staff.tab:
            note.add("accidental", text=_ACCIDENTALS[signed.alter])
        if piece.path:
            change = note.add("time-modification")
            change.add("actual-notes", text=str(piece.actual))
            change.add("normal-notes", text=str(piece.normal))

    def _looks(self, note: Element, thumb: bool, head: Head) -> None:
        stem = "none" if self.staff.tab else "down" if thumb else "up"
        note.add("stem", text=stem)
        if head.dead:
            note.add("notehead", text="x")
        self._number(note)

    def _number(self, element: Element) -> None:
        if self.staff.number:
            element.add("staff", text=self.staff.number)


def _pitch(note: Element, pitch: Pitch) -> None:
    element = note.add("pitch")
    element.add("step", text=pitch.step)
    if pitch.alter:
        element.add("alter", text=str(pitch.alter))
    element.add("octave", text=str(pitch.octave))


def _ties(note: Element, index: int, count: int) -> tuple[str, ...]:
    """Write the `tie`s of a value and return their types: the one that ends here comes first."""
    types = ("stop",) * (index > 0) + ("start",) * (index + 1 < count)
    for kind in types:
        note.add("tie", {"type": kind})
    return types


def _beams(note: Element, chord: WrittenChord, index: int) -> None:
    for number, value in enumerate(chord.beams[index], start=1):
        note.add("beam", {"number": str(number)}, text=value)
