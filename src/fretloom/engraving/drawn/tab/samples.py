"""The signs of drawn tab by themselves, drawn by what draws them in a bar."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from fretloom.engraving.drawn.drawing import DrawnLine, Letters, Mark, moved
from fretloom.engraving.drawn.tab.levels import Levels
from fretloom.engraving.drawn.tab.painting import frets, manners, stems
from fretloom.engraving.drawn.tab.placing.rhythm import MarkedTuplet, Rhythm
from fretloom.engraving.drawn.tab.placing.spacing import Places
from fretloom.engraving.drawn.tab.placing.struck import struck_in
from fretloom.engraving.drawn.tab.values import FINGER, HALF, WORDS, StripBar
from fretloom.notation.model.details.technique import Bend, Grace
from fretloom.performance.events import SlurredNote, TimedBar, TimedNote
from fretloom.performance.manner import NoteTechnique, TrilledNote
from fretloom.trade.music.meter import Meter
from fretloom.trade.phrases.table import say

_Drawn = Callable[[float, float], Iterable[Mark]]
_Sample = tuple[float, _Drawn]
_FOUR = Meter((4,), 4)
#: From the middle of a sample to its first fret, and from one beat to the next.
_BEAT = 6.0
#: Between a sample and the end of its string, and how much lower one stands that reaches up.
_EDGE, _LOWER = 0.5, 2.0


def _note(string: int = 1, fret: int = 2, **fields: Any) -> TimedNote:
    length = Fraction(1)
    given = {"onset": Fraction(0), "length": length, "ring": length, "finger": "m", "midi": 60}
    return TimedNote(**{**given, "string": string, "fret": fret, **fields})


def _played(first: float, *notes: TimedNote) -> Callable[[float, float], Iterator[Mark]]:
    """Return what draws notes on their strings, the first `first` millimetres left of the middle."""

    def drawn(x: float, y: float) -> Iterator[Mark]:
        bar = TimedBar(meter=_FOUR, length=_FOUR.length, notes=notes)
        strings = max(note.string for note in notes)
        levels, begin = Levels(strings=strings), x - first
        across = (begin, begin + 4 * _BEAT)
        places = Places((Fraction(0), Fraction(4)), across, 2 * x)
        found = frets.spots(struck_in(bar), places, levels)
        marks: list[Mark] = [
            DrawnLine(points=((_EDGE, level), (2 * x - _EDGE, level)), width=0.3, ink="line")
            for level in map(levels.string, range(1, strings + 1))
        ]
        marks += manners.behind(found, places, levels, StripBar(bar=bar))
        marks += [*frets.frets(found), *frets.slurs(found), *manners.after_frets(found)]
        yield from moved(marks, 0.0, y - (levels.top + levels.bottom) / 2)

    return drawn


def _technique(width: float, first: float, **fields: Any) -> _Sample:
    return width, _played(first, _note(technique=NoteTechnique(**fields)))


def _lower(drawn: Callable[[float, float], Iterable[Mark]]) -> _Drawn:
    return lambda x, y: drawn(x, y + _LOWER)


def _slur(kind: str, fret: int, to: int) -> _Sample:
    slur = SlurredNote(kind=kind, onset=Fraction(1), fret=to, midi=60)
    return 11.0, _played(_BEAT / 2, _note(fret=fret, slurs=(slur,)))


def _grace(kind: Grace) -> _Sample:
    slur = SlurredNote(kind="hammer-on", onset=Fraction(0), fret=3, midi=60)
    technique = NoteTechnique(grace=kind, grace_length=Fraction(1, 8))
    return 9.0, _played(-1.8, _note(slurs=(slur,), technique=technique))


def _finger(flags: int, letter: str = "") -> Callable[[float, float], Iterator[Mark]]:
    def drawn(x: float, y: float) -> Iterator[Mark]:
        begin = x - (0.6 if flags else 0.0)
        tip = y - 0.7 if letter else y - 1.4
        yield from stems.finger_stem(begin, y + 3.2, tip, flags)
        if letter:
            yield Letters(at=(begin, y - 1.4), text=letter, size=FINGER)

    return drawn


def _thumb(x: float, y: float) -> Iterator[Mark]:
    yield from stems.thumb_stem(x, y - 2.6, y + 2.4, 0)


def _tuplet(x: float, y: float) -> Iterator[Mark]:
    places = Places((Fraction(0), Fraction(1)), (x - 2.8, x + 4.2), 2 * x)
    marked = Rhythm({}, (MarkedTuplet(Fraction(0), Fraction(1), 3),))
    levels = Levels(strings=1, tuplets=1)
    yield from moved(tuple(stems.tuplets(marked, places, levels)), 0.0, y + 1.0 - levels.tuplet(0))


def _slap(x: float, y: float) -> Iterator[Mark]:
    yield from manners.cross_of_slap(x, y)


def _roll(strings: Sequence[int], **fields: Any) -> tuple[TimedNote, ...]:
    return tuple(
        _note(string, fret=0 if string > 1 else 2, order=order, gesture=0, **fields)
        for order, string in enumerate(strings)
    )


#: For each sign how wide it is, and what draws it around its middle.
TAB_SAMPLES: Mapping[str, _Sample] = {
    "thumb": (4.6, _thumb),
    "picking-finger": (4.6, _finger(0, "m")),
    "half-beat": (4.6, _finger(1)),
    "quarter-beat": (4.6, _finger(2)),
    "flag-count": (4.6, _finger(1)),
    "flags-half-count": (4.6, _finger(2)),
    "flag": (4.6, _finger(1)),
    "flags": (4.6, _finger(2)),
    "half-count": (4.6, lambda x, y: [Letters(at=(x, y + 1.0), text="&", size=HALF, ink="soft")]),
    "tuplet": (8.4, _tuplet),
    "crossed": (5.6, frets.crossed),
    "again-bar": (
        10.6,
        lambda x, y: [Letters(at=(x, y + 1.3), text=say("pages.again"), size=WORDS)],
    ),
    "hammer-on": _slur("hammer-on", 0, 2),
    "pull-off": _slur("pull-off", 2, 0),
    "slide-to": _slur("slide", 2, 4),
    "grace": _grace("before"),
    "grace-on-beat": _grace("on-beat"),
    "bend": (9.8, _lower(_technique(9.8, 2.8, bend=Bend(Fraction(2)))[1])),
    "vibrato": _technique(9.0, 2.2, vibrato=True),
    "trill": _technique(12.0, 3.6, trill=TrilledNote(fret=4, midi=62)),
    "harmonic": (8.0, _played(0.0, _note(fret=12, harmonic=True))),
    "touched": _technique(12.0, 3.4, touch=14),
    "dead": (5.6, _played(0.0, _note(dead=True))),
    "ghost": (6.6, _played(0.0, _note(technique=NoteTechnique(ghost=True)))),
    "accent": (4.6, lambda x, y: [manners.wedge(x, y)]),
    "held-on": _technique(10.0, 3.4, held=Fraction(3, 2)),
    "ring-on": _technique(8.0, 1.8, lasting="ring"),
    "short": _technique(6.6, 0.8, lasting="damped"),
    "roll": (8.4, _played(1.35, *_roll((2, 1)))),
    "brush": (8.4, _played(-1.0, *_roll((2, 1), brush=1))),
    "slap": (4.6, _slap),
    "fermata": (4.6, lambda x, y: manners.fermata(x, y + 1.0)),
}  # fmt: skip
