"""What stands on the strings: frets, with the signs of how each note is made."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from fretloom.formats.tab.drawing.signs import Sign
from fretloom.performance.events import TimedNote
from fretloom.performance.manner import NoteTechnique
from fretloom.values import frozen

#: Bends as the trade counts them, in whole tones.
_BENDS = {
    Fraction(1, 2): "1/4", Fraction(1): "1/2", Fraction(2): "full", Fraction(3): "1+1/2",
    Fraction(4): "2",
}  # fmt: skip


@frozen
class Fret:
    """What is written on one string: `body` starts at the instant's column, `before` goes left of it.

    `until` is where in the bar the note is to be held to, if that is said.
    """

    body: str
    before: str = ""
    slurred: bool = False
    signs: tuple[Sign, ...] = ()
    until: Fraction | None = None


@frozen
class Carried:
    """A note that goes on from the bar before: how long it is held in this one, None if it only rings."""

    string: int
    fret: int
    held: Fraction | None = None


Placed = dict[Fraction, dict[int, Fret]]


def frets(notes: Iterable[TimedNote], carried: Iterable[Carried]) -> Placed:
    """Return what stands on each string at each instant."""
    placed: Placed = {}
    for one in carried:
        signs = (Sign.RINGING,) if one.held is None else (Sign.RINGING, Sign.HELD)
        fret = Fret(f"{one.fret})", "(", signs=signs, until=one.held)
        placed.setdefault(Fraction(0), {})[one.string] = fret
    for note in notes:
        for at, fret in _of_note(note):
            placed.setdefault(at, {})[note.string] = fret
    return placed


def _of_note(note: TimedNote) -> list[tuple[Fraction, Fret]]:
    """Return what a note puts on its string: the pluck, and what it is slurred to."""
    said = note.technique
    until = None if said.held is None else note.onset + said.held
    holding = () if until is None else (Sign.HELD,)
    last, last_signs = _after(said)
    if not note.slurs or said.grace:
        return [(note.onset, _plucked(note, until, (*holding, *last_signs), last))]
    written = [(note.onset, _plucked(note, until, holding))]
    before = note.fret
    for slur in note.slurs:
        sign = _slur_sign(slur.kind, before, slur.fret)
        ends = slur is note.slurs[-1]
        pre = _BENT + _bend(said) if ends and said.bend and said.bend.before else ""
        body = f"{slur.fret}{last}" if ends else str(slur.fret)
        signs = (sign, *holding, *(last_signs if ends else ()))
        written.append((slur.onset, Fret(body, sign.shown + pre, True, signs, until)))
        before = slur.fret
    return written


_BENT = "b"


def _bend(said: NoteTechnique) -> str:
    return f"({_BENDS[said.bend.semitones]})" if said.bend else ""


def _plucked(
    note: TimedNote, until: Fraction | None, signs: tuple[Sign, ...], after: str = ""
) -> Fret:
    said = note.technique
    before = ""
    if note.order is not None:
        rolled = Sign.ROLLED_SLOWLY if said.slow else Sign.ROLLED
        before, signs = rolled.shown, (rolled, *signs)
    if said.grace:
        return _with_grace(note, before, until, signs, after)
    if said.bend and said.bend.before and not note.slurs:
        before += _BENT + _bend(said)
    if note.dead:
        return Fret(f"{Sign.DEAD.shown}{after}", before, signs=(*signs, Sign.DEAD), until=until)
    if note.harmonic:
        signs = (*signs, Sign.HARMONIC)
        return Fret(f"{note.fret}>{after}", f"{before}<", signs=signs, until=until)
    return Fret(f"{note.fret}{after}", before, signs=signs, until=until)


def _with_grace(
    note: TimedNote, before: str, until: Fraction | None, signs: tuple[Sign, ...], after: str
) -> Fret:
    """Write grace notes together with their main note; the one that is on the beat has its column."""
    fret, quick = note.fret, str(note.fret)
    used = [*signs, Sign.GRACE]
    for slur in note.slurs:
        sign = _slur_sign(slur.kind, fret, slur.fret)
        used.append(sign)
        quick += sign.shown
        fret = slur.fret
        if slur is not note.slurs[-1]:
            quick += str(fret)
    bend = note.technique.bend
    main = (_BENT + _bend(note.technique) if bend and bend.before else "") + str(fret) + after
    before += Sign.GRACE.shown
    if note.technique.grace == "before":
        return Fret(main, before + quick, signs=tuple(used), until=until)
    return Fret(quick + main, before, signs=tuple(used), until=until)


def _after(said: NoteTechnique) -> tuple[str, tuple[Sign, ...]]:
    """Return what stands behind the fret on which a note ends, and the signs that explain it."""
    text, signs = "", []
    if said.touch is not None:
        text += f"<{said.touch}>"
        signs.append(Sign.TOUCHED)
    if said.bend:
        if not said.bend.before:
            text += _BENT + _bend(said)
        signs.append(Sign.BENT_BEFORE if said.bend.before else Sign.BEND)
        if said.bend.release:
            text += Sign.RELEASE.shown
            signs.append(Sign.RELEASE)
    if said.trill is not None:
        text += f"tr({said.trill.fret})"
        signs.append(Sign.TRILL)
    if said.vibrato:
        text += Sign.VIBRATO.shown
        signs.append(Sign.VIBRATO)
    if said.lasting:
        text += "_" if said.lasting == "ring" else "'"
        signs.append(Sign.LET_RING if said.lasting == "ring" else Sign.DAMPED)
    return text, tuple(signs)


def _slur_sign(kind: str, before: int, after: int) -> Sign:
    if kind == "slide":
        return Sign.SLIDE_UP if after > before else Sign.SLIDE_DOWN
    return Sign.HAMMER_ON if kind == "hammer-on" else Sign.PULL_OFF
