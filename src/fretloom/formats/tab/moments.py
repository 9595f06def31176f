"""What stands above, on and below the strings at each instant of a bar.

The signs are those of the trade; the legend (`tab_legend`) explains each one that is used.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import groupby
from math import lcm

from attrs import field

from fretloom.formats.tab.text import clean
from fretloom.performance.events import TimedBar, TimedNote, TimedVoicing
from fretloom.trade.music.meter import Count, Meter
from fretloom.values import frozen

_UNNAMED = "."
_BETWEEN = ","
#: Into so many shares a count can be seen to be divided; beyond, only what is plucked gets a sign.
_MOST_SHARES = 12
_STRAIGHT = (Fraction(0), Fraction(1, 4), Fraction(1, 2), Fraction(3, 4))


@frozen
class Fret:
    """What is written on one string: `body` starts at the instant's column, `before` left of it."""

    body: str
    before: str = ""
    slurred: bool = False


@frozen(kw_only=True)
class Moment:
    """One instant of a bar.

    Args:
        at: quarter notes from the bar's start.
        count, chord: the words over the strings, "" for none.
        frets: what stands on each string, by its number.
        fingers: picking fingers other than the thumb, from the lowest line up.
        thumb: what stands in the thumb's line.
    """

    at: Fraction
    count: str = ""
    chord: str = ""
    frets: dict[int, Fret] = field(factory=dict)
    fingers: tuple[str, ...] = ()
    thumb: str = ""


Carried = tuple[tuple[int, int], ...]


def moments(bar: TimedBar, names: dict[str, str], carried: Carried = ()) -> list[Moment]:
    """Return the instants of a bar in order.

    Args:
        bar: the bar.
        names: what to print for each voicing, by its name in the lesson.
        carried: (string, fret) of notes that ring on from the bar before into a bar whose first
            instant plucks nothing; they are shown in brackets.
    """
    counted = _counts(bar)
    chords = _chords(bar, names)
    frets = _frets(bar.notes, carried)
    plucked = {at: list(notes) for at, notes in groupby(bar.notes, lambda note: note.onset)}
    found = []
    for at in sorted({*counted, *chords, *frets, Fraction(0)}):
        fingers, thumb = _fingers(plucked.get(at, ()))
        found.append(
            Moment(
                at=at,
                count=counted.get(at, ""),
                chord=chords.get(at, ""),
                frets=frets.get(at, {}),
                fingers=fingers,
                thumb=thumb,
            )
        )
    return found


def _counts(bar: TimedBar) -> dict[Fraction, str]:
    """Say every number of the bar, and between the numbers what is needed to place each pluck."""
    placed = [Fraction(0), *(note.onset for note in bar.notes)]
    placed += [timed.onset for timed in bar.voicings]
    placed += [at for at in (bar.release, bar.stop) if at is not None]
    slurred = [slur.onset for note in bar.notes for slur in note.slurs]
    return _count_words(bar.meter, bar.start, bar.length, tuple(placed), tuple(slurred))


@lru_cache(maxsize=1024)
def _count_words(
    meter: Meter,
    start: Fraction,
    length: Fraction,
    placed: tuple[Fraction, ...],
    slurred: tuple[Fraction, ...],
) -> dict[Fraction, str]:
    words: dict[Fraction, str] = {}
    for number in range(1, meter.count_total + 1):
        first = meter.position(Count(number)) - start
        inside = [_inside(set(ats), first, meter.count_length) for ats in (placed, slurred)]
        for part, word in _parts(number, *inside).items():
            at = first + part * meter.count_length
            if 0 <= at < length:
                words[at] = word
    return words


def _inside(places: set[Fraction], first: Fraction, length: Fraction) -> set[Fraction]:
    """Return the places that lie in one count, as shares of it."""
    shares = {(at - first) / length for at in places}
    return {share for share in shares if 0 <= share < 1}


def _parts(number: int, plucked: set[Fraction], slurred: set[Fraction]) -> dict[Fraction, str]:
    """Return the words for the parts of one count that are played, and its number.

    Plucked shares that have no word of their own are dots, and then every share gets its sign, so
    that the student can see into how many the count is divided; where they are too many to see,
    only the plucked ones have one, a comma. Slurred notes are counted where that needs no dots.
    """
    words = {Fraction(0): str(number)}
    if _division(plucked | slurred) <= 4:
        return words | {part: _word(part) for part in plucked | slurred if part}
    division = _division(plucked)
    if division <= 4:
        return words | {part: _word(part) for part in plucked if part}
    if division > _MOST_SHARES:
        return words | {
            part: _word(part) if part in _STRAIGHT else _BETWEEN for part in plucked if part
        }
    for share in range(1, division):
        part = Fraction(share, division)
        named = part == Fraction(1, 2) or (division % 8 == 0 and part in _STRAIGHT)
        words[part] = _word(part) if named else _UNNAMED
    return words


def _division(parts: set[Fraction]) -> int:
    return lcm(*(part.denominator for part in parts), 1)


def _word(part: Fraction) -> str:
    """Return `&`, `e`, `a`, `trip` or `let`."""
    return str(Count(1, part)).removeprefix("1")


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


def _printed(timed: TimedVoicing, names: dict[str, str]) -> str:
    return names.get(timed.voicing.name) or clean(timed.voicing.name)


def _frets(notes: Iterable[TimedNote], carried: Carried) -> dict[Fraction, dict[int, Fret]]:
    placed: dict[Fraction, dict[int, Fret]] = {}
    for string, fret in carried:
        placed.setdefault(Fraction(0), {})[string] = Fret(f"{fret})", "(")
    for note in notes:
        placed.setdefault(note.onset, {})[note.string] = _fret(note)
        fret = note.fret
        for slur in note.slurs:
            sign = _slur_sign(slur.kind, fret, slur.fret)
            placed.setdefault(slur.onset, {})[note.string] = Fret(str(slur.fret), sign, True)
            fret = slur.fret
    return placed


def _fret(note: TimedNote) -> Fret:
    rolled = "{" if note.order is not None else ""
    if note.dead:
        return Fret("x", rolled)
    if note.harmonic:
        return Fret(f"{note.fret}>", f"{rolled}<")
    return Fret(str(note.fret), rolled)


def _slur_sign(kind: str, before: int, after: int) -> str:
    if kind == "slide":
        return "/" if after > before else "\\"
    return "h" if kind == "hammer-on" else "p"


def _fingers(notes: Sequence[TimedNote]) -> tuple[tuple[str, ...], str]:
    """Return the fingers' lines from the lowest up, and the thumb's line, at one instant."""
    plain = [note for note in notes if note.gesture is None]
    thumbs = [_letter(note) for note in plain if note.finger == "p"]
    others = sorted((note for note in plain if note.finger != "p"), key=lambda note: -note.string)
    gestures = sorted((note for note in notes if note.gesture is not None), key=_gesture)
    stack = [_letter(note) for note in others]
    for _, together in groupby(gestures, lambda note: note.gesture):
        rolled = sorted(together, key=lambda note: note.order or 0)
        has_thumb = any(note.finger == "p" for note in rolled)
        if has_thumb and not thumbs:
            thumbs.append(_gesture_text(rolled))
        else:
            stack.insert(0, _gesture_text(rolled))
    return tuple(stack), "+".join(thumbs)


def _gesture(note: TimedNote) -> int:
    return note.gesture or 0


def _letter(note: TimedNote) -> str:
    return note.finger + (">" if note.accent else "")


def _gesture_text(notes: Sequence[TimedNote]) -> str:
    """Write the fingers of a roll in order, `{pima}`, and a brush as `p6-4`."""
    words: list[str] = []
    for (brush, finger), run in groupby(notes, lambda note: (note.brush, note.finger)):
        together = list(run)
        if not brush:
            words += [_letter(note) for note in together]
            continue
        accent = ">" if any(note.accent for note in together) else ""
        words.append(f"{finger}{together[0].string}-{together[-1].string}{accent}")
    if len(words) == 1 and notes[0].brush:
        return words[0]
    return "{" + (" " if any(note.brush for note in notes) else "").join(words) + "}"
