"""The frets of a bar, each with its place beside its time and the room that it takes on its string.

A place is a time and how far beside it (the notes of a roll stand one after the other, grace notes
before their note). `left` and `right` say how far a fret and all that belongs to it reach.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Literal

from attrs import evolve

from fretloom.engraving.drawn.lettering import width_of
from fretloom.engraving.drawn.tab.values import FINGER, FRET, PILL_WIDTH, ROLL_STEP, SMALL
from fretloom.notation.model.details.technique import Bend
from fretloom.performance.events import TimedBar, TimedNote
from fretloom.performance.showing.shape_use import voicing_at
from fretloom.values import frozen

#: What makes a fret a plucked note, one that the fretting hand makes, or a grace note before its main note.
Part = Literal["plucked", "slurred", "grace"]
#: Around the figures in a pill, and beside one that stands in angles.
_AROUND, _ANGLE = 0.5, 1.0
_GRACE, _FRACTION = 2.7, 3.4
#: Room for what follows a fret: a wave, the bow of a string left ringing, a dot.
WAVE, RINGING, DOT = 3.2, 2.6, 1.2
#: Room for the arrow of a brush before its frets, and for the bow of a slur.
ARROW, SLUR = 2.4, 0.6
#: How far a bend is, as it is written at its bow.
BENT = {
    Fraction(1, 2): "¼", Fraction(1): "½", Fraction(2): "full", Fraction(3): "1½", Fraction(4): "2",
}  # fmt: skip


@frozen(kw_only=True)
class Struck:
    """A fret to be drawn.

    Args:
        at: its time in the bar. aside: how far beside that it stands, in millimetres.
        text: the fret as printed. after: what follows it, smaller.
        half: half the width of its pill, without `after`. bow: how far right of its place a bend begins.
        left, right: how far it reaches from its own place.
        slur: how it is reached from the fret before it in the same pluck, "" if it is not.
        first, last: whether it is the first and the last fret of its pluck.
        hopped: whether a finger of the voicing has crossed to it.
    """

    at: Fraction
    aside: float = 0.0
    string: int
    text: str
    after: str = ""
    size: float = FRET
    half: float
    left: float
    right: float
    bow: float = 0.0
    part: Part = "plucked"
    slur: str = ""
    first: bool = True
    last: bool = True
    hopped: bool = False
    note: TimedNote

    @property
    def thumb(self) -> bool:
        """Whether the thumb plucks it."""
        return self.note.finger == "p"

    @property
    def angled(self) -> bool:
        """Whether it stands in angles: a natural harmonic."""
        return self.note.harmonic


def struck_in(bar: TimedBar) -> tuple[Struck, ...]:
    """Return the frets of a bar in order, without those that begin after its end."""
    rolls = _rolls(bar.notes)
    found = [
        one for note in bar.notes if note.onset < bar.length
        for one in _frets(bar, note, rolls.get(note.gesture) if note.gesture is not None else None)
    ]  # fmt: skip
    ordered = sorted(found, key=lambda one: (one.at, one.aside, -one.string))
    return tuple(_clear_of_bends(list(_parted(ordered))))


def _rolls(notes: Sequence[TimedNote]) -> dict[int, bool]:
    """Return the gestures of a bar, each with whether it is a brush throughout."""
    brushed: dict[int, bool] = {}
    for note in notes:
        if note.gesture is not None:
            brushed[note.gesture] = brushed.get(note.gesture, True) and note.brush != 0
    return brushed


def _frets(bar: TimedBar, note: TimedNote, brushed: bool | None) -> Iterator[Struck]:
    aside = ROLL_STEP * (note.order or 0) if brushed is False else 0.0
    chain = [(note.fret, note.onset, "")]
    chain += [(slur.fret, slur.onset, slur.kind) for slur in note.slurs]
    if note.technique.grace and note.slurs:
        yield from _graced(bar, note, chain, aside)
        return
    kept = [one for one in chain if one[1] < bar.length]
    for place, (fret, at, kind) in enumerate(kept):
        first, last = not place, place == len(kept) - 1
        one = _one(bar, note, fret, at, last)
        beside = (ARROW if brushed else 0.0) if first else SLUR
        yield evolve(
            one, aside=aside if first or at == note.onset else 0.0, slur=kind, first=first, last=last,
            part="plucked" if first else "slurred", left=one.left + beside,
        )  # fmt: skip


def _graced(
    bar: TimedBar, note: TimedNote, chain: Sequence[tuple[int, Fraction, str]], aside: float
) -> Iterator[Struck]:
    """Yield grace notes, and the main note they lead to, all at the time of the main note."""
    main = evolve(_one(bar, note, chain[-1][0], note.onset, True), aside=aside, slur=chain[-1][2])
    before = main.left
    for fret, _, kind in reversed(chain[:-1]):
        half = (width_of(str(fret), _GRACE) + _AROUND) / 2
        yield Struck(
            at=note.onset, aside=aside - before - half - 0.3, string=note.string, text=str(fret),
            size=_GRACE, half=half, left=half, right=half, part="grace", slur=kind,
            first=not kind, last=False, note=note,
        )  # fmt: skip
        before += 2 * half + 0.3
    yield evolve(main, first=False)


def _one(bar: TimedBar, note: TimedNote, fret: int, at: Fraction, last: bool) -> Struck:
    technique = note.technique
    text = "x" if note.dead else f"({fret})" if technique.ghost else str(fret)
    half = max(PILL_WIDTH, width_of(text, FRET, note.finger == "p") + _AROUND) / 2
    half += _ANGLE if note.harmonic else 0.0
    after = _after(note) if last else ""
    bow = half + (width_of(after, SMALL) + 0.3 if after else 0.0)
    right = bow + (_room_behind(note) if last else 0.0)
    return Struck(
        at=at, string=note.string, text=text, after=after, half=half, left=half, right=right,
        bow=bow, hopped=_hopped(bar, note, fret), note=note,
    )  # fmt: skip


def _after(note: TimedNote) -> str:
    """Return what is printed behind a fret: where a harmonic is touched, what it is trilled with."""
    technique = note.technique
    parts = [f"‹{technique.touch}›"] if technique.touch is not None else []
    parts += [f"tr({technique.trill.fret})"] if technique.trill is not None else []
    return " ".join(parts)


def _room_behind(note: TimedNote) -> float:
    technique = note.technique
    room = bend_room(technique.bend)[1] if technique.bend is not None else 0.0
    room += WAVE if technique.vibrato else 0.0
    room += {"ring": RINGING, "damped": DOT}.get(technique.lasting, 0.0)
    return room


def bend_size(bend: Bend) -> float:
    """Return how large it is written how far a string is bent: fractions larger, for their figures are small."""
    return SMALL if BENT[bend.semitones].isascii() else _FRACTION


def bend_room(bend: Bend) -> tuple[float, float]:
    """Return how far behind a fret the bow of a bend points up, and how far all of it reaches."""
    half = width_of(BENT[bend.semitones], bend_size(bend)) / 2 + 0.2
    tip = max(1.4, half)
    return tip, tip + max(half, 2.3 if bend.release else 0.8)


def _hopped(bar: TimedBar, note: TimedNote, fret: int) -> bool:
    held = voicing_at(bar, note.onset)
    return held is not None and any(
        (hop.string, hop.fret) == (note.string, fret) for hop in held.hops
    )


def _parted(found: Sequence[Struck]) -> Iterator[Struck]:
    """Yield frets so that none of one string and time stand on one another."""
    ends: dict[tuple[Fraction, int], float] = {}
    for one in found:
        lane = (one.at, one.string)
        begin = ends.get(lane)
        hidden = begin is not None and one.aside - one.left < begin
        parted = evolve(one, aside=begin + one.left + 0.2) if hidden and begin is not None else one
        ends[lane] = parted.aside + parted.right
        yield parted


def _clear_of_bends(found: Sequence[Struck]) -> Iterator[Struck]:
    """Yield frets, the bow of a bent string to the right of what else stands at its time."""
    reach: dict[Fraction, float] = {}
    letters: dict[Fraction, str] = {}
    for one in found:
        reach[one.at] = max(reach.get(one.at, 0.0), one.aside + one.bow)
        letters[one.at] = letters.get(one.at, "") + one.note.finger
    for one in found:
        if one.last and one.note.technique.bend is not None:
            beyond = reach[one.at] - one.aside
            if one.string == 1:
                # On the top string it reaches up to the letters of the fingers.
                beyond += width_of(letters[one.at], FINGER) / 2
            bow = max(one.bow, beyond)
            yield evolve(one, bow=bow, right=one.right + bow - one.bow)
        else:
            yield one
