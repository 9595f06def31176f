"""Sorts a bar's notes into the two voices of fingerstyle: fingers above, thumb below.

A plucked note is written up to the next one of its own voice, or to the bar line; that it rings on
is shown by a marking and not by a longer note. Where all strings are damped a rest is written.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from attrs import field

from fretloom.performance.events import SlurredNote, TimedBar, TimedNote
from fretloom.values import frozen


@frozen(kw_only=True)
class Head:
    """One notehead: a pluck, or a note the fretting hand makes after it.

    Args:
        finger: the picking finger, "" for a slurred note. fretting: the fretting finger or None.
        slur_in, slur_out: kind of slur that leads here and on from here, "" if none.
        chain: equal for the notes of one pluck, so that slurs can be paired.
        note: what was plucked.
    """

    string: int
    fret: int
    midi: int
    finger: str = ""
    fretting: str | None = None
    accent: bool = False
    harmonic: bool = False
    dead: bool = False
    gesture: int | None = None
    rising: bool | None = None
    brushed: bool = False
    slur_in: str = ""
    slur_out: str = ""
    chain: int = 0
    note: TimedNote = field(eq=False, repr=False)

    @property
    def end(self) -> Fraction:
        """When it stops sounding, with its slurred notes, in quarter notes from the bar's start."""
        return self.note.onset + self.note.ring


@frozen
class Chord:
    """The heads of one voice that sound together, the lowest pitch first; without heads it is a rest."""

    start: Fraction
    heads: tuple[Head, ...] = ()


@frozen
class Voice:
    """One voice of a bar: its chords and rests in order, up to the bar's `length`."""

    thumb: bool
    chords: tuple[Chord, ...]
    length: Fraction

    @property
    def edges(self) -> tuple[Fraction, ...]:
        """Where the chords and rests begin, and the bar's end last."""
        return (*(chord.start for chord in self.chords), self.length)


def voices_of(bar: TimedBar) -> tuple[Voice, ...]:
    """Return the voices that have notes in a bar, fingers before thumb."""
    rising = _directions(bar.notes)
    heads: dict[bool, dict[Fraction, list[Head]]] = {False: {}, True: {}}
    late = beyond_the_bar(bar) > 0
    for chain, note in enumerate(bar.notes):
        if late and note.onset >= bar.length:
            continue
        places = heads[note.finger == "p"]
        places.setdefault(note.onset, []).append(_plucked(note, chain, rising))
        for index, slur in enumerate(note.slurs):
            if not late or slur.onset < bar.length:
                places.setdefault(slur.onset, []).append(_slurred(note, index, slur, chain))
    return tuple(
        Voice(thumb, _chords(bar, places), bar.length) for thumb, places in heads.items() if places
    )


def beyond_the_bar(bar: TimedBar) -> int:
    """Count the notes that begin after the bar's end and cannot be written."""
    onsets = [slur.onset for note in bar.notes for slur in note.slurs]
    if bar.notes and bar.notes[-1].onset >= bar.length:
        onsets += [note.onset for note in bar.notes]
    return sum(onset >= bar.length for onset in onsets)


def irregular_rolls(bar: TimedBar) -> int:
    """Count the rolls that go neither straight up nor straight down the strings."""
    return sum(rising is None for rising in _directions(bar.notes).values())


def _directions(notes: Sequence[TimedNote]) -> dict[int, bool | None]:
    """Return for each roll or brush whether it goes towards string 1 (None: there and back)."""
    rolls: dict[int, list[TimedNote]] = {}
    for note in notes:
        if note.gesture is not None and note.order is not None:
            rolls.setdefault(note.gesture, []).append(note)
    directions: dict[int, bool | None] = {}
    for gesture, rolled in rolls.items():
        strings = [note.string for note in sorted(rolled, key=lambda note: note.order or 0)]
        up = strings == sorted(strings, reverse=True)
        directions[gesture] = up if up or strings == sorted(strings) else None
    return directions


def _plucked(note: TimedNote, chain: int, rising: dict[int, bool | None]) -> Head:
    rolled = note.gesture in rising
    return Head(
        string=note.string,
        fret=note.fret,
        midi=note.midi,
        finger=note.finger,
        fretting=note.fretting if note.fret else None,
        accent=note.accent,
        harmonic=note.harmonic,
        dead=note.dead,
        gesture=note.gesture if rolled else None,
        rising=rising[note.gesture] if rolled and note.gesture is not None else None,
        brushed=note.brush != 0,
        slur_out=note.slurs[0].kind if note.slurs else "",
        chain=chain,
        note=note,
    )


def _slurred(note: TimedNote, index: int, slur: SlurredNote, chain: int) -> Head:
    last = index + 1 == len(note.slurs)
    return Head(
        string=note.string,
        fret=slur.fret,
        midi=slur.midi,
        fretting=slur.fretting if slur.fret else None,
        dead=note.dead,
        slur_in=slur.kind,
        slur_out="" if last else note.slurs[index + 1].kind,
        chain=chain,
        note=note,
    )


def _chords(bar: TimedBar, places: dict[Fraction, list[Head]]) -> tuple[Chord, ...]:
    if bar.stop is not None and bar.stop < bar.length:
        places.setdefault(bar.stop, [])
    places.setdefault(Fraction(0), [])
    return tuple(
        Chord(start, tuple(sorted(heads, key=lambda head: (head.midi, -head.string))))
        for start, heads in sorted(places.items())
    )
