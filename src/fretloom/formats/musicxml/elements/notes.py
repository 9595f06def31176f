"""Writes the notes of a voice on one staff (MusicXML 4.0 `note`, `backup`, `forward`)."""

from __future__ import annotations

from fractions import Fraction

from attrs import field

from fretloom.engraving.beams import Beams
from fretloom.engraving.heads import Head
from fretloom.engraving.rhythm import Piece
from fretloom.formats.musicxml.elements.lyrics import write_lyric
from fretloom.formats.musicxml.elements.marks import (
    write_fermata,
    write_grace_marks,
    write_marks,
    write_rest_marks,
)
from fretloom.formats.musicxml.elements.notations import Notations
from fretloom.formats.musicxml.elements.techniques import ACCIDENTALS
from fretloom.formats.musicxml.planning.singing import Lyric
from fretloom.formats.musicxml.planning.staves import Staff
from fretloom.formats.musicxml.planning.written import (
    FingersAt,
    WrittenChord,
    WrittenGrace,
    WrittenVoice,
)
from fretloom.formats.xml import Element, written
from fretloom.trade.music.pitch import Pitch
from fretloom.values import frozen


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

    def rest_bar(self, measure: Element, length: Fraction, fermata: bool) -> None:
        """Write a bar in which nothing is plucked, perhaps with a beat that waits."""
        voice = self.staff.voices[0]
        if self.staff.digits and self.staff.number:
            self.move(measure, "forward", length, voice)
            return
        note = measure.add("note", {"print-object": "no"} if self.staff.digits else {})
        note.add("rest", {"measure": "yes"})
        note.add("duration", text=self.ticks(length))
        note.add("voice", text=voice)
        self._number(note)
        if fermata and self.staff.fingers:
            write_fermata(Notations(note), thumb=False)

    def write_value(
        self,
        measure: Element,
        voice: WrittenVoice,
        chord: WrittenChord,
        index: int,
        looks: int,
        hands: FingersAt,
        lyrics: tuple[Lyric, ...] = (),
    ) -> None:
        """Write the value numbered `index` of a chord or rest; `lyrics` are sung where it begins.

        `looks` is a number for what the chord looks like, `hands` what is printed of the fingers.
        """
        sung = lyrics if self.staff.fingers and not index else ()
        key = (voice.number, index, looks, sung, hands.letters, hands.fretting)
        text = self.known.get(key)
        if text is None:
            music = Element("measure")
            if chord.chord.heads:
                self._heads(music, voice, chord, index, hands, sung)
            else:
                self._rest(music, voice, chord, index)
            text = "".join([written(one, depth=1) for one in music.children])
            self.known[key] = text
        measure.put(text)

    def _heads(
        self,
        measure: Element,
        voice: WrittenVoice,
        chord: WrittenChord,
        index: int,
        hands: FingersAt,
        lyrics: tuple[Lyric, ...],
    ) -> None:
        piece, thumb = chord.values[index], voice.thumb
        ticks = self.ticks(piece.length)
        if not index:
            for number, grace in enumerate(chord.graces):
                self._grace(measure, voice, grace, (number, len(chord.graces)), hands)
        for place, head in enumerate(chord.chord.heads):
            first = not index and not head.tied_from
            note = measure.add("note")
            if self.staff.digits and not first:
                note.set("print-object", "no")
            if place:
                note.add("chord")
            _pitch(note, chord.pitches[place])
            note.add("duration", text=ticks)
            tied = _ties(note, not first, index + 1 < len(chord.values) or head.tied_on)
            note.add("voice", text=self.staff.voices[voice.number])
            self._value(note, piece, chord.pitches[place] if chord.signs[place] and first else None)
            self._looks(note, thumb, head, again=not first)
            if not (self.staff.digits or place):
                _beams(note, chord.beams[index])
            write_marks(note, self.staff, thumb, chord, index, place, tied, hands)
            for lyric in () if place else lyrics:
                write_lyric(note, lyric)

    def _grace(
        self,
        measure: Element,
        voice: WrittenVoice,
        grace: WrittenGrace,
        of: tuple[int, int],
        hands: FingersAt,
    ) -> None:
        """Write grace notes that stand together; `of` says which of how many before their chord."""
        number, count = of
        for place, head in enumerate(grace.heads):
            note = measure.add("note")
            _steal(note.add("grace"), grace.steals, single=count == 1)
            if place:
                note.add("chord")
            _pitch(note, grace.pitches[place])
            note.add("voice", text=self.staff.voices[voice.number])
            note.add("type", text="eighth" if count == 1 else "16th")
            if grace.signs[place] and not self.staff.tab:
                note.add("accidental", text=ACCIDENTALS[grace.pitches[place].alter])
            self._looks(note, voice.thumb, head)
            if not (self.staff.digits or place or count == 1):
                beam = "begin" if not number else "end" if number + 1 == count else "continue"
                _beams(note, (beam, beam))
            write_grace_marks(note, self.staff, voice.thumb, grace, place, hands)

    def _rest(self, measure: Element, voice: WrittenVoice, chord: WrittenChord, index: int) -> None:
        piece, name = chord.values[index], self.staff.voices[voice.number]
        out_of_sight = self.staff.digits or chord.chord.hidden
        if out_of_sight and not piece.path:
            self.move(measure, "forward", piece.length, name)
            return
        # In a tuplet a hole without a note value makes readers lose the beat.
        note = measure.add("note", {"print-object": "no"} if out_of_sight else {})
        note.add("rest")
        note.add("duration", text=self.ticks(piece.length))
        note.add("voice", text=name)
        self._value(note, piece, None)
        self._number(note)
        write_rest_marks(note, self.staff, voice.thumb, chord, index)

    def _value(self, note: Element, piece: Piece, signed: Pitch | None) -> None:
        note.add("type", text=piece.value)
        for _ in range(piece.dots):
            note.add("dot")
        if signed is not None and not self.staff.tab:
            note.add("accidental", text=ACCIDENTALS[signed.alter])
        if piece.path:
            change = note.add("time-modification")
            change.add("actual-notes", text=str(piece.actual))
            change.add("normal-notes", text=str(piece.normal))

    def _looks(self, note: Element, thumb: bool, head: Head, *, again: bool = False) -> None:
        """Write stem and head; where a digit stands again for a note that goes on, it is in parentheses."""
        stem = "none" if self.staff.digits else "down" if thumb else "up"
        note.add("stem", text=stem)
        hinted = head.ghost or (again and self.staff.tab and not self.staff.digits)
        if head.dead or hinted:
            shape = "x" if head.dead else "normal"
            note.add("notehead", {"parentheses": "yes"} if hinted else {}, text=shape)
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


def _ties(note: Element, stops: bool, starts: bool) -> tuple[str, ...]:
    """Write the `tie`s of a value and return their types: the one that ends here comes first."""
    types = ("stop",) * stops + ("start",) * starts
    for kind in types:
        note.add("tie", {"type": kind})
    return types


def _beams(note: Element, beams: Beams) -> None:
    for number, value in enumerate(beams, start=1):
        note.add("beam", {"number": str(number)}, text=value)


def _steal(grace: Element, steals: tuple[str, int] | None, *, single: bool) -> None:
    """Say from which note grace notes take their time; one alone has a slash, as it is quick."""
    if steals is not None:
        grace.set(steals[0], str(steals[1]))
    if single:
        grace.set("slash", "yes")
