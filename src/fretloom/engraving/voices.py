"""Sorts a bar's notes into the two voices of fingerstyle: fingers above, thumb below.

A plucked note is written up to the next one of its own voice, or as far as one value reaches, with
rests behind it (`lengths.py`); that it rings on is shown by a marking and not by a longer note. A
note that is to be held for a time is written so long, in a further voice of its hand if others begin
meanwhile. Where all strings are damped a rest is written. Rests of one hand stay out of sight where
the other brushes over all strings.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from attrs import evolve

from fretloom.engraving.heads import Head, PluckHeads, heads_in
from fretloom.engraving.holding import Shared, carried, going_on, share
from fretloom.engraving.lengths import Kind, written_ends
from fretloom.performance.events import TimedBar
from fretloom.values import frozen

#: A brush over so many strings leaves no room for another hand's rest (common practice, no source).
_ALL_STRINGS = 4


@frozen
class Chord:
    """The heads of one voice that sound together, the lowest pitch first; without heads it is a rest.

    `graces` are the grace notes before it, one chord of them after the other. A `hidden` rest is a
    gap that other voices fill.
    """

    start: Fraction
    heads: tuple[Head, ...] = ()
    graces: tuple[tuple[Head, ...], ...] = ()
    hidden: bool = False

    @property
    def groups(self) -> tuple[tuple[Head, ...], ...]:
        """All that is written at its place in order: the grace notes, then the heads."""
        return (*self.graces, self.heads) if self.graces else (self.heads,)


@frozen
class Voice:
    """One voice of a bar: its chords and rests in order, up to the bar's `length`.

    `beside` marks the further voice of a hand.
    """

    thumb: bool
    chords: tuple[Chord, ...]
    length: Fraction
    beside: bool = False

    @property
    def edges(self) -> tuple[Fraction, ...]:
        """Where the chords and rests begin, and the bar's end last."""
        return (*(chord.start for chord in self.chords), self.length)


@frozen
class Voices:
    """The voices of a bar that have notes, fingers before thumb and further ones last.

    `cut_short` says that some note is not written as long as it is held.
    """

    voices: tuple[Voice, ...]
    cut_short: bool = False


def voices_of(
    bar: TimedBar, from_before: Sequence[tuple[bool, Head]] = (), goes_on: bool = False
) -> Voices:
    """Return the voices of a bar.

    Args:
        from_before: the notes that are held from the bar before, each with whether the thumb plucked
            it. goes_on: whether a bar follows into which notes can be tied.
    """
    kept, cut_short = carried(from_before)
    hands: dict[bool, list[PluckHeads]] = {False: [], True: []}
    for one in (*kept, *heads_in(bar)):
        hands[one.thumb].append(one)
    voices, further = list[Voice](), list[Voice]()
    marks = _marks(bar)
    for thumb, plucks in hands.items():
        shared = share(plucks, marks, bar.length)
        cut_short = cut_short or bool(shared.lost)
        if plucks:
            chords = _with_rests(bar, _chords(shared, marks, bar, goes_on))
            voices.append(Voice(thumb, chords, bar.length))
        if shared.beside:
            further.append(Voice(thumb, _gapped(shared, bar, goes_on), bar.length, beside=True))
    return Voices((*_brushed_over(voices), *further), cut_short)


def held_over(voices: Sequence[Voice]) -> Iterator[tuple[bool, Head]]:
    """Yield what goes on into the next bar, as it stands there, each with whether the thumb plucked it."""
    for voice in voices:
        for head in voice.chords[-1].heads:
            if head.tied_on and head.until is not None:
                yield voice.thumb, _tied(head, head.until - voice.length)


def _tied(head: Head, until: Fraction) -> Head:
    return Head(
        string=head.string,
        fret=head.fret,
        midi=head.midi,
        harmonic=head.harmonic,
        ghost=head.ghost,
        until=until,
        tied_from=True,
        note=head.note,
    )


def _marks(bar: TimedBar) -> set[Fraction]:
    """Return where every voice has an edge: the bar's start, and where all strings are damped."""
    damped = {slap.onset for slap in bar.slaps if slap.place == "strings"}
    if bar.stop is not None:
        damped.add(bar.stop)
    return {Fraction(0), *(at for at in damped if at < bar.length)}


def _chords(
    shared: Shared, marks: set[Fraction], bar: TimedBar, goes_on: bool
) -> tuple[Chord, ...]:
    """Return the chords of a hand's voice; where only notes of the further voice stand is a gap."""
    places = _places(shared.voice, bar.length, goes_on)
    gaps = {at for one in shared.beside for at, _ in one.heads}
    silent = gaps | marks | shared.rests
    alone = [at for at in silent if at not in places]
    return tuple(
        [_chord(at, places.get(at, []), hidden=at in gaps) for at in sorted([*alone, *places])]
    )


def _with_rests(bar: TimedBar, chords: Sequence[Chord]) -> tuple[Chord, ...]:
    """Put rests behind the chords that are not written up to the next one; rests that meet become one."""
    edges = (*(chord.start for chord in chords), bar.length)
    kinds = tuple(
        _kind(chord, after) for chord, after in zip(chords, (*chords[1:], None), strict=True)
    )
    ends = written_ends(bar.meter, bar.start, edges, kinds)
    found = list[Chord]()
    for chord, end in zip(chords, ends, strict=True):
        silent = not chord.heads and not chord.hidden
        if not (silent and found and not found[-1].heads and not found[-1].hidden):
            found.append(chord)
        if end is not None:
            found.append(Chord(end))
    return tuple(found)


def _kind(chord: Chord, after: Chord | None) -> Kind:
    """Say whether a chord is as long as there is room, or of a length that is given: held, or slurred on."""
    if not chord.heads:
        return "rest"
    held = [head for head in chord.heads if head.slur_out or head.until is not None]
    if not held:
        return "note"
    slurred = {head.chain for head in held if head.slur_out}
    led = after is not None and any(head.slur_in and head.chain in slurred for head in after.heads)
    return "held" if led or any(head.is_held for head in held) else "note"


def _brushed_over(voices: Sequence[Voice]) -> Iterator[Voice]:
    """Yield the two voices, with the rests of each out of sight that begin with a brush of the other."""
    brushed = {
        chord.start
        for voice in voices for chord in voice.chords
        if len(chord.heads) >= _ALL_STRINGS and chord.heads[0].brushed
    }  # fmt: skip
    for voice in voices:
        if not brushed:
            yield voice
            continue
        chords = tuple(
            evolve(chord, hidden=chord.hidden or (not chord.heads and chord.start in brushed))
            for chord in voice.chords
        )
        yield evolve(voice, chords=chords)


def _gapped(shared: Shared, bar: TimedBar, goes_on: bool) -> tuple[Chord, ...]:
    """Return the chords of the further voice, with gaps around them."""
    places = _places(shared.beside, bar.length, goes_on)
    ends = {one.until for one in shared.beside if one.until is not None and one.until < bar.length}
    return tuple(
        _chord(at, places.get(at, []), hidden=True) for at in sorted({Fraction(0), *ends, *places})
    )


_Placed = dict[Fraction, list[tuple[Head, tuple[Head, ...]]]]


def _places(plucks: Sequence[PluckHeads], length: Fraction, goes_on: bool) -> _Placed:
    places: _Placed = {}
    for one in plucks:
        tied = going_on(one, length) if goes_on else one
        for index, (at, head) in enumerate(tied.heads):
            places.setdefault(at, []).append((head, () if index else tied.graces))
    return places


def _chord(at: Fraction, placed: list[tuple[Head, tuple[Head, ...]]], hidden: bool) -> Chord:
    heads = tuple(sorted([head for head, _ in placed], key=_height))
    graces = _graces(placed) if any(before for _, before in placed) else ()
    return Chord(at, heads, graces, hidden and not heads)


def _graces(placed: list[tuple[Head, tuple[Head, ...]]]) -> tuple[tuple[Head, ...], ...]:
    """Return the grace notes before a chord; those of several notes lead to it together."""
    most = max(len(graces) for _, graces in placed)
    steps = [
        [graces[-back] for _, graces in placed if len(graces) >= back]
        for back in range(most, 0, -1)
    ]
    return tuple(tuple(sorted(step, key=_height)) for step in steps)


def _height(head: Head) -> tuple[int, int]:
    return head.midi, -head.string
