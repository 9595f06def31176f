"""Writes what stands at a note: ties, slurs, tuplets, fingers, string and fret, rolls, accents.

Imports lxml: import this module inside functions only.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from lxml.etree import SubElement, _Element

from fretloom.engraving.rhythm import Piece
from fretloom.engraving.tuplets import Tuplet
from fretloom.engraving.values import value_of
from fretloom.engraving.voices import Head
from fretloom.formats.musicxml.prepare import WrittenChord

if TYPE_CHECKING:
    from fretloom.formats.musicxml.notes import Staff

_LETTERS = {"hammer-on": "H", "pull-off": "P"}
#: Readers join equal slur numbers across staves: odd ones on notation, even ones on tablature.
_ODD, _EVEN = range(1, 17, 2), range(2, 17, 2)


class Marks:
    """Writes `notations`; keeps track of the slurs that are open on one staff."""

    def __init__(self, left_out: set[str], places: bool) -> None:
        """`places` keeps string and fret, out of sight, on a staff of notation."""
        self._left_out = left_out
        self._places = places
        self._open: dict[int, int] = {}

    def write(
        self,
        note: _Element,
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
            SubElement(marks.element, "tied", {"type": kind})
        if chord.rings[place] and index + 1 == len(chord.values):
            SubElement(marks.element, "tied", {"type": "let-ring"})
        if not place:
            _tuplets(marks, staff, chord.values[index])
        if not index:
            self._slurs(marks, staff, head)
            if staff.fingers:
                _fingers(marks, thumb, head)
        if head.harmonic and (staff.tab or not index):
            harmonic = SubElement(marks.technical, "harmonic")
            SubElement(harmonic, "natural")
            SubElement(harmonic, "sounding-pitch")
        if staff.tab:
            _place(marks.technical, head)
        if staff.fingers and not index:
            _gestures(marks, chord, place)
        if self._places and not staff.tab:
            hidden = SubElement(note, "notations", {"print-object": "no"})
            _place(SubElement(hidden, "technical"), head)

    def write_tuplets(self, note: _Element, staff: Staff, piece: Piece) -> None:
        """Write the brackets that begin or end at a rest."""
        _tuplets(_Notations(note), staff, piece)

    def _slurs(self, marks: _Notations, staff: Staff, head: Head) -> None:
        before = self._open.pop(head.chain, None) if head.slur_in else None
        after = None
        if head.slur_out:
            taken = {*self._open.values(), before}
            free = (n for n in (_EVEN if staff.tab else _ODD) if n not in taken)
            after = next(free, None)
            if after is None:
                self._left_out.add("more than eight slurs at once: some are missing")
            else:
                self._open[head.chain] = after
        for kind, end, number in (
            (head.slur_in, "stop", before), (head.slur_out, "start", after),
        ):  # fmt: skip
            if number is not None:
                _slur(marks, kind, end, str(number))


class _Notations:
    """The `notations` of a note and their `technical` part, made when first needed."""

    def __init__(self, note: _Element) -> None:
        self._note = note
        self._notations: _Element | None = None
        self._technical: _Element | None = None

    @property
    def element(self) -> _Element:
        if self._notations is None:
            self._notations = SubElement(self._note, "notations")
        return self._notations

    @property
    def technical(self) -> _Element:
        if self._technical is None:
            self._technical = SubElement(self.element, "technical")
        return self._technical


def _slur(marks: _Notations, kind: str, end: str, number: str) -> None:
    SubElement(marks.element, "slur", {"type": end, "number": number})
    if kind == "slide":
        line = {"line-type": "solid", "type": end, "number": number}
        SubElement(marks.element, "slide", line)
        return
    element = SubElement(marks.technical, kind, {"type": end, "number": number})
    if end == "start":
        element.text = _LETTERS[kind]


def _fingers(marks: _Notations, thumb: bool, head: Head) -> None:
    placement = {"placement": "below" if thumb else "above"}
    if head.fretting and head.fret:
        SubElement(marks.technical, "fingering", placement).text = head.fretting
    if head.finger:
        SubElement(marks.technical, "pluck", placement).text = head.finger


def _place(technical: _Element, head: Head) -> None:
    SubElement(technical, "string").text = str(head.string)
    SubElement(technical, "fret").text = str(head.fret)


def _gestures(marks: _Notations, chord: WrittenChord, place: int) -> None:
    """Write accents and rolls; an arrow where the direction is not the usual one, upwards.

    One accent is for the whole chord; it stands at the first head that has it.
    """
    heads = chord.chord.heads
    head = heads[place]
    if head.accent and not any(other.accent for other in heads[:place]):
        SubElement(SubElement(marks.element, "articulations"), "accent")
    if head.gesture is None:
        return
    roll = SubElement(marks.element, "arpeggiate", {"number": str(head.gesture % 16 + 1)})
    if head.rising is False or head.brushed:
        roll.set("direction", "up" if head.rising else "down")


def _tuplets(marks: _Notations, staff: Staff, piece: Piece) -> None:
    depth = len(piece.path)
    for level in range(depth - piece.opens, depth):
        _bracket(marks, staff, piece, level, "start")
    for level in reversed(range(depth - piece.closes, depth)):
        _bracket(marks, staff, piece, level, "stop")


def _bracket(marks: _Notations, staff: Staff, piece: Piece, level: int, end: str) -> None:
    bracket = SubElement(marks.element, "tuplet", {"type": end, "number": str(level + 1)})
    if end == "stop":
        return
    if staff.tab:
        bracket.set("bracket", "no")
        bracket.set("show-number", "none")
    if len(piece.path) > 1:
        _portions(bracket, piece.path[level])


def _portions(bracket: _Element, tuplet: Tuplet) -> None:
    """Say what each of several nested tuplets counts; one alone is told by its notes."""
    value = value_of(tuplet.unit)
    for name, number in (("tuplet-actual", tuplet.actual), ("tuplet-normal", tuplet.normal)):
        portion = SubElement(bracket, name)
        SubElement(portion, "tuplet-number").text = str(number)
        if value is not None:
            SubElement(portion, "tuplet-type").text = value[0]
