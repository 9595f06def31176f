"""Writes the marks on a note: ties, slurs, tuplets, fingers, string and fret, rolls, techniques."""

from __future__ import annotations

from fretloom.engraving.heads import Head
from fretloom.engraving.rhythm import Piece
from fretloom.engraving.tuplets import Tuplet
from fretloom.engraving.values import value_of
from fretloom.formats.musicxml.elements.notations import Notations
from fretloom.formats.musicxml.elements.techniques import (
    write_articulations,
    write_bend,
    write_harmonic,
    write_ornaments,
    write_slap,
)
from fretloom.formats.musicxml.planning.slurs import SlurEnds, slur_number
from fretloom.formats.musicxml.planning.staves import Staff
from fretloom.formats.musicxml.planning.written import FingersAt, WrittenChord, WrittenGrace
from fretloom.formats.xml import Element

_LETTERS = {"hammer-on": "H", "pull-off": "P"}


def write_marks(
    note: Element,
    staff: Staff,
    thumb: bool,
    chord: WrittenChord,
    index: int,
    place: int,
    tied: tuple[str, ...],
    hands: FingersAt,
) -> None:
    """Write the `notations` of one head of a chord's value."""
    head = chord.chord.heads[place]
    marks = Notations(note)
    last = index + 1 == len(chord.values)
    # Under notation a tie between digits would be read as a hammer-on into nothing.
    for kind in () if staff.digits else tied:
        marks.element.add("tied", {"type": kind})
    if last and not staff.digits and (chord.rings[place] or head.lets_ring):
        marks.element.add("tied", {"type": "let-ring"})
    if not place:
        _tuplets(marks, staff, chord.values[index])
    if not index:
        _slurs(marks, staff, head, chord.slurs[place])
        if staff.fingers:
            _fingers(marks, thumb, head, hands, chord.chord.heads[:place])
    if (head.harmonic or head.artificial) and (staff.tab or not index):
        write_harmonic(marks, head)
    if head.technique is not None and head.technique.bend is not None and not index:
        write_bend(marks, head.technique.bend)
    if staff.tab:
        _place(marks.technical, head)
    if staff.fingers:
        _signs(marks, thumb, chord, index, place)
    if staff.places:
        hidden = note.add("notations", {"print-object": "no"})
        _place(hidden.add("technical"), head)


def write_grace_marks(
    note: Element, staff: Staff, thumb: bool, grace: WrittenGrace, place: int, hands: FingersAt
) -> None:
    """Write the `notations` of a grace note."""
    head = grace.heads[place]
    marks = Notations(note)
    _slurs(marks, staff, head, grace.slurs[place])
    if staff.fingers:
        _fingers(marks, thumb, head, hands)
    if staff.tab:
        _place(marks.technical, head)
    if staff.places:
        hidden = note.add("notations", {"print-object": "no"})
        _place(hidden.add("technical"), head)


def write_rest_marks(
    note: Element, staff: Staff, thumb: bool, chord: WrittenChord, index: int
) -> None:
    """Write the brackets that begin or end at a rest, and the fermata on it."""
    marks = Notations(note)
    _tuplets(marks, staff, chord.values[index])
    if staff.fingers and index in chord.slaps:
        write_slap(marks)
    if staff.fingers and index == chord.fermata:
        write_fermata(marks, thumb)


def _slurs(marks: Notations, staff: Staff, head: Head, ends: SlurEnds) -> None:
    if ends.stop is not None:
        _slur(marks, head.slur_in, "stop", slur_number(ends.stop, staff.tab))
    if ends.start is not None:
        _slur(marks, head.slur_out, "start", slur_number(ends.start, staff.tab))


def _slur(marks: Notations, kind: str, end: str, number: str) -> None:
    marks.element.add("slur", {"type": end, "number": number})
    if kind == "slide":
        line = {"line-type": "solid", "type": end, "number": number}
        marks.element.add("slide", line)
        return
    element = marks.technical.add(kind, {"type": end, "number": number})
    if end == "start":
        element.text = _LETTERS[kind]


def _fingers(
    marks: Notations, thumb: bool, head: Head, hands: FingersAt, below: tuple[Head, ...] = ()
) -> None:
    """Write the fingers of both hands; the one that brushes over a chord stands once, at its lowest head."""
    placement = {"placement": "below" if thumb else "above"}
    if head.fretting and head.fret and hands.fingers(head):
        marks.technical.add("fingering", placement, text=head.fretting)
    again = head.brushed and any(other.finger == head.finger for other in below)
    if head.finger and hands.letters and not (again and hands.fretting is not None):
        marks.technical.add("pluck", placement, text=head.finger)


def _place(technical: Element, head: Head) -> None:
    technical.add("string", text=str(head.string))
    technical.add("fret", text=str(head.fret))


def _signs(marks: Notations, thumb: bool, chord: WrittenChord, index: int, place: int) -> None:
    """Write the signs that stand on one staff alone: articulations, ornaments, rolls and the fermata."""
    heads = chord.chord.heads
    if not index:
        write_articulations(marks, heads, place)
    goal = chord.trills[place] if chord.trills else None
    write_ornaments(marks, heads[place], not index, index + 1 == len(chord.values), goal)
    if not index:
        _roll(marks, heads[place])
    if index in chord.slaps and not place:
        write_slap(marks)
    if index == chord.fermata and not place:
        write_fermata(marks, thumb)


def write_fermata(marks: Notations, thumb: bool) -> None:
    """Write that the beat waits; the thumb's sign stands below its notes, upside down."""
    marks.element.add("fermata", {"type": "inverted" if thumb else "upright"})


def _roll(marks: Notations, head: Head) -> None:
    """Write a roll; with an arrow where the direction is not upwards, the usual one."""
    if head.gesture is None:
        return
    roll = marks.element.add("arpeggiate", {"number": str(head.gesture % 16 + 1)})
    if head.rising is False or head.brushed:
        roll.set("direction", "up" if head.rising else "down")


def _tuplets(marks: Notations, staff: Staff, piece: Piece) -> None:
    depth = len(piece.path)
    for level in range(depth - piece.opens, depth):
        _bracket(marks, staff, piece, level, "start")
    for level in reversed(range(depth - piece.closes, depth)):
        _bracket(marks, staff, piece, level, "stop")


def _bracket(marks: Notations, staff: Staff, piece: Piece, level: int, end: str) -> None:
    bracket = marks.element.add("tuplet", {"type": end, "number": str(level + 1)})
    if end == "stop":
        return
    if staff.digits:
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
