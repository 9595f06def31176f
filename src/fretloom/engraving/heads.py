"""What stands on a staff for each pluck: its noteheads, those of its slurs and its grace notes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from attrs import evolve, field

from fretloom.performance.events import SlurredNote, TimedBar, TimedNote
from fretloom.performance.manner import NO_TECHNIQUE, NoteTechnique
from fretloom.values import frozen


@frozen(kw_only=True)
class Head:
    """One notehead: a pluck, or a note the fretting hand makes after it.

    Args:
        finger: the picking finger, "" for a slurred note. fretting: the fretting finger or None.
        slur_in, slur_out: kind of slur that leads here and on from here, "" if none.
        chain: equal for the notes of one pluck, so that slurs can be paired; below 0 for what goes on
            from the bar before.
        technique: what is asked of it, None for nothing; of a pluck with slurs the last note has it,
            but `ghost` is for each.
        until: where it is to end, from the bar's start, if that is said; it may be in a later bar.
        tied_from, tied_on: whether it goes on from the bar before, and into the next one.
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
    ghost: bool = False
    gesture: int | None = None
    rising: bool | None = None
    brushed: bool = False
    slur_in: str = ""
    slur_out: str = ""
    chain: int = 0
    technique: NoteTechnique | None = None
    until: Fraction | None = None
    tied_from: bool = False
    tied_on: bool = False
    note: TimedNote = field(eq=False, repr=False)

    @property
    def end(self) -> Fraction:
        """When it stops sounding, with its slurred notes, in quarter notes from the bar's start."""
        if self.tied_from and self.until is not None:
            return self.until
        return self.note.onset + self.note.ring

    @property
    def artificial(self) -> bool:
        """Whether it is an artificial harmonic."""
        return self.technique is not None and self.technique.touch is not None

    @property
    def is_held(self) -> bool:
        """Whether it is to be held for a time, over other notes or bar lines."""
        damped = self.technique is not None and self.technique.lasting == "damped"
        return self.until is not None and not damped

    @property
    def lets_ring(self) -> bool:
        """Whether its pluck asks that it rings on."""
        return self.technique is not None and self.technique.lasting == "ring"


@frozen
class PluckHeads:
    """What one pluck gives: its heads with their onsets in order, and the grace notes before the first.

    `until` is where its last head is to end, if that is said; `damped` says that its pluck only asks
    for a short note.
    """

    thumb: bool
    heads: tuple[tuple[Fraction, Head], ...]
    graces: tuple[Head, ...] = ()
    until: Fraction | None = None
    damped: bool = False

    @property
    def begin(self) -> Fraction:
        """Where its first head stands."""
        return self.heads[0][0]

    @property
    def last(self) -> Fraction:
        """Where its last head stands."""
        return self.heads[-1][0]


def heads_in(bar: TimedBar) -> Iterator[PluckHeads]:
    """Yield what stands on the staff for each pluck of a bar; what begins after its end is left out."""
    rising = _directions(bar.notes)
    # In order of onset: where the last one begins in the bar, all do.
    whole = bool(bar.notes) and bar.notes[-1].onset < bar.length
    for chain, note in enumerate(bar.notes):
        if whole or note.onset < bar.length:
            yield _heads(note, chain, rising, bar.length)


def beyond_the_bar(bar: TimedBar) -> int:
    """Count the notes that begin after the bar's end and cannot be written."""
    onsets = [slur.onset for note in bar.notes for slur in note.slurs]
    if bar.notes and bar.notes[-1].onset >= bar.length:
        onsets += [note.onset for note in bar.notes]
    return sum(onset >= bar.length for onset in onsets)


def irregular_rolls(bar: TimedBar) -> int:
    """Count the rolls that go neither straight up nor straight down the strings."""
    return sum(rising is None for rising in _directions(bar.notes).values())


def last_onset(note: TimedNote) -> Fraction:
    """Return where the last note of a pluck begins: what the fretting hand does is done to that one."""
    return note.slurs[-1].onset if note.slurs else note.onset


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


def _heads(
    note: TimedNote, chain: int, rising: dict[int, bool | None], length: Fraction
) -> PluckHeads:
    technique = note.technique
    heads = [(note.onset, _plucked(note, chain, rising))]
    for index, slur in enumerate(note.slurs):
        if slur.onset < length:
            heads.append((slur.onset, _slurred(note, index, slur, chain)))
    thumb = note.finger == "p"
    if technique is NO_TECHNIQUE:
        return PluckHeads(thumb, tuple(heads))
    damped, until = technique.lasting == "damped", None
    if technique.held is not None or damped:
        until = note.onset + note.ring
    graces: tuple[Head, ...] = ()
    if technique.grace and len(heads) > 1:
        graces = tuple(head for _, head in heads[:-1])
        heads = [(heads[-1][0], _main(heads[-1][1], heads[0][1]))]
    heads[-1] = (heads[-1][0], evolve(heads[-1][1], technique=technique, until=until))
    return PluckHeads(thumb, tuple(heads), graces, until, damped)


def _main(head: Head, plucked: Head) -> Head:
    """Return the note that grace notes lead to: accent and roll are its, not those of the first one."""
    return evolve(
        head,
        accent=plucked.accent,
        gesture=plucked.gesture,
        rising=plucked.rising,
        brushed=plucked.brushed,
    )


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
        ghost=note.technique.ghost,
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
        ghost=note.technique.ghost,
        slur_in=slur.kind,
        slur_out="" if last else note.slurs[index + 1].kind,
        chain=chain,
        note=note,
    )
