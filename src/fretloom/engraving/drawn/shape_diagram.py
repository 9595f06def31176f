"""The diagram of a voicing: where the fingers stand, and what this song plucks of it.

A filled disc is a finger, a ring one that is held but never plucked in the song. The box under the
strings belongs to the thumb: under each string the counts on which the thumb plays it. A finger that
hops within the bar has a ring at its goal and a curve that leads there. The thick line is the bass.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

from attrs import field

from fretloom.engraving.drawn import signs as draw
from fretloom.engraving.drawn.diagrams.board import (
    EDGE,
    LEFT,
    LEFT_SIGN,
    RIGHT,
    Board,
    frets_of,
    hop_way,
    left_room,
    neck_of,
    on_neck,
)
from fretloom.engraving.drawn.diagrams.names import chord_name, printed
from fretloom.engraving.drawn.drawing import Drawing, Letters, Mark
from fretloom.engraving.drawn.lettering import width_of
from fretloom.engraving.drawn.neck import STRING_STEP, window
from fretloom.engraving.drawn.shape_words import spoken
from fretloom.performance.showing.called_strings import CalledStrings
from fretloom.performance.showing.shape_use import ShapeUse
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.guitar.voicing import Hop, Voicing
from fretloom.values import frozen

_COUNT, _ROW = 2.9, 3.3
_NAME, _LEAST_NAME = 4.9, 3.4
#: Between counts in a row; one that is wider than its column keeps farther off.
_LEAST_GAP, _GAP = 0.25, 0.9
#: So many counts a string are shown in the thumb's box; more are more than a glance.
_MOST_COUNTS = 6
#: Between the box and the strings: below those that stand, behind those that lie.
_BELOW, _BEHIND = 5.0, 5.0
#: How far the box reaches out beyond the outer strings.
_OUT = 1.8


@frozen(kw_only=True)
class DiagramLook:
    """How diagrams are drawn.

    Args:
        mirrored: for a left-handed player: upright the lowest string is on the right, lying the nut is.
        lying: along the neck, string 1 on top as in tab.
        named: with the name on top. names: how notes are called, as in the heading of a lesson.
        room: millimetres on the left of upright strings at the least, so that diagrams in a column
            stand under one another; `room_beside` says what one needs.
        called: what strings are called where a picture is said.
    """

    mirrored: bool = False
    lying: bool = False
    named: bool = True
    names: str = "english"
    room: float = 0.0
    called: CalledStrings = CalledStrings()


def shape_diagram(
    voicing: Voicing, use: ShapeUse | None, tuning: Tuning, look: DiagramLook, name: str = "",
    capo: Capo | None = None,
) -> Drawing:  # fmt: skip
    """Draw a voicing.

    Args:
        use: how the song uses it, None if that is not known: all strings count as plucked then.
        name: how students read its name.
        capo: drawn where it leaves strings out, and frets are counted from the nut then; a whole one
            is the nut.
    """
    given = printed(name or voicing.symbol or voicing.name)
    return _Diagram(voicing, use, tuning, look, capo or Capo(), given).picture()


def room_beside(voicing: Voicing, use: ShapeUse | None, capo: Capo | None = None) -> float:
    """Return the millimetres that an upright diagram needs on the left of its strings."""
    low, _ = window(frets_of(on_neck(voicing, capo or Capo())))
    return max(left_room(low), LEFT_SIGN if use is not None and use.thumb else LEFT)


@frozen(eq=False)
class _Diagram:
    voicing: Voicing
    use: ShapeUse | None
    tuning: Tuning
    look: DiagramLook
    capo: Capo
    name: str = field()

    @cached_property
    def _counts(self) -> dict[int, tuple[str, ...]]:
        """The counts on which the thumb plays each string, as they are written."""
        thumb = self.use.thumb if self.use is not None else ()
        return {string: _shortened([str(one) for one in counts]) for string, counts in thumb}

    @cached_property
    def _drawn(self) -> Voicing:
        return on_neck(self.voicing, self.capo)

    @cached_property
    def board(self) -> Board:
        """The piece of neck, with its place in the picture."""
        look = self.look
        room = max(look.room, room_beside(self.voicing, self.use, self.capo))
        neck = neck_of(
            len(self.voicing.frets), frets_of(self._drawn), lying=look.lying, rows=int(look.named),
            room=room,
        )  # fmt: skip
        return Board(neck, self.tuning, self.capo, look.names)

    def picture(self) -> Drawing:
        """Put it together."""
        (x, y), neck = self.board.neck.corner, self.board.neck
        marks = tuple(self._marks())
        if self.look.lying:
            width = x + neck.length + (_BEHIND + self._row_length + 1.4 if self._counts else 3.4)
            height = y + neck.breadth + (3.0 if self.board.from_nut else 6.0)
        else:
            width = x + neck.breadth + RIGHT
            height = y + neck.length + _BELOW + (self._box_height + EDGE if self._counts else 0.0)
        name = [chord_name(self.name, _NAME, _LEAST_NAME)] if self.look.named else []
        return self.board.finished(
            marks, size=(width, height), name=name, mirror=self.look.mirrored, title=self.name,
            says=self._says,
        )  # fmt: skip

    @property
    def _says(self) -> str:
        """The picture in words, and from where its frets are counted where a capo leaves strings out."""
        called, thick = self.look.called, self.tuning.outer_is_lowest
        said = spoken(self.name, self.voicing, self.use, thick=thick, called=called)
        return " ".join(filter(None, [said, called.counted([self.voicing])]))

    def _marks(self) -> Iterator[Mark]:
        board, voicing = self.board, self._drawn
        yield from board.lines()
        yield from board.open_strings(
            voicing, self._plucked, [hop.string for hop in voicing.hops if hop.fret]
        )
        yield from board.fingers(voicing, self._plucked)
        for hop in voicing.hops:
            yield from self._hop(hop)
        if self._counts:
            board.signs.add("thumb-count")
            yield from self._lying_counts() if self.look.lying else self._thumb_box()

    def _plucked(self, string: int) -> bool:
        return self.use is None or string in self.use.plucked

    def _hop(self, hop: Hop) -> Iterator[Mark]:
        """Draw a hop to where no other finger stands."""
        board, voicing = self.board, self._drawn
        if not hop.fret or voicing.fret(hop.string) == hop.fret:
            return
        board.signs.add("hop")
        homes = [one for one in voicing.strings_of(hop.finger) if voicing.fret(one)]
        if homes:
            home = min(homes, key=lambda string: abs(string - hop.string))
            yield from hop_way(board.neck, (home, voicing.fret(home) or 0), (hop.string, hop.fret))
        yield from draw.finger_hops(hop.finger, board.place(hop.string, hop.fret))

    @cached_property
    def _row_length(self) -> float:
        return max(width_of(" ".join(texts), _COUNT, bold=True) for texts in self._counts.values())

    @cached_property
    def _box_height(self) -> float:
        return _ROW * (1 + max(row for row, _, _, _ in self._cells)) + 0.6

    @cached_property
    def _cells(self) -> list[tuple[int, float, str, float]]:
        """The counts in the thumb's box: row, middle, text and size; those too wide for a column get own rows."""
        neck = self.board.neck
        left, width = neck.corner[0] - _OUT, neck.breadth + 2 * _OUT
        cells = list[tuple[int, float, str, float]]()
        ends = dict[int, float]()
        for string in sorted(self._counts, reverse=True):
            row = -1
            for text in self._counts[string]:
                size = min(_COUNT, _COUNT * (width - 0.6) / width_of(text, _COUNT, bold=True))
                half = width_of(text, size, bold=True) / 2
                x = neck.at(string, 0)[0]
                x = min(max(x, left + 0.3 + half), left + width - 0.3 - half)
                row += 1
                gap = _GAP if 2 * half > STRING_STEP - _LEAST_GAP else _LEAST_GAP
                while row in ends and ends[row] + gap > x - half:
                    row += 1
                ends[row] = x + half
                cells.append((row, x, text, size))
        return cells

    def _thumb_box(self) -> Iterator[Mark]:
        neck = self.board.neck
        left, top = neck.corner[0] - _OUT, neck.corner[1] + neck.length + _BELOW
        yield draw.count_box(left, top, neck.breadth + 2 * _OUT, self._box_height)
        yield from draw.foot((left - 2.3, top + 1.6))
        for row, x, text, size in self._cells:
            at = (x, top + _ROW * row + 2.9)
            yield Letters(at=at, text=text, size=size, ink="thumb", bold=True)

    def _lying_counts(self) -> Iterator[Mark]:
        """Write the counts behind their strings."""
        neck = self.board.neck
        x, top = neck.at(1, neck.length + _BEHIND - 0.8)
        yield draw.count_box(x, top - _OUT, self._row_length + 1.6, neck.breadth + 2 * _OUT)
        yield from draw.foot((x - 1.4, top - 0.4))
        for string, texts in self._counts.items():
            y = neck.at(string, 0)[1] + draw.MIDDLE * _COUNT
            yield Letters(
                at=(x + 0.8, y), text=" ".join(texts), size=_COUNT, ink="thumb", anchor="start",
                bold=True,
            )  # fmt: skip


def _shortened(texts: list[str]) -> tuple[str, ...]:
    if len(texts) <= _MOST_COUNTS:
        return tuple(texts)
    return (*texts[: _MOST_COUNTS - 1], "…")
