"""What the fretting hand does to a string that sounds: slurs, slides, bends, trills, with their times."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import cast

from fretloom.performance.events import TimedNote
from fretloom.performance.playback.sounds import FretMove, MoveKind

#: Seconds that a slide takes at most, and a bend (assumptions: 80 to 150 ms, and slower for a bend).
SLIDE, BEND = Fraction(12, 100), Fraction(25, 100)
#: Both take this share of the time there is at most.
MOST = Fraction(1, 2)
#: Seconds from one note of a trill to the next (about ten a second; from memory).
TRILL = Fraction(1, 10)


def moves_of(
    note: TimedNote,
    start: Fraction,
    slurs: tuple[Fraction, ...],
    until: Fraction,
    quarter: Fraction,
) -> tuple[FretMove, ...]:
    """Return the moves of a note that is plucked at `start` and sounds until `until`, all positions.

    `slurs` are the positions of its slurred notes, `quarter` the length of a quarter note in seconds.
    """
    if not note.slurs and note.technique.bend is None and note.technique.trill is None:
        return ()
    found = list(_slurred(note, start, slurs, quarter))
    last = slurs[-1] if slurs else start
    found += _bent(note, last, until, quarter)
    found += _trilled(note, last, until, quarter)
    return tuple(one for one in found if one.at < until)


def midi_at_pluck(note: TimedNote) -> Fraction:
    """Return the MIDI number with which a note begins; that of a bent string is the higher one."""
    bend = note.technique.bend
    raised = bend.semitones if bend is not None and bend.before and not note.slurs else 0
    return Fraction(note.midi) + raised


def _slurred(
    note: TimedNote, start: Fraction, slurs: tuple[Fraction, ...], quarter: Fraction
) -> Iterator[FretMove]:
    before = start
    for slurred, at in zip(note.slurs, slurs, strict=True):
        begin = at
        if slurred.kind == "slide":
            begin = at - min(SLIDE / quarter, (at - before) * MOST)
        kind = cast("MoveKind", slurred.kind)
        yield FretMove(
            kind=kind, at=begin, until=at, fret=slurred.fret, midi=Fraction(slurred.midi)
        )
        before = at


def _last_stop(note: TimedNote) -> tuple[int, int]:
    """Return fret and MIDI number of the last note of a pluck."""
    return (note.slurs[-1].fret, note.slurs[-1].midi) if note.slurs else (note.fret, note.midi)


def _bent(
    note: TimedNote, start: Fraction, until: Fraction, quarter: Fraction
) -> Iterator[FretMove]:
    bend = note.technique.bend
    if bend is None:
        return
    fret, midi = _last_stop(note)
    # A note is bent and let down within its own place; what it rings on for is at rest.
    room = max(min(until, note.length + start) - start, Fraction(0))
    length = min(BEND / quarter, room * MOST)
    if not bend.before or note.slurs:
        high = Fraction(midi) + bend.semitones
        yield FretMove(kind="bend", at=start, until=start + length, fret=fret, midi=high)
    if bend.release:
        at = start + room * MOST
        yield FretMove(kind="release", at=at, until=at + length, fret=fret, midi=Fraction(midi))


def _trilled(
    note: TimedNote, start: Fraction, until: Fraction, quarter: Fraction
) -> Iterator[FretMove]:
    trill = note.technique.trill
    if trill is None:
        return
    fret, midi = _last_stop(note)
    both = ((trill.fret, trill.midi), (fret, midi))
    room = min(until, start + note.length) - start
    # An even number of steps, so that it ends on the main note.
    steps = max(2, int(room * quarter / TRILL) // 2 * 2)
    for place in range(1, steps + 1):
        to_fret, to_midi = both[(place - 1) % 2]
        up = to_midi > both[place % 2][1]
        at = start + room * place / (steps + 1)
        kind: MoveKind = "hammer-on" if up else "pull-off"
        yield FretMove(kind=kind, at=at, until=at, fret=to_fret, midi=Fraction(to_midi))
