"""The diagram of a voicing: where the fingers stand, and what this song plucks of it.

A filled disc is a finger, a ring one that is held but never plucked in the song. The box under the
strings belongs to the thumb: under each string the counts on which the thumb plays it. A finger that
hops within the bar has a ring at its goal and a curve that leads there. The thick line is the bass.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cached_property

from attrs import field

from fretloom.engraving.drawn.drawing import (
    Box,
    Disc,
    Drawing,
    DrawnLine,
    Letters,
    Mark,
)
from fretloom.engraving.drawn.neck import STRING_STEP, DrawnNeck, string_widths, window
from fretloom.engraving.drawn.shape_words import spoken
from fretloom.engraving.drawn.signs import MIDDLE, box_around, cross, figure, foot
from fretloom.performance.showing.shape_use import ShapeUse
from fretloom.trade.guitar.tuning import Tuning
from fretloom.trade.guitar.voicing import Barre, Hop, Voicing
from fretloom.trade.wording import with_signs
from fretloom.values import frozen

_RADIUS = 0.46 * STRING_STEP
_FIGURE, _SOFT_FIGURE, _COUNT, _STRING_NAME, _NAME = 3.2, 3.0, 2.9, 2.6, 4.9
_ROW = 3.3
#: The root of a chord as it is printed, with its sign.
_ROOT = re.compile("[A-H][♯♭]?(?![a-z]{3})")
#: How far the curve of a hop swings out.
_BOW = 3.4
#: So many counts a string are shown in the thumb's box; more are more than a glance.
_MOST_COUNTS = 6
#: Room around the strings in an upright diagram: left with and without a number, right, above.
_LEFT, _LEFT_WIDE, _RIGHT, _ABOVE, _NAMED = 2.6, 7.0, 3.2, 4.6, 5.6


@frozen(kw_only=True)
class DiagramLook:
    """How diagrams are drawn: for a left-handed player, along the neck as in tab, with or without a name."""

    mirrored: bool = False
    lying: bool = False
    named: bool = True


def shape_diagram(
    voicing: Voicing, use: ShapeUse | None, tuning: Tuning, look: DiagramLook, name: str = ""
) -> Drawing:
    """Draw a voicing.

    Args:
        use: how the song uses it, None if that is not known: all strings count as plucked then.
        name: how students read its name.
    """
    return _Diagram(
        voicing, use, tuning, look, with_signs(name or voicing.symbol or voicing.name)
    ).picture()


@frozen(eq=False)
class _Diagram:
    voicing: Voicing
    use: ShapeUse | None
    tuning: Tuning
    look: DiagramLook
    name: str = field()

    @cached_property
    def _counts(self) -> dict[int, tuple[str, ...]]:
        """The counts on which the thumb plays each string, as they are written."""
        thumb = self.use.thumb if self.use is not None else ()
        return {string: _shortened([str(one) for one in counts]) for string, counts in thumb}

    @cached_property
    def _window(self) -> tuple[int, int]:
        frets = [fret for fret in self.voicing.frets if fret is not None]
        return window([*frets, *(hop.fret for hop in self.voicing.hops)])

    @property
    def _from_nut(self) -> bool:
        return self._window[0] == 0

    @cached_property
    def neck(self) -> DrawnNeck:
        """The piece of neck, with its place in the picture."""
        low, high = self._window
        top = _ABOVE + (_NAMED if self.look.named else 0.0)
        strings = len(self.voicing.frets)
        if self.look.lying:
            plain = DrawnNeck(strings=strings, low=low, high=high, corner=(0, 0))
            return DrawnNeck(
                strings=strings, low=low, high=high, corner=(_LEFT_WIDE + 3.4, top - 1.0), lying=True,
                mirrored=self.look.mirrored, width=_LEFT_WIDE + 3.4 + plain.length + self._beside,
            )  # fmt: skip
        left = _LEFT_WIDE if self._counts or not self._from_nut else _LEFT
        return DrawnNeck(
            strings=strings, low=low, high=high, corner=(left, top), mirrored=self.look.mirrored
        )

    @property
    def _beside(self) -> float:
        """Room beside a lying neck: for the thumb's counts, each string's in a row."""
        longest = max((len(" ".join(texts)) for texts in self._counts.values()), default=0)
        return 3.4 + (longest * 0.62 * _COUNT + 4.4 if longest else 0.0)

    def picture(self) -> Drawing:
        """Put it together."""
        x, y = self.neck.corner
        if self.look.lying:
            width = self.neck.width
            height = y + self.neck.breadth + (6.0 if not self._from_nut else 3.0)
        else:
            width = x + self.neck.breadth + _RIGHT
            height = y + self.neck.length + 5.0 + self._box_height
        return Drawing(
            width=width,
            height=height,
            marks=tuple(self._marks()),
            title=self.name,
            says=spoken(self.name, self.voicing, self.use),
        )

    def _marks(self) -> Iterator[Mark]:
        if self.look.named:
            yield _name(self.name, self.neck.corner[0] - (0 if self.look.lying else _RADIUS))
        yield from self._board()
        yield from self._string_names()
        yield from self._fret_number()
        barres = self.voicing.barres
        yield from self._open_strings()
        for barre in barres:
            yield from self._barre(barre)
        covered = {
            string for barre in barres
            for string in range(barre.last, barre.first + 1)
            if self.voicing.fret(string) == barre.fret
        }  # fmt: skip
        for string in range(len(self.voicing.frets), 0, -1):
            if self.voicing.fret(string) and string not in covered:
                yield from self._finger(string)
        for hop in self.voicing.hops:
            yield from self._hop(hop)
        yield from self._thumb_counts()

    def _board(self) -> Iterator[Mark]:
        neck, strings = self.neck, self.neck.strings
        before = 0.0 if self._from_nut else 1.2
        for fret in range(neck.low + (1 if self._from_nut else 0), neck.high + 1):
            ends = (neck.at(strings, neck.wire(fret)), neck.at(1, neck.wire(fret)))
            yield DrawnLine(points=ends, width=0.3, ink="line")
        widths = string_widths(self.tuning)
        for string in range(strings, 0, -1):
            ends = (neck.at(string, -before), neck.at(string, neck.length + 1.2))
            yield DrawnLine(points=ends, width=widths[strings - string], ink="line")
        if self._from_nut:
            yield box_around(neck.at(strings, -1.6), neck.at(1, 0.0), 1.7, neck.lying)

    def _string_names(self) -> Iterator[Mark]:
        neck = self.neck
        for string, pitch in zip(range(neck.strings, 0, -1), self.tuning.pitches, strict=False):
            text = with_signs(str(pitch.name))
            if neck.lying:
                x, y = neck.at(string, -(7.4 if self._from_nut else 6.6))
                at = (x, y + MIDDLE * _STRING_NAME)
            else:
                x, y = neck.at(string, neck.length)
                at = (x, y + 4.2)
            yield Letters(at=at, text=text, size=_STRING_NAME, ink="soft")

    def _fret_number(self) -> Iterator[Mark]:
        """Write which fret the window begins with, where no nut shows it."""
        if self._from_nut:
            return
        neck, first = self.neck, self.neck.low + 1
        text = str(first)
        if neck.lying:
            x, y = neck.at(neck.strings, neck.finger(first))
            yield Letters(at=(x, y + 5.0), text=text, size=3.3, bold=True)
            return
        x = neck.corner[0] - 2.7
        y = neck.at(1, neck.finger(first))[1] + MIDDLE * 3.3
        yield Letters(at=(x, y), text=text, size=3.3, anchor="end", bold=True)

    def _plucked(self, string: int) -> bool:
        return self.use is None or string in self.use.plucked

    def _open_strings(self) -> Iterator[Mark]:
        hopped = {hop.string for hop in self.voicing.hops}
        for string in range(len(self.voicing.frets), 0, -1):
            fret = self.voicing.fret(string)
            at = self.neck.at(string, -3.4 if self._from_nut else -2.9)
            if fret is None and string not in hopped:
                yield from cross(at)
            elif fret == 0:
                if self._plucked(string):
                    yield Disc(at=at, radius=1.05, line="ink", width=0.5)
                else:
                    yield Disc(at=at, radius=0.8, line="soft", width=0.22)

    def _finger(self, string: int) -> Iterator[Mark]:
        at = self.neck.at(string, self.neck.finger(self.voicing.fret(string) or 0))
        finger = self.voicing.finger(string) or ""
        if self._plucked(string):
            yield Disc(at=at, radius=_RADIUS, fill="ink")
            yield from figure(finger, at, _FIGURE, "paper", bold=True)
        else:
            yield Disc(at=at, radius=0.86 * _RADIUS, fill="paper", line="soft", width=0.3)
            yield from figure(finger, at, _SOFT_FIGURE, "soft")

    def _barre(self, barre: Barre) -> Iterator[Mark]:
        along = self.neck.finger(barre.fret)
        first, last = (self.neck.at(string, along) for string in (barre.first, barre.last))
        yield box_around(first, last, _RADIUS)
        yield from figure(barre.finger, first, _FIGURE, "paper", bold=True)

    def _hop(self, hop: Hop) -> Iterator[Mark]:
        goal = self.neck.at(hop.string, self.neck.finger(hop.fret))
        for string in self.voicing.strings_of(hop.finger):
            yield from self._curve(string, self.voicing.fret(string) or 0, hop)
        yield Disc(at=goal, radius=0.9 * _RADIUS, fill="paper", line="ink", width=0.55)
        yield from figure(hop.finger, goal, _FIGURE, "ink", bold=True)

    def _curve(self, string: int, fret: int, hop: Hop) -> Iterator[Mark]:
        """Draw the way of a finger that hops: a curve towards the body, with an open head at its goal."""
        neck, below = self.neck, 0.9 * _RADIUS
        start, goal = neck.finger(fret) + below, neck.finger(hop.fret) + below
        points = (
            neck.at(string, start), neck.at(string, start + _BOW), neck.at(hop.string, goal + _BOW),
            neck.at(hop.string, goal + 0.4),
        )  # fmt: skip
        yield DrawnLine(points=points, width=1.7, ink="paper", curved=True)
        yield DrawnLine(points=points, width=0.45, ink="ink", curved=True)
        side = 0.85 / STRING_STEP
        head = (
            (hop.string - side, goal + 1.4),
            (hop.string, goal + 0.2),
            (hop.string + side, goal + 1.4),
        )
        yield DrawnLine(points=tuple(neck.at(*place) for place in head), width=0.45, ink="ink")

    @property
    def _box_height(self) -> float:
        rows = max((len(texts) for texts in self._counts.values()), default=0)
        return _ROW * rows + 1.4 if rows else 0.0

    def _thumb_counts(self) -> Iterator[Mark]:
        if not self._counts:
            return
        neck = self.neck
        if neck.lying:
            for string, texts in self._counts.items():
                x, y = neck.at(string, neck.length + 3.0)
                yield Letters(
                    at=(x, y + MIDDLE * _COUNT), text=" ".join(texts), size=_COUNT, ink="thumb",
                    anchor="end" if neck.mirrored else "start", bold=True,
                )  # fmt: skip
            x, y = neck.at(1, neck.length + 4.0)
            yield from foot((x, y - 2.2))
            return
        left, top = neck.corner[0], neck.corner[1] + neck.length + 5.0
        yield Box(
            at=(left - 1.8, top), width=neck.breadth + 3.6, height=self._box_height - 0.8,
            radius=0.6, fill="tint", line="line", line_width=0.18,
        )  # fmt: skip
        yield from foot((left - 4.1, top + 1.6))
        for string, texts in self._counts.items():
            x = neck.at(string, 0)[0]
            for row, text in enumerate(texts):
                y = top + _ROW * row + 2.9
                yield Letters(at=(x, y), text=text, size=_COUNT, ink="thumb", bold=True)


def _shortened(texts: list[str]) -> tuple[str, ...]:
    if len(texts) <= _MOST_COUNTS:
        return tuple(texts)
    return (*texts[: _MOST_COUNTS - 1], "…")


def _name(name: str, left: float) -> Mark:
    """Write the name: the root of a chord bold, the rest smaller; a plain name bold as a whole."""
    found = _ROOT.match(name)
    root = found[0] if found else name
    return Letters(
        at=(max(left, 0.4), 4.3), text=root, after=name[len(root) :], size=_NAME, anchor="start",
        bold=True,
    )  # fmt: skip
