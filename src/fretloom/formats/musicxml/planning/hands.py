"""Which fingers are printed: each where it is news to the reader (common practice of engraving).

A fretting finger stands at the first note of its string under a voicing, a barre's at the first of its
strings, and again where it changes. What lies beside the voicing has its finger in every bar that is not
picked as the bars before. The letters p i m a stand in the first bars of a pattern, until these come
round again; then "simile" is written once.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from attrs import evolve

from fretloom.formats.musicxml.planning.written import PreparedBar, PrintedFingers
from fretloom.performance.events import TimedBar, TimedNote
from fretloom.performance.printed_names import PatternInPrint
from fretloom.performance.showing.shape_use import voicing_at
from fretloom.trade.guitar.voicing import Voicing
from fretloom.values import frozen

#: When the fingers pluck, from where a full bar begins: what makes two bars the same picking. Times are
#: numerators and denominators, which are looked up faster than fractions.
_Picking = frozenset[tuple[int, int, str]]


@frozen
class _FingeredNote:
    """A stopped note: where it is, its finger, and what is known once it has been said.

    `beside` marks what its voicing does not hold.
    """

    onset: Fraction
    string: int
    fret: int
    finger: str
    known: tuple[object, ...]
    beside: bool


@frozen
class _Asked:
    """What a bar has for both hands."""

    picking: _Picking
    stops: tuple[_FingeredNote, ...]


def with_hands(
    bars: Sequence[PreparedBar], patterns: Mapping[str, PatternInPrint], *, first: bool
) -> list[PreparedBar]:
    """Return the bars with what is printed of their fingers.

    Args:
        patterns: what a student reads for the patterns, by name. first: whether each finger is
            printed where it is news, and not every time.
    """
    walk = _FingerWalk(patterns)
    return [evolve(bar, hands=walk.hands(bar, first=first)) for bar in bars]


class _FingerWalk:
    """Goes through the bars in order, and remembers what the reader knows."""

    def __init__(self, patterns: Mapping[str, PatternInPrint]) -> None:
        self._patterns = patterns
        self._named: set[str] = set()
        self._asked: dict[int, _Asked] = {}
        self._said: dict[tuple[object, ...], str] = {}
        #: The same of notes beside the voicing, as long as the picking goes on.
        self._beside: dict[tuple[object, ...], str] = {}
        self._pattern: str | None = None
        #: The bars of the pattern whose letters have been printed, and whether it has come round.
        self._round: set[_Picking] = set()
        self._again = False

    def hands(self, bar: PreparedBar, *, first: bool) -> PrintedFingers:
        """Return what is printed at the next bar."""
        timed = bar.played.bar
        asked = self._asked.get(timed.serial)
        if asked is None:
            asked = self._asked[timed.serial] = _asked(timed)
        title = self._title(timed.pattern) if asked.picking else ""
        if not first:
            return PrintedFingers(pattern=title)
        was_again = self._again
        letters = self._letters(timed.pattern, asked.picking)
        if letters or bar.played.first:
            self._beside = {}
        simile = self._again and not was_again
        return PrintedFingers(letters, simile, title, tuple(self._news(asked.stops)))

    def _title(self, pattern: str) -> str:
        """Return the name of a pattern the first time."""
        if pattern in self._named or pattern not in self._patterns:
            return ""
        self._named.add(pattern)
        return self._patterns[pattern].name

    def _letters(self, pattern: str, picking: _Picking) -> bool:
        """Whether the letters of a bar are printed."""
        if not picking:
            return False
        if pattern == self._pattern and picking in self._round:
            self._again = True
            return False
        bars = self._patterns[pattern].bars if pattern in self._patterns else 1
        if pattern != self._pattern or self._again or len(self._round) == bars:
            self._round = set()
        self._pattern, self._again = pattern, False
        self._round.add(picking)
        return True

    def _news(self, stops: Sequence[_FingeredNote]) -> Iterator[tuple[Fraction, int, int]]:
        for stop in stops:
            said = self._beside if stop.beside else self._said
            if said.get(stop.known) != stop.finger:
                said[stop.known] = stop.finger
                yield stop.onset, stop.string, stop.fret


def _asked(bar: TimedBar) -> _Asked:
    picking = frozenset([(*_place(note, bar), note.finger) for note in bar.notes])
    stops = [stop for note in bar.notes for stop in _stops(note, bar)]
    stops.sort(key=lambda stop: stop.onset)
    return _Asked(picking, tuple(stops))


def _place(note: TimedNote, bar: TimedBar) -> tuple[int, int]:
    at = bar.start + note.onset if bar.start else note.onset
    return at.numerator, at.denominator


def _stops(note: TimedNote, bar: TimedBar) -> Iterator[_FingeredNote]:
    if note.fret and note.fretting:
        yield _stop(note.onset, note.string, note.fret, note.fretting, bar)
    for slur in note.slurs:
        if slur.fret and slur.fretting:
            yield _stop(slur.onset, note.string, slur.fret, slur.fretting, bar)


def _stop(onset: Fraction, string: int, fret: int, finger: str, bar: TimedBar) -> _FingeredNote:
    held = voicing_at(bar, onset)
    name = held.name if held else ""
    beside = held is None or held.fret(string) != fret
    known: tuple[object, ...] = (name, string, fret)
    if held is not None and not beside and _in_barre(held, string, finger):
        known = (name, fret)
    return _FingeredNote(onset, string, fret, finger, known, beside)


def _in_barre(held: Voicing, string: int, finger: str) -> bool:
    """Whether a finger stops this string and others at the same fret."""
    fret = held.fret(string)
    strings = held.strings_of(finger)
    return string in strings and sum(held.fret(other) == fret for other in strings) > 1
