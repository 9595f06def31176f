"""The neck at the head of a handout: where the capo goes."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.engraving.drawn import signs as draw
from fretloom.engraving.drawn.diagrams.board import capo_bars
from fretloom.engraving.drawn.drawing import Drawing, DrawnLine, Letters, Mark, mirrored
from fretloom.engraving.drawn.lettering import width_of
from fretloom.engraving.drawn.neck import DrawnNeck
from fretloom.performance.showing.called_strings import CalledStrings
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.harmony.note_names import write_note
from fretloom.trade.phrases.table import phrases, say
from fretloom.trade.wording import with_signs

#: From the nut to the last wire, in millimetres, and the distance of strings.
_LENGTH, _STEP = 52.0, 2.7
#: So many frets are shown beyond the capo.
_BEYOND = 3
_LEFT, _TOP, _RIGHT, _BELOW = 5.0, 6.4, 1.4, 5.2
_LETTER, _FIGURE, _NAME = 2.6, 2.9, 3.3
_THICK = 2.3
#: Strings are drawn thinner than in a diagram, as in tab.
_THINNER = 0.72
#: Between two figures of frets, at the least.
_APART = 0.8


def neck_picture(
    capo: Capo,
    tuning: Tuning,
    *,
    mirrored_hand: bool = False,
    names: str = "english",
    called: CalledStrings | None = None,
) -> Drawing | None:
    """Draw the neck from the nut to three frets beyond the capo; None where there is no capo.

    Args:
        mirrored_hand: as a left-handed player sees it: the nut is on the right.
        names: how notes are called, as in the heading of a lesson. called: what strings are called aloud.
    """
    if not capo.fret:
        return None
    neck = DrawnNeck(
        strings=tuning.strings, low=0, high=capo.fret + _BEYOND, corner=(_LEFT, _TOP), lying=True,
        step=_STEP, size=_LENGTH,
    )  # fmt: skip
    width = _LEFT + _LENGTH + _RIGHT
    marks = tuple(_marks(neck, capo, tuning, names))
    return Drawing(
        width=width,
        height=_TOP + neck.breadth + _BELOW,
        marks=tuple(mirrored(marks, width)) if mirrored_hand else marks,
        title=say("drawn.capo-title", fret=capo.fret),
        says=capo_spoken(capo, tuning.strings, called),
    )


def capo_spoken(capo: Capo, strings: int, called: CalledStrings | None = None) -> str:
    """Say where a capo goes: "Capo at fret 3 across all six strings."."""
    if not capo.strings or set(capo.strings) >= set(range(1, strings + 1)):
        number = phrases().get(f"hands.number-{strings}", str(strings))
        return say("drawn.capo-whole", fret=capo.fret, number=number)
    numbers = sorted(capo.strings, reverse=True)
    names = (called or CalledStrings()).one_by_one(numbers)
    return say("drawn.capo-some", fret=capo.fret, strings=names)


def _marks(neck: DrawnNeck, capo: Capo, tuning: Tuning, names: str) -> Iterator[Mark]:
    yield from neck.wires(range(1, neck.high + 1))
    yield from neck.drawn_strings(tuning, 0.0, neck.length + 0.6, _THINNER)
    (x, top), (_, bottom) = neck.at(1, 0.0), neck.at(neck.strings, 0.0)
    yield DrawnLine(points=((x, top - 0.4), (x, bottom + 0.4)), width=1.2, ink="line")
    for string in range(1, neck.strings + 1):
        x, y = neck.at(string, 0.0)
        text = with_signs(write_note(tuning.open_pitch(string).name, names))
        at = (x - 2.6, y + draw.MIDDLE * _LETTER)
        yield Letters(at=at, text=text, size=_LETTER, ink="soft")
    bars = list(capo_bars(neck, capo, _THICK))
    yield from bars
    middle = bars[0].at[0] + bars[0].width / 2
    text = say("drawn.capo", fret=capo.fret)
    half = width_of(text, _NAME, bold=True) / 2 + 0.4
    middle = min(middle, neck.corner[0] + neck.length + _RIGHT - half)
    yield Letters(at=(middle, _TOP - 2.4), text=text, size=_NAME, bold=True)
    yield from _figures(neck, capo.fret)


def _figures(neck: DrawnNeck, capo: int) -> Iterator[Mark]:
    """Number the frets, the capo's first; those that have no room beside it are left out."""
    taken = list[tuple[float, float]]()
    for fret in sorted(range(1, neck.high + 1), key=lambda one: (one != capo, one)):
        middle = (neck.wire(fret) + neck.wire(fret - 1)) / 2
        half = width_of(str(fret), _FIGURE) / 2
        if all(abs(middle - at) >= half + other + _APART for at, other in taken):
            taken.append((middle, half))
            x, y = neck.at(neck.strings, middle)
            yield Letters(at=(x, y + 4.4), text=str(fret), size=_FIGURE, ink="soft")
