"""Draws the pictures of a page, and remembers which signs they have, for the legend."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from itertools import count, pairwise
from typing import TYPE_CHECKING

from attrs import evolve, field

from fretloom.engraving.drawn.change_diagram import change_diagram
from fretloom.engraving.drawn.drawing import Drawing
from fretloom.engraving.drawn.neck_picture import neck_picture
from fretloom.engraving.drawn.shape_diagram import DiagramLook, room_beside, shape_diagram
from fretloom.engraving.drawn.stairs import day_boxes, number_boxes, stairs
from fretloom.engraving.drawn.tab.making.strip_bars import of_bars
from fretloom.engraving.drawn.tab.picking_picture import picking_picture
from fretloom.engraving.drawn.tab.strip import strip
from fretloom.engraving.drawn.tab.values import Strip, StripBar, TabLook, line_edges
from fretloom.formats.students.handout.options import HandoutOptions
from fretloom.formats.students.handout.templating import filled, trusted_markup
from fretloom.formats.students.svg import inline
from fretloom.performance.events import Settings, TimedBar
from fretloom.performance.showing.called_strings import CalledStrings
from fretloom.performance.showing.taken_shapes import TakenShape
from fretloom.trade.playability.moving.changes import Change
from fretloom.values import frozen

if TYPE_CHECKING:
    from fractions import Fraction

    from markupsafe import Markup

#: How much larger pictures are in large print.
_LARGE_SHAPE, _LARGE_STAIRS, _LARGE_PICKING, LARGE_SIGN = 1.75, 1.5, 1.3, 1.6
#: How large tab is in large print, the largest first.
_LARGE_TAB = (1.6, 1.55, 1.5, 1.45, 1.4, 1.35)
#: The scale of a picking picture of one bar, and of a longer one or where two stand side by side.
_PICKING, _PICKING_LONG = 1.36, 1.18
#: Behind a pattern with half of the width, as the style sheet has it.
PATTERN_GAP = 4.0
#: Room for tab: the whole page, or beside the side column; in large print there is none.
WHOLE, BESIDE = 176.0, 148.0


@frozen
class LineBar:
    """A bar of tab on the page: the letters of the strings and the bar, and their shares of both in percent.

    `wide` is how wide both are together, in millimetres; `number` is that of the bar on its page, from 0.
    """

    letters: Markup
    bar: Markup
    letters_share: str
    bar_share: str
    wide: str
    number: int


@frozen
class PickingOnPage:
    """A pattern alone: its lines, whether they need the whole width of the page, and its size in millimetres."""

    lines: tuple[Markup, ...]
    long: bool
    width: float
    height: float


@frozen(eq=False)
class PageArtist:
    """Makes pictures for one page."""

    settings: Settings
    options: HandoutOptions
    called: CalledStrings = CalledStrings()
    signs: set[str] = field(factory=set)
    _numbers: Iterator[int] = field(factory=count)
    _places: dict[Hashable, range] = field(factory=dict)

    @property
    def _look(self) -> DiagramLook:
        return DiagramLook(
            mirrored=self.options.mirrored, names=self.settings.names, called=self.called
        )

    def neck(self) -> Markup | None:
        """Draw the neck with its capo, None without one."""
        settings = self.settings
        picture = neck_picture(
            settings.capo,
            settings.tuning,
            mirrored_hand=self.options.mirrored,
            names=settings.names,
            called=self.called,
        )
        return None if picture is None else self.drawn(picture)

    def shape(self, taken: TakenShape, room: float = 0.0) -> Markup:
        """Draw a shape; `room` is what the widest of those around it needs beside its strings, in millimetres."""
        picture = shape_diagram(
            taken.voicing,
            taken.use,
            self.settings.tuning,
            evolve(self._look, room=room),
            taken.name,
            capo=self.settings.capo,
        )
        return self.drawn(picture, _LARGE_SHAPE)

    def room_of(self, shapes: Sequence[TakenShape]) -> float:
        """Return what the widest of some shapes needs beside its strings, so that all stand in columns."""
        capo = self.settings.capo
        return max((room_beside(one.voicing, one.use, capo) for one in shapes), default=0.0)

    def change(self, before: TakenShape, after: TakenShape, made: Change, says: str) -> Markup:
        """Draw a change of shape."""
        picture = change_diagram(
            before,
            after,
            made,
            self.settings.tuning,
            self._look,
            capo=self.settings.capo,
            says=says,
        )
        return self.drawn(picture, _LARGE_SHAPE)

    def picking(self, bars: Sequence[TimedBar]) -> PickingOnPage:
        """Draw a pattern alone, no wider than the page has room; a short one as wide as half of it at most."""
        whole = WHOLE if self.options.large else BESIDE
        shown = of_bars(bars, {})
        if len(bars) == 1 and not self.options.large:
            for k in (_PICKING, _PICKING_LONG):
                drawn = picking_picture(shown, self.settings, TabLook(k=k, width=whole))
                if _widest_line(drawn) <= whole / 2 - PATTERN_GAP:
                    return self._picking(drawn, False)
        k = _PICKING if len(bars) < 2 else _PICKING_LONG
        k *= _LARGE_PICKING if self.options.large else 1.0
        drawn = picking_picture(shown, self.settings, TabLook(k=k, width=whole))
        if _widest_line(drawn) > whole:
            k *= whole / _widest_line(drawn)
            drawn = picking_picture(shown, self.settings, TabLook(k=k, width=whole))
        return self._picking(drawn, True)

    def _picking(self, drawn: Strip, long: bool) -> PickingOnPage:
        height = sum(line[0].height for line in drawn.lines)
        return PickingOnPage(self._on_page(drawn), long, _widest_line(drawn), height)

    def stairs(self, tempos: Sequence[int | Fraction]) -> Markup:
        """Draw a ladder of tempos with boxes to tick."""
        return self.drawn(stairs(tempos), _LARGE_STAIRS)

    def days(self, count: int) -> Markup:
        """Draw a box for each day."""
        return self.drawn(day_boxes(count), _LARGE_STAIRS)

    def numbers(self, count: int) -> Markup:
        """Draw a box for each day in which a number is written."""
        return self.drawn(number_boxes(count), _LARGE_STAIRS)

    def lines(
        self, bars: Sequence[StripBar], *, room: float = WHOLE, known_as: Hashable = None
    ) -> tuple[Markup, ...]:
        """Draw bars of tab, in lines; few bars are drawn larger. Where they are is kept as `places(known_as)`."""
        first = next(self._numbers) + 1
        self._places[known_as] = range(first, first + len(bars))
        if self.options.large:
            return self._on_page(self._large(bars))
        k = {1: 1.5, 2: 1.25}.get(len(bars), 1.0) if room < WHOLE else 1.0
        look = TabLook(k=k, width=room, filled=room >= WHOLE, called=self.called)
        return self._on_page(strip(bars, self.settings, look))

    def places(self, known_as: Hashable) -> range:
        """Return the numbers on the page of bars that were drawn; none if they were not."""
        return self._places.get(known_as, range(0))

    def _large(self, bars: Sequence[StripBar]) -> Strip:
        """Draw bars for large print: as large as leaves room for two in a line, else one in each."""
        looks = [
            TabLook(k=k, width=WHOLE, abreast=2, filled=True, called=self.called)
            for k in _LARGE_TAB
        ]
        for look in looks:
            drawn = strip(bars, self.settings, look)
            if drawn.per_line == min(2, len(bars)) and _widest_line(drawn) <= WHOLE:
                return drawn
        alone = evolve(looks[0], abreast=1)
        drawn = strip(bars, self.settings, alone)
        wide = _widest_line(drawn)
        return drawn if wide <= WHOLE else strip(
            bars, self.settings, evolve(alone, k=alone.k * WHOLE / wide)
        )  # fmt: skip

    def _on_page(self, drawn: Strip) -> tuple[Markup, ...]:
        """Return the lines of a strip for the page."""
        made = []
        for begin, end in pairwise(line_edges(len(drawn.bars), drawn.per_line, drawn.pickup)):
            pairs = zip(drawn.letters[begin:end], drawn.bars[begin:end], strict=True)
            made.append(
                filled("line.html", bars=[self._bar(letters, bar) for letters, bar in pairs])
            )
        return tuple(made)

    def _bar(self, letters: Drawing, bar: Drawing) -> LineBar:
        whole = (letters.width + bar.width) / 100
        return LineBar(
            self.drawn(letters, 1.0), self.drawn(bar, 1.0),
            f"{letters.width / whole:.2f}", f"{bar.width / whole:.2f}", f"{100 * whole:.1f}",
            next(self._numbers),
        )  # fmt: skip

    def drawn(self, picture: Drawing, large: float = 1.0) -> Markup:
        """Return a picture for the page, `large` times as large in large print."""
        self.signs.update(picture.signs)
        return trusted_markup(inline(picture, large if self.options.large else 1.0))


def _widest_line(drawn: Strip) -> float:
    return max(sum(one.width for one in line) for line in drawn.lines)
