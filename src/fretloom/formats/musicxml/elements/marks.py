"""Writes the marks on a note: ties, slurs, tuplets, fingers, string and fret, rolls, accents."""

from __future__ import annotations

from functools import cached_property

from fretloom.engraving.rhythm import Piece
from fretloom.engraving.tuplets import Tuplet
from fretloom.engraving.values import value_of
from fretloom.engraving.voices import Head
from fretloom.formats.musicxml.planning.prepare import WrittenChord
from fretloom.formats.musicxml.planning.slurs import SlurEnds, slur_number
from fretloom.formats.musicxml.planning.staves import Staff
from fretloom.formats.xml import Element
from fretloom.values import frozen

_LETTERS = {"hammer-on": "H", "pull-off": "P"}


def write_marks(
    note: Element,
    staff: Staff,
    thumb: bool,
    chord: WrittenChord,
    index: int,
    place: int,
    tied: tuple[str, ...],
) -> None:
    """Write the `notations` of one head of a chord's value."""
    head = chord.chord.heads[place]
    marks = _Notations(note)
    for kind in tied:
        marks.element.add("tied", {"type": kind})
    if chord.rings[place] and index + 1 == len(chord.values):
        marks.element.add("tied", {"type": "let-ring"})
    if not place:
        _tuplets(marks, staff, chord.values[index])
    if not index:
        _slurs(marks, staff, head, chord.slurs[place])
        if staff.fingers:
            _fingers(marks, thumb, head)
    if head.harmonic and (staff.tab or not index):
        harmonic = marks.technical.add("harmonic")
        harmonic.add("natural")
        harmonic.add("sounding-pitch")
    if staff.tab:
        _place(marks.technical, head)
    if staff.fingers and not index:
        _gestures(marks, chord, place)
    if staff.places:
        hidden = note.add("notations", {"print-object": "no"})
        _place(hidden.add("technical"), head)


def write_tuplets(note: Element, staff: Staff, piece: Piece) -> None:
    """Write the brackets that begin or end at a rest."""
    _tuplets(_Notations(note), staff, piece)


@frozen(eq=False)
class _Notations:
    """The `notations` of a note and their `technical` part, made when first needed."""

    note: Element

    @cached_property
    def element(self) -> Element:
        return self.note.add("notations")

    @cached_property
    def technical(self) -> Element:
        return self.element.add("technical")


def _slurs(marks: _Notations, staff: Staff, head: Head, ends: SlurEnds) -> None:
    if ends.stop is not None:
        _slur(marks, head.slur_in, "stop", slur_number(ends.stop, staff.tab))
    if ends.start is not None:
        _slur(marks, head.slur_out, "start", slur_number(ends.start, staff.tab))


def _slur(marks: _Notations, kind: str, end: str, number: str) -> None:
    marks.element.add("slur", {"type": end, "number": number})
    if kind == "slide":
        line = {"line-type": "solid", "type": end, "number": number}
        marks.element.add("slide", line)
        return
    element = marks.technical.add(kind, {"type": end, "number": number})
    if end == "start":
        element.text = _LETTERS[kind]


def _fingers(marks: _Notations, thumb: bool, head: Head) -> None:
    placement = {"placement": "below" if thumb else "above"}
    if head.fretting and head.fret:
        marks.technical.add("fingering", placement, text=head.fretting)
    if head.finger:
        marks.technical.add("pluck", placement, text=head.finger)


def _place(technical: Element, head: Head) -> None:
    technical.add("string", text=str(head.string))
    technical.add("fret", text=str(head.fret))


def _gestures(marks: _Notations, chord: WrittenChord, place: int) -> None:
    """Write accents and rolls; an arrow where the direction is not upwards, the usual one.

    One accent is for the whole chord; it goes to the first head that has it.
    """
    heads = chord.chord.heads
    head = heads[place]
    if head.accent and not any(other.accent for other in heads[:place]):
        marks.element.add("articulations").add("accent")
    if head.gesture is None:
        return
    roll = marks.element.add("arpeggiate", {"number": str(head.gesture % 16 + 1)})
    if head.rising is False or head.brushed:
        roll.set("direction", "up" if head.rising else "down")


def _tuplets(marks: _Notations, staff: Staff, piece: Piece) -> None:
    depth = len(piece.path)
    for level in range(depth - piece.opens, depth):
        _bracket(marks, staff, piece, level, "start")
    for level in reversed(range(depth - piece.closes, depth)):
        _bracket(marks, staff, piece, level, "stop")


def _bracket(marks: _Notations, staff: Staff, piece: Piece, level: int, end: str) -> None:
    bracket = marks.element.add("tuplet", {"type": end, "number": str(level + 1)})
    if end == "stop":
        return
    if staff.tab:
        bracket.set("bracket", "no")
        bracket.set("show-number", "none")
    if len(piece.path) > 1:
        _portions(bracket, piece.path[level])


def _portions(bracket: Element, tuplet: Tuplet) -> None:
    """Say what each of several nested tuplets counts; a single one is clear from its notes."""
    value = value_of(tuplet.unit)
    for name, number in (("tuplet-actual", tuplet.actual), ("tuplet-normal", tuplet.normal)):
        portion = bracket.add(name)
        portion.add("tuplet-number", text=str(number))
        if value is not None:
            portion.add("tuplet-type", text=value[0])
