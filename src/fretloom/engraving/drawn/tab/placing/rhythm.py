"""The written rhythm of a bar: how short each pluck is, and which times stand in tuplets.

It is that of the engraved page: a note is written to the next one of its voice, as far as one value
says it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from attrs import evolve

from fretloom.engraving.beams import engraved
from fretloom.engraving.rhythm import Piece
from fretloom.engraving.values import FLAGS, TooFine
from fretloom.engraving.voices import Voice, voices_of
from fretloom.performance.events import TimedBar
from fretloom.values import frozen

#: So many bars at a stem's tip can be told apart.
MOST_FLAGS = 4


@frozen
class MarkedTuplet:
    """A tuplet: from where to where, how many stand in the place of how many less, and in which row it is shown."""

    start: Fraction
    end: Fraction
    count: int
    row: int = 0


@frozen
class Rhythm:
    """The rhythm of a bar.

    `flags` says by time and hand (True: the thumb) how many bars a stem has: 1 for an eighth note.
    """

    flags: dict[tuple[Fraction, bool], int]
    tuplets: tuple[MarkedTuplet, ...] = ()


def rhythm_of(bar: TimedBar) -> Rhythm:
    """Return the written rhythm of a bar; of one that is too fine to be written only what can be."""
    flags: dict[tuple[Fraction, bool], int] = {}
    tuplets: dict[MarkedTuplet, None] = {}
    try:
        voices = voices_of(_plucked_alone(bar)).voices
    except TooFine:
        return Rhythm({})
    for voice in voices:
        for at, piece in _begun(bar, voice):
            flags.setdefault((at, voice.thumb), min(FLAGS.get(piece.value, 0), MOST_FLAGS))
            for one in piece.path:
                start, end = one.start - bar.start, one.end - bar.start
                tuplets[MarkedTuplet(start, end, one.actual)] = None
    return Rhythm(flags, tuple(_in_rows(list(tuplets))))


def _in_rows(tuplets: Sequence[MarkedTuplet]) -> Iterator[MarkedTuplet]:
    """Yield tuplets with their rows: the long ones first, none beside another that it meets."""
    rows = list[list[MarkedTuplet]]()
    for one in sorted(tuplets, key=lambda one: (one.start - one.end, one.start, one.count)):
        free = (
            row for row, there in enumerate(rows)
            if all(other.end <= one.start or one.end <= other.start for other in there)
        )  # fmt: skip
        row = next(free, len(rows))
        if row == len(rows):
            rows.append([])
        rows[row].append(one)
        yield evolve(one, row=row)


def _plucked_alone(bar: TimedBar) -> TimedBar:
    """Return a bar without its slurred notes: stems tell how long it is from pluck to pluck."""
    if not any(note.slurs for note in bar.notes):
        return bar
    notes = [note if note.technique.grace else evolve(note, slurs=()) for note in bar.notes]
    return evolve(bar, notes=tuple(notes))


def _begun(bar: TimedBar, voice: Voice) -> Iterator[tuple[Fraction, Piece]]:
    """Yield where notes of a voice are plucked, with the first value that is written for them."""
    silent = tuple(not chord.heads for chord in voice.chords)
    try:
        values = engraved(bar.meter, bar.start, voice.edges, silent)[0]
    except TooFine:
        return
    for chord, pieces in zip(voice.chords, values, strict=True):
        if any(head.finger for head in chord.heads) or any(chord.graces):
            yield chord.start, pieces[0]
