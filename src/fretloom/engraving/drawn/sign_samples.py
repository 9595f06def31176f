"""Every sign of the pictures by itself, drawn as it is drawn there, with what it means.

Which signs a page has, its pictures say (`Drawing.signs`); a page explains those and no others.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from fretloom.engraving.drawn import signs as draw
from fretloom.engraving.drawn.diagrams.board import hop_way
from fretloom.engraving.drawn.drawing import Drawing, Letters, Mark, mirrored
from fretloom.engraving.drawn.neck import DrawnNeck
from fretloom.engraving.drawn.stairs import tick_boxes
from fretloom.engraving.drawn.tab.samples import TAB_SAMPLES
from fretloom.trade.phrases.table import phrases, say
from fretloom.values import frozen

#: How high each is, in millimetres, so that they stand in rows.
_HEIGHT = 8.0
_MIDDLE = _HEIGHT / 2
_PART = "signs."
#: Tab runs from left to right for both hands.
_OF_TAB = frozenset(TAB_SAMPLES)


@frozen
class SignSample:
    """A sign by itself: its key in `signs` of the table of phrases, its picture, and what it means."""

    key: str
    picture: Drawing
    meaning: str


def sign_samples(used: Iterable[str], *, mirrored_hand: bool = False) -> tuple[SignSample, ...]:
    """Return samples of the signs that are used, in the order of the table of phrases.

    Args:
        used: their keys, as `Drawing.signs` has them; those that nobody draws are left out.
        mirrored_hand: as the pictures of a left-handed player have them.
    """
    wanted = set(used)
    return tuple(
        SignSample(key, _picture(key, mirrored_hand), say(f"{_PART}{key}"))
        for key in _in_order()
        if key in wanted
    )


def all_signs() -> tuple[str, ...]:
    """Return the keys of all signs of which there is a sample, in the order of the table of phrases."""
    return tuple(_in_order())


def _in_order() -> Iterator[str]:
    for name in phrases():
        if name.startswith(_PART) and name.removeprefix(_PART) in _SAMPLES:
            yield name.removeprefix(_PART)


def _picture(key: str, mirror: bool) -> Drawing:
    width, drawn = _SAMPLES[key]
    marks = tuple(drawn(width / 2, _MIDDLE))
    return Drawing(
        width=width, height=_HEIGHT, title=say(f"{_PART}{key}"),
        marks=tuple(mirrored(marks, width)) if mirror and key not in _OF_TAB else marks,
    )  # fmt: skip


def _barre(x: float, y: float) -> Iterator[Mark]:
    return draw.bar("1", (x - 4.0, y), (x + 4.0, y), over=False, quiet=False)


def _capo(x: float, y: float) -> Iterator[Mark]:
    yield draw.box_around((x - 3.0, y), (x + 3.0, y), 1.15, 0.95, 0.95)


def _hop(x: float, y: float) -> Iterator[Mark]:
    neck = DrawnNeck(strings=2, low=0, high=4, corner=(x - 2.0, 0.0))
    up = y - 1.6 - neck.finger(1)
    neck = DrawnNeck(strings=2, low=0, high=4, corner=(x - 2.0, up))
    yield from draw.finger_down("2", neck.at(1, neck.finger(1)))
    yield from hop_way(neck, (1, 1), (2, 1))
    yield from draw.finger_hops("2", neck.at(2, neck.finger(1)))


def _count(x: float, y: float) -> Iterator[Mark]:
    yield draw.count_box(x - 3.0, y - 2.0, 6.0, 4.0)
    yield Letters(at=(x, y + draw.MIDDLE * 2.9), text="3", size=2.9, ink="thumb", bold=True)


def _first_fret(x: float, y: float) -> Iterator[Mark]:
    yield Letters(at=(x, y + draw.MIDDLE * 3.3), text="5", size=3.3, bold=True)


#: For each sign how wide it is, and what draws it around its middle.
_SAMPLES: Mapping[str, tuple[float, Callable[[float, float], Iterable[Mark]]]] = {
    "finger": (4.6, lambda x, y: draw.finger_down("2", (x, y))),
    "thumb-fret": (4.6, lambda x, y: draw.finger_down("T", (x, y))),
    "unfingered": (4.6, lambda x, y: draw.finger_down("", (x, y))),
    "quiet": (4.6, lambda x, y: draw.finger_held("4", (x, y))),
    "barre": (12.6, _barre),
    "capo": (9.2, _capo),
    "hop": (8.8, _hop),
    "open": (4.6, lambda x, y: draw.open_string((x, y))),
    "quiet-open": (4.6, lambda x, y: draw.open_string((x, y), quiet=True)),
    "mute": (4.6, lambda x, y: draw.cross((x, y))),
    "was-here": (4.6, lambda x, y: draw.finger_was("1", (x, y))),
    "slide": (4.6, lambda x, y: draw.slide((x, y + 2.6), (x, y - 2.6))),
    "thumb-count": (7.0, _count),
    "first-fret": (4.6, _first_fret),
    **TAB_SAMPLES,
    "good-turn": (14.6, lambda x, y: tick_boxes(3, x - 6.8, y - 2.0)),
}
