"""What stands above, on and below the strings at each instant of a bar.

The signs are those of the trade; each is noted with the instant, so that the legend can explain it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import groupby

from attrs import field

from fretloom.formats.tab.drawing.counting import count_signs, counts
from fretloom.formats.tab.drawing.picking import first_brush, hand_signs, picking_lines
from fretloom.formats.tab.drawing.signs import Sign
from fretloom.formats.tab.text import clean
from fretloom.performance.events import TimedBar, TimedNote, TimedVoicing
from fretloom.values import frozen


@frozen
class Fret:
    """What is written on one string: `body` starts at the instant's column, `before` goes left of it."""

    body: str
    before: str = ""
    slurred: bool = False
    signs: tuple[Sign, ...] = ()


@frozen(kw_only=True)
class Instant:
    """One instant of a bar.

    Args:
        at: quarter notes from the bar's start.
        count, chord: the words over the strings, "" for none.
        frets: what stands on each string, by its number.
        fingers: picking fingers other than the thumb, from the lowest line up.
        thumb: what stands in the thumb's line.
        brush: how a brush is written there, "" for none.
        signs: what the legend must explain.
    """

    at: Fraction
    count: str = ""
    chord: str = ""
    frets: dict[int, Fret] = field(factory=dict)
    fingers: tuple[str, ...] = ()
    thumb: str = ""
    brush: str = ""
    signs: frozenset[Sign] = frozenset()


Carried = tuple[tuple[int, int], ...]


def instants(bar: TimedBar, names: dict[str, str], carried: Carried = ()) -> list[Instant]:
    """Return the instants of a bar in order.

    Args:
        bar: the bar.
        names: what to print for each voicing, by its name in the lesson.
        carried: (string, fret) of notes that ring on from the bar before into a bar whose first
            instant plucks nothing; they are shown in brackets.
    """
    counted = counts(bar)
    chords = _chords(bar, names)
    frets = _frets(bar.notes, carried)
    plucked = {at: list(notes) for at, notes in groupby(bar.notes, lambda note: note.onset)}
    found = []
    for at in sorted({*counted, *chords, *frets, Fraction(0)}):
        notes = plucked.get(at, [])
        fingers, thumb = picking_lines(notes)
        written = frets.get(at, {})
        count = counted.get(at, "")
        found.append(
            Instant(
                at=at,
                count=count,
                chord=chords.get(at, ""),
                frets=written,
                fingers=fingers,
                thumb=thumb,
                brush=first_brush(notes),
                signs=frozenset(
                    (*count_signs(count), *_bar_signs(bar, at), *hand_signs(notes))
                ).union(*(fret.signs for fret in written.values())),
            )
        )
    return found


def _chords(bar: TimedBar, names: dict[str, str]) -> dict[Fraction, str]:
    if bar.rest:
        return {Fraction(0): "rest"}
    words: dict[Fraction, str] = {}
    for timed in bar.voicings:
        words[timed.onset] = _printed(timed, names)
    for at, word in ((bar.release, "(open)"), (bar.stop, "(stop)")):
        if at is not None:
            words[at] = f"{words[at]} {word}" if at in words else word
    return words


def _bar_signs(bar: TimedBar, at: Fraction) -> Iterator[Sign]:
    """Yield the signs among the chords at an instant."""
    if bar.rest:
        if at == 0:
            yield Sign.REST
        return
    if at == bar.release:
        yield Sign.OPEN
    if at == bar.stop:
        yield Sign.STOP


def _printed(timed: TimedVoicing, names: dict[str, str]) -> str:
    return names.get(timed.voicing.name) or clean(timed.voicing.name)


def _frets(notes: Iterable[TimedNote], carried: Carried) -> dict[Fraction, dict[int, Fret]]:
    placed: dict[Fraction, dict[int, Fret]] = {}
    for string, fret in carried:
        placed.setdefault(Fraction(0), {})[string] = Fret(f"{fret})", "(", signs=(Sign.RINGING,))
    for note in notes:
        placed.setdefault(note.onset, {})[note.string] = _fret(note)
        fret = note.fret
        for slur in note.slurs:
            sign = _slur_sign(slur.kind, fret, slur.fret)
            written = Fret(str(slur.fret), sign.shown, True, (sign,))
            placed.setdefault(slur.onset, {})[note.string] = written
            fret = slur.fret
    return placed


def _fret(note: TimedNote) -> Fret:
    rolled = (Sign.ROLLED,) if note.order is not None else ()
    before = "".join(sign.shown for sign in rolled)
    if note.dead:
        return Fret("x", before, signs=(*rolled, Sign.DEAD))
    if note.harmonic:
        return Fret(f"{note.fret}>", f"{before}<", signs=(*rolled, Sign.HARMONIC))
    return Fret(str(note.fret), before, signs=rolled)


def _slur_sign(kind: str, before: int, after: int) -> Sign:
    if kind == "slide":
        return Sign.SLIDE_UP if after > before else Sign.SLIDE_DOWN
    return Sign.HAMMER_ON if kind == "hammer-on" else Sign.PULL_OFF
