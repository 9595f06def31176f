"""A piece of the neck with what a hand holds there: what all diagrams of shapes share.

Everything is placed for a player who frets with the left hand; `finished` mirrors it for the others.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from attrs import evolve, field

from fretloom.engraving.drawn import signs as draw
from fretloom.engraving.drawn.diagrams.names import name_width
from fretloom.engraving.drawn.drawing import Box, Drawing, Letters, Mark, Point, mirrored
from fretloom.engraving.drawn.neck import DrawnNeck, window
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.guitar.voicing import Barre, Voicing
from fretloom.trade.harmony.note_names import write_note
from fretloom.trade.wording import with_signs
from fretloom.values import frozen

_STRING_NAME, _NUMBER = 2.6, 3.3
#: Room around the strings in an upright diagram: on the left with nothing there, with a sign or one
#: figure, with two figures; on the right; above; for the name.
LEFT, LEFT_SIGN, LEFT_FIGURES, RIGHT, ABOVE, NAMED = 2.6, 5.8, 7.0, 3.2, 5.0, 5.2
#: From one row of a name to the next.
NAME_ROW = 4.6
#: Room before the nut of a neck that lies.
BEFORE = 10.4
#: Room to the edge of every picture.
EDGE = 0.45
_ABOVE_NUT, _ABOVE_WIRE = 3.4, 2.9
#: How far the curve of a hop swings out, and how far it may reach beyond the last wire.
_BOW, _REACH = 3.4, 1.8


@frozen(eq=False)
class Board:
    """A piece of the neck; `signs` gathers what is drawn on it that a page explains."""

    neck: DrawnNeck
    tuning: Tuning
    capo: Capo = Capo()
    names: str = "english"
    signs: set[str] = field(factory=set)

    @property
    def from_nut(self) -> bool:
        """Whether the piece begins at the nut."""
        return self.neck.low == 0

    def lines(self) -> Iterator[Mark]:
        """Draw wires, strings with their names, the nut or the number of the first fret, and a partial capo."""
        neck = self.neck
        yield from neck.wires(range(neck.low + self.from_nut, neck.high + 1))
        before = 0.0 if self.from_nut else 1.2
        yield from neck.drawn_strings(self.tuning, -before, neck.length + 1.2)
        if self.from_nut:
            yield draw.nut(neck.at(neck.strings, -1.6), neck.at(1, 0.0), neck.lying)
        else:
            yield self._fret_number()
        if self.capo.leaves_out(neck.strings) and neck.low < self.capo.fret <= neck.high:
            self.signs.add("capo")
            yield from capo_bars(neck, self.capo)
        yield from self._string_names()

    def _string_names(self) -> Iterator[Mark]:
        neck = self.neck
        for string in range(neck.strings, 0, -1):
            text = with_signs(write_note(self.tuning.open_pitch(string).name, self.names))
            if neck.lying:
                x, y = neck.at(string, -(7.4 if self.from_nut else 6.6))
                at = (x, y + draw.MIDDLE * _STRING_NAME)
            else:
                x, y = neck.at(string, neck.length)
                at = (x, y + 4.2)
            yield Letters(at=at, text=text, size=_STRING_NAME, ink="soft")

    def _fret_number(self) -> Mark:
        """Write which fret the window begins with, where no nut shows it."""
        self.signs.add("first-fret")
        neck, first = self.neck, self.neck.low + 1
        if neck.lying:
            x, y = neck.at(neck.strings, neck.finger(first))
            return Letters(at=(x, y + 5.0), text=str(first), size=_NUMBER, bold=True)
        x, y = neck.at(neck.strings, neck.finger(first))
        at = (x - 2.7, y + draw.MIDDLE * _NUMBER)
        return Letters(at=at, text=str(first), size=_NUMBER, anchor="end", bold=True)

    def at_nut(self, string: int) -> Point:
        """Return the place of an open string's sign."""
        return self.neck.at(string, -(_ABOVE_NUT if self.from_nut else _ABOVE_WIRE))

    def place(self, string: int, fret: int) -> Point:
        """Return the place of a finger."""
        return self.neck.at(string, self.neck.finger(fret))

    def open_strings(
        self, voicing: Voicing, plucked: Callable[[int], bool], hopped: Iterable[int] = ()
    ) -> Iterator[Mark]:
        """Draw the signs of strings that are open or not played; `hopped` have a sign of their own."""
        for string in range(self.neck.strings, 0, -1):
            fret = voicing.fret(string)
            if fret is None and string not in hopped:
                self.signs.add("mute")
                yield from draw.cross(self.at_nut(string))
            elif fret == 0:
                quiet = not plucked(string)
                self.signs.add("quiet-open" if quiet else "open")
                yield from draw.open_string(self.at_nut(string), quiet)

    def fingers(self, voicing: Voicing, plucked: Callable[[int], bool]) -> Iterator[Mark]:
        """Draw barres and fingers, each once."""
        laid: list[Barre] = []
        for barre in voicing.barres:
            yield from self._barre(
                voicing, barre, plucked, over=any(_meet(barre, one) for one in laid)
            )
            laid.append(barre)
        for string in range(self.neck.strings, 0, -1):
            fret, finger = voicing.fret(string), voicing.finger(string) or ""
            under = [one for one in laid if covers(one, string, fret)]
            if fret and not any(finger in ("", one.finger) for one in under):
                yield from self._finger(finger, (string, fret), plucked(string), over=bool(under))

    def _finger(
        self, finger: str, at: tuple[int, int], plucked: bool, over: bool
    ) -> Iterator[Mark]:
        self.signs.add(
            "quiet" if not plucked else "thumb-fret" if finger == "T" else
            "finger" if finger else "unfingered"
        )  # fmt: skip
        if plucked:
            yield from draw.finger_down(finger, self.place(*at), over)
        else:
            yield from draw.finger_held(finger, self.place(*at))

    def _barre(
        self, voicing: Voicing, barre: Barre, plucked: Callable[[int], bool], over: bool
    ) -> Iterator[Mark]:
        self.signs.add("barre")
        stops = [
            string for string in range(barre.last, barre.first + 1)
            if voicing.fret(string) == barre.fret
        ]  # fmt: skip
        quiet = not any(map(plucked, stops))
        if quiet:
            self.signs.add("quiet")
        first, last = self.place(barre.first, barre.fret), self.place(barre.last, barre.fret)
        yield from draw.bar(barre.finger, first, last, over=over, quiet=quiet)

    def finished(
        self, marks: Iterable[Mark], *, size: tuple[float, float], name: Sequence[Letters],
        mirror: bool, title: str, says: str,
    ) -> Drawing:  # fmt: skip
        """Put the picture together: mirrored if it is wanted, then its name, in rows, over its outer string."""
        width, height = size
        wide = max((name_width(row.text, row.size, row.after) for row in name), default=0.0)
        width = max(width, wide + 2 * EDGE)
        start = self.neck.corner[0]
        drawn = tuple(marks)
        if mirror:
            drawn = tuple(mirrored(drawn, width))
            start = width - start - (self.neck.length if self.neck.lying else self.neck.breadth)
        start -= 0.0 if self.neck.lying else draw.RADIUS
        left = max(EDGE, min(start, width - EDGE - wide))
        rows = (evolve(row, at=(left, 4.3 + NAME_ROW * at)) for at, row in enumerate(name))
        return Drawing(
            width=width, height=height, marks=(*rows, *drawn), title=title, says=says,
            signs=frozenset(self.signs),
        )  # fmt: skip


def on_neck(voicing: Voicing, capo: Capo) -> Voicing:
    """Return a voicing with the frets at which it is drawn: from the nut where a capo leaves strings out."""
    count = len(voicing.frets)
    if not capo.leaves_out(count):
        return voicing
    frets = tuple(fret and fret + capo.on(count - at) for at, fret in enumerate(voicing.frets))
    hops = tuple(
        evolve(hop, fret=hop.fret and hop.fret + capo.on(hop.string)) for hop in voicing.hops
    )
    return evolve(voicing, frets=frets, hops=hops)


def held_frets(voicing: Voicing) -> list[int]:
    """Return the frets at which a finger stands."""
    return [fret for fret in voicing.frets if fret]


def frets_of(voicing: Voicing) -> list[int]:
    """Return the frets at which a finger stands or to which it hops."""
    return held_frets(voicing) + [hop.fret for hop in voicing.hops if hop.fret]


def neck_of(strings: int, frets: list[int], *, lying: bool, rows: int, room: float) -> DrawnNeck:
    """Return the piece of the neck for these frets, under rows of a name, with `room` on the left of an upright one."""
    low, high = window(frets)
    top = ABOVE + (NAMED + NAME_ROW * (rows - 1) if rows else 0.0)
    corner = (BEFORE, top - 1.0) if lying else (max(room, left_room(low)), top)
    return DrawnNeck(strings=strings, low=low, high=high, corner=corner, lying=lying)


def left_room(low: int) -> float:
    """Return what an upright diagram needs on the left for the number of its first fret."""
    return LEFT if not low else LEFT_SIGN if low < 9 else LEFT_FIGURES


def hop_way(neck: DrawnNeck, home: tuple[int, int], goal: tuple[int, int]) -> Iterator[Mark]:
    """Draw the way of a finger that hops, by string and fret: a curve towards the body with an open head."""
    below = 0.9 * draw.RADIUS
    start, end = (neck.finger(fret) + below for _, fret in (home, goal))
    bow = min(_BOW, (neck.length + _REACH - max(start, end)) / 0.75)
    points = (
        neck.at(home[0], start), neck.at(home[0], start + bow), neck.at(goal[0], end + bow),
        neck.at(goal[0], end + 0.4),
    )  # fmt: skip
    side = 0.85 / neck.step
    head = (
        neck.at(goal[0] - side, end + 1.4), neck.at(goal[0], end + 0.2),
        neck.at(goal[0] + side, end + 1.4),
    )  # fmt: skip
    yield from draw.way(points, head)


def covers(barre: Barre, string: int, fret: int | None) -> bool:
    """Whether a barre lies over a place."""
    return fret == barre.fret and barre.last <= string <= barre.first


def capo_bars(neck: DrawnNeck, capo: Capo, thick: float = 1.9) -> Iterator[Box]:
    """Yield the bars of a capo close behind its fret's wire, one for each group of neighbouring strings."""
    wire, before = neck.wire(capo.fret), neck.wire(capo.fret - 1)
    thick = min(thick, 0.7 * (wire - before))
    middle = max(wire - thick / 2 - 0.4, (wire + before) / 2)
    beyond = thick / 2
    for first, last in _runs(capo.strings or tuple(range(1, neck.strings + 1))):
        ends = (neck.at(last, middle), neck.at(first, middle))
        sides = 1.15, beyond
        across, down = sides[::-1] if neck.lying else sides
        yield draw.box_around(*ends, across, down, beyond)


def _runs(strings: Iterable[int]) -> list[tuple[int, int]]:
    """Return the first and last of each group of neighbouring strings."""
    runs: list[tuple[int, int]] = []
    for string in sorted(strings):
        if runs and runs[-1][1] == string - 1:
            runs[-1] = (runs[-1][0], string)
        else:
            runs.append((string, string))
    return runs


def _meet(one: Barre, other: Barre) -> bool:
    return one.fret == other.fret and one.last <= other.first and other.last <= one.first
