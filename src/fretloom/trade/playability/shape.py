"""One voicing with its fingers: what the fretting hand cannot do, or can do only with effort.

Frets and fingers run from the string with the highest number to string 1; frets count from the capo.
A verdict holds numbers and no words, so that a lesson, a test or a program can each say it in its
own way.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import NamedTuple

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.reach import (
    PAD,
    THUMB_TO_INDEX,
    THUMB_TO_LOWEST,
    Contact,
    Hand,
    apart,
    barre_length,
    comfortable,
    maximum,
    spans_five,
)
from fretloom.values import frozen

Frets = tuple[int | None, ...]
Fingers = tuple[str | None, ...]
FRETTING = ("1", "2", "3", "4")
THUMB = "T"
#: An index barre over so many strings leaves the thumb behind the neck.
THUMB_BARRE = 4


@frozen
class Verdict:
    """A finding about a voicing.

    Args:
        rule: its name; severity: "error", "warning" or "info".
        fingers: the fretting fingers concerned; strings: the strings, 1 the highest; frets: the
            frets concerned, counted from the capo.
        value, limit: millimetres measured and allowed; 0 where nothing was measured.
    """

    rule: str
    severity: str
    fingers: tuple[str, ...] = ()
    strings: tuple[int, ...] = ()
    frets: tuple[int, ...] = ()
    value: float = 0.0
    limit: float = 0.0


class Fretted(NamedTuple):
    """A voicing as the hand sees it: frets and fingers, nothing else."""

    frets: Frets
    fingers: Fingers


class Held(NamedTuple):
    """A finger's place: the strings it is written on (bass first), all at fret `fret` from the nut."""

    finger: str
    fret: int
    strings: tuple[int, ...]

    @property
    def contact(self) -> Contact:
        """The interval of strings it lies over."""
        return Contact(self.fret, self.strings[0], self.strings[-1])


def sounding(neck: Neck, frets: Frets) -> dict[int, int]:
    """Return, for every string that sounds, the fret from the nut at which it is stopped.

    An open string sounds at the capo where the capo is on it.
    """
    count = len(frets)
    return {
        count - index: neck.stopped(count - index, fret)
        for index, fret in enumerate(frets)
        if fret is not None
    }


def held_places(neck: Neck, frets: Frets, fingers: Fingers) -> tuple[Held, ...]:
    """Return where every finger is that is used, in the order T 1 2 3 4.

    A finger written at two frets counts as at the fret of its first string (`judge` reports it);
    fingers on open or unplayed strings are left out.
    """
    count = len(frets)
    places: dict[str, list[tuple[int, int]]] = {}
    for index, (fret, finger) in enumerate(zip(frets, fingers, strict=True)):
        if fret and finger:
            string = count - index
            places.setdefault(finger, []).append((string, neck.stopped(string, fret)))
    return tuple(
        Held(finger, at[0][1], tuple(string for string, fret in at if fret == at[0][1]))
        for finger in (THUMB, *FRETTING)
        if (at := places.get(finger))
    )


def judge(neck: Neck, hand: Hand, frets: Frets, fingers: Fingers) -> tuple[Verdict, ...]:
    """Return the verdicts on a voicing; empty `fingers` means that they are not known.

    Without fingers only the frets are judged; whether a fingering exists is for the solver.
    """
    verdicts = [*_missing_frets(neck, frets)]
    if not fingers:
        return tuple(verdicts)
    places = held_places(neck, frets, fingers)
    verdicts += _written(frets, fingers)
    for held in places:
        verdicts += _barre(neck, hand, frets, held)
    fretting = [held for held in places if held.finger != THUMB]
    with_thumb = len(fretting) < len(places)
    for one, other in combinations(fretting, 2):
        verdicts += _order(neck, one, other)
        verdicts += _reach(neck, hand, one, other, with_thumb)
    if with_thumb:
        verdicts += _thumb(neck, hand, places[0], fretting)
    return tuple(verdicts)


#: A stretch is wide when it takes so much of what is left between comfortable and greatest reach:
#: about the 99th percentile of the measured voicings.
WIDE = 0.75


def is_wide(verdict: Verdict, hand: Hand) -> bool:
    """Whether a verdict is about a stretch that is wide, and not only more than comfortable."""
    if verdict.rule != "stretch":
        return False
    most = maximum(hand, verdict.fingers[0], verdict.fingers[1])
    return over_five_frets(verdict) or verdict.value > verdict.limit + WIDE * (most - verdict.limit)


def over_five_frets(verdict: Verdict) -> bool:
    """Whether a verdict is about fingers 1 and 4 stretched over five frets."""
    if verdict.rule != "stretch":
        return False
    (one, other), (first, second) = verdict.fingers, verdict.frets
    return spans_five(one, first, other, second)


def stretches_wide(neck: Neck, hand: Hand, frets: Frets, fingers: Fingers) -> bool:
    """Whether a fingering needs a wide stretch."""
    return any(is_wide(one, hand) for one in judge(neck, hand, frets, fingers))


def refused(verdicts: tuple[Verdict, ...]) -> bool:
    """Whether one of the verdicts is an error."""
    return any(verdict.severity == "error" for verdict in verdicts)


def inner_muted(frets: Frets) -> tuple[int, ...]:
    """Return the unplayed strings between sounding ones: a brush across them needs them damped."""
    sounds = [index for index, fret in enumerate(frets) if fret is not None]
    if not sounds:
        return ()
    inside = range(sounds[0], sounds[-1])
    return tuple(len(frets) - index for index in inside if frets[index] is None)


def _missing_frets(neck: Neck, frets: Frets) -> Iterator[Verdict]:
    count = len(frets)
    high: list[tuple[int, int]] = []
    for index, fret in enumerate(frets):
        string = count - index
        if fret and not neck.has(string, fret):
            yield Verdict("no-fret", "error", (), (string,), (fret,), 0, neck.frets)
        elif fret and neck.stopped(string, fret) > neck.free:
            high.append((string, fret))
    if high:
        strings, stopped = zip(*high, strict=True)
        yield Verdict("high-fret", "info", (), strings, stopped, 0, neck.free)


def _written(frets: Frets, fingers: Fingers) -> Iterator[Verdict]:
    """Yield verdicts on the fingers as they are written."""
    count = len(frets)
    first: dict[str, tuple[int, int]] = {}
    for index, (fret, finger) in enumerate(zip(frets, fingers, strict=True)):
        string = count - index
        if fret and not finger:
            yield Verdict("finger-missing", "error", (), (string,), (fret,))
        elif finger and not fret:
            at = () if fret is None else (fret,)
            yield Verdict("finger-idle", "error", (finger,), (string,), at)
        elif fret and finger:
            place = first.setdefault(finger, (string, fret))
            if place[1] != fret:
                both = (place[0], string), (place[1], fret)
                yield Verdict("finger-two-frets", "error", (finger,), *both)


def _barre(neck: Neck, hand: Hand, frets: Frets, held: Held) -> Iterator[Verdict]:
    sounds = sounding(neck, frets)
    bass, treble = held.strings[0], held.strings[-1]
    if bass == treble:
        return
    lower = [string for string, fret in sounds.items() if fret < held.fret]
    inner = tuple(string for string in lower if treble < string < bass)
    beyond = tuple(string for string in lower if string < treble)
    length, pad = barre_length(neck, held.contact), PAD * hand.factor
    at = (frets[len(frets) - bass] or 0,)
    if inner:
        yield Verdict("barre-inner", "error", (held.finger,), inner, at, length)
    if beyond:
        rule = ("barre-treble", "error") if length > pad else ("barre-arch", "warning")
        yield Verdict(*rule, (held.finger,), beyond, at, length, pad)
    if held.finger in "234" and len(held.strings) > 3:
        yield Verdict("barre-large", "warning", (held.finger,), held.strings, at, length)


def _order(neck: Neck, one: Held, other: Held) -> Iterator[Verdict]:
    fingers = (one.finger, other.finger)
    strings = (one.strings[0], other.strings[0])
    frets = tuple(_written_fret(neck, held) for held in (one, other))
    if one.fret > other.fret:
        yield Verdict("finger-order", "error", fingers, strings, frets)
    elif one.fret == other.fret:
        if one.strings[0] >= other.strings[-1] and other.strings[0] >= one.strings[-1]:
            yield Verdict("finger-tangled", "error", fingers, strings, frets)
        elif one.strings[0] < other.strings[0]:
            yield Verdict("finger-reversed", "warning", fingers, strings, frets)


def _reach(neck: Neck, hand: Hand, one: Held, other: Held, thumb: bool) -> Iterator[Verdict]:
    fingers = (one.finger, other.finger)
    strings = (one.strings[0], other.strings[0])
    frets = tuple(_written_fret(neck, held) for held in (one, other))
    distance = apart(neck, one.finger, one.contact, other.finger, other.contact)
    most = maximum(hand, *fingers, thumb=thumb)
    easy = comfortable(hand, *fingers)
    if distance > most:
        yield Verdict("reach", "error", fingers, strings, frets, distance, most)
    elif distance > easy:
        yield Verdict("stretch", "warning", fingers, strings, frets, distance, easy)


def _thumb(neck: Neck, hand: Hand, thumb: Held, fretting: list[Held]) -> Iterator[Verdict]:
    at = (_written_fret(neck, thumb),)
    yield Verdict("thumb-used", "info", (THUMB,), thumb.strings, at)
    if thumb.strings[-1] < neck.strings - 1:
        yield Verdict("thumb-string", "error", (THUMB,), thumb.strings, at)
    elif thumb.strings[-1] < neck.strings:
        yield Verdict("thumb-string", "warning", (THUMB,), thumb.strings, at)
    if not fretting:
        return
    nearest = min(fretting, key=lambda held: (held.finger != "1", held.fret))
    limit = (THUMB_TO_INDEX if nearest.finger == "1" else THUMB_TO_LOWEST) * hand.factor
    distance = neck.span(thumb.fret, nearest.fret)
    both = (THUMB, nearest.finger)
    if distance > limit:
        frets = (*at, _written_fret(neck, nearest))
        yield Verdict("thumb-reach", "error", both, thumb.strings, frets, distance, limit)
    span = nearest.strings[0] - nearest.strings[-1] + 1
    if nearest.finger == "1" and span >= THUMB_BARRE:
        yield Verdict("thumb-barre", "error", both, nearest.strings, at)


def _written_fret(neck: Neck, held: Held) -> int:
    """Return a finger's fret as the lesson counts it: from the capo on its lowest string."""
    return held.fret - neck.capo.on(held.strings[0])
