"""What is done with a note or a bar besides: bends, vibrato, holding, rolls, brushes, slaps, accents."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from fretloom.engraving.drawn.drawing import Box, Disc, DrawnLine, Letters, Mark, Point
from fretloom.engraving.drawn.tab.levels import Levels
from fretloom.engraving.drawn.tab.painting.frets import Spot, ringing
from fretloom.engraving.drawn.tab.placing.spacing import Places
from fretloom.engraving.drawn.tab.placing.struck import BENT, WAVE, bend_room, bend_size
from fretloom.engraving.drawn.tab.values import StripBar
from fretloom.notation.model.details.technique import Bend
from fretloom.performance.events import TimedBar

_THIN = 0.35
_DOTS = (0.5, 0.7)
_HELD = 0.75
#: What is held up to the bar line ends so far before it.
_SHORT = 1.2


def behind(found: Sequence[Spot], places: Places, levels: Levels, one: StripBar) -> Iterator[Mark]:
    """Draw what lies under the stems and frets: held strings, rolls, slaps on the strings."""
    for spot in found:
        note = spot.struck.note
        if spot.struck.last and note.technique.held is not None:
            end = note.onset + note.technique.held
            if end > spot.struck.at:
                yield from _held(spot.x, places, one.bar, end, spot.y)
    for string, until in one.held:
        yield from _held(0.0, places, one.bar, until, levels.string(string))
    yield from _rolls(found)
    for slap in one.bar.slaps:
        if slap.place == "strings" and slap.onset < one.bar.length:
            yield from cross_of_slap(places.x(slap.onset), (levels.top + levels.bottom) / 2)


def _held(left: float, places: Places, bar: TimedBar, end: Fraction, y: float) -> Iterator[Mark]:
    """Draw a heavy string up to where it is let go, with a stroke at its end; beyond the bar it goes on."""
    right = places.x(end) - 1.6 if end < bar.length else places.width - _SHORT * (end == bar.length)
    if right <= left:
        return
    yield DrawnLine(points=((left, y), (right, y)), width=_HELD, ink="ink")
    if end <= bar.length:
        yield DrawnLine(points=((right, y - 0.9), (right, y + 0.9)), width=0.4, ink="ink")


def _rolls(found: Sequence[Spot]) -> Iterator[Mark]:
    """Draw a dotted line through the notes of a roll, and an arrow before those of a brush."""
    gestures: dict[int, list[Spot]] = {}
    for spot in found:
        note = spot.struck.note
        plucked = spot.struck.part == "plucked" or (spot.struck.last and note.technique.grace)
        if note.gesture is not None and plucked:
            gestures.setdefault(note.gesture, []).append(spot)
    for spots in gestures.values():
        ordered = sorted(spots, key=lambda spot: spot.struck.note.order or 0)
        if len(ordered) < 2:
            continue
        if all(spot.struck.note.brush for spot in ordered):
            yield from _arrow(ordered[0], ordered[-1])
        else:
            points = tuple((spot.x, spot.y) for spot in ordered)
            yield DrawnLine(points=points, width=0.45, ink="ink", dash=_DOTS)


def _arrow(first: Spot, last: Spot) -> Iterator[Mark]:
    """Draw which way a finger brushes over the strings."""
    x = min(first.x, last.x) - max(first.struck.half, last.struck.half) - 0.9
    way = 1 if last.y > first.y else -1
    tip, start = last.y + way * 1.2, first.y - way * 1.2
    yield DrawnLine(points=((x, start), (x, tip)), width=0.45, ink="ink")
    head = ((x - 0.8, tip - way * 1.3), (x, tip), (x + 0.8, tip - way * 1.3))
    yield DrawnLine(points=head, width=0.45, ink="ink")


def cross_of_slap(x: float, y: float) -> Iterator[Mark]:
    """Draw a tall cross around a place: the hand falls on the strings."""
    for side in (-1, 1):
        ends = ((x - side * 1.3, y - 2.8), (x + side * 1.3, y + 2.8))
        yield DrawnLine(points=ends, width=1.4, ink="paper")
        yield DrawnLine(points=ends, width=0.5, ink="ink")


def after_frets(found: Sequence[Spot]) -> Iterator[Mark]:
    """Draw what follows a fret at its right: bends, vibrato, ringing on, stopping short."""
    for spot in found:
        one, technique = spot.struck, spot.struck.note.technique
        if not one.last:
            continue
        x = spot.x + one.bow
        if technique.bend is not None:
            yield from _bend(spot.x + one.half, x, spot.y, technique.bend)
            x += bend_room(technique.bend)[1]
        if technique.vibrato:
            yield from _wave(x, spot.y)
            x += WAVE
        if technique.lasting == "ring":
            yield ringing(x, spot.y)
        if technique.lasting == "damped":
            yield Box(at=(x - 0.1, spot.y - 1.1), width=1.1, height=2.2, fill="paper")
            yield Disc(at=(x + 0.4, spot.y), radius=0.42, fill="ink")


def _bend(begin: float, x: float, y: float, bend: Bend) -> Iterator[Mark]:
    """Draw the bow of a bent string: up to how far it goes; with a release down again; before plucking, upright."""
    top, text = y - 2.3, BENT[bend.semitones]
    at = x + bend_room(bend)[0]
    if bend.before:
        yield DrawnLine(points=((at, y), (at, top)), width=_THIN, ink="ink")
    else:
        points = ((begin, y - 0.4), (at - 0.3, y - 0.4), (at, y - 1.0), (at, top))
        yield DrawnLine(points=points, width=_THIN, ink="ink", curved=True)
    yield from _head((at, top), up=True)
    if bend.release:
        points = ((at, top), (at + 1.0, top), (at + 1.7, y - 1.6), (at + 1.7, y - 0.5))
        yield DrawnLine(points=points, width=_THIN, ink="ink", curved=True)
        yield from _head((at + 1.7, y - 0.5), up=False)
    yield Letters(at=(at, top - 0.5), text=text, size=bend_size(bend), ink="soft")


def _head(tip: Point, up: bool) -> Iterator[Mark]:
    x, y = tip
    down = 0.9 if up else -0.9
    yield DrawnLine(
        points=((x - 0.6, y + down), (x, y), (x + 0.6, y + down)), width=_THIN, ink="ink"
    )


def _wave(x: float, y: float) -> Iterator[Mark]:
    """Draw the string trembling."""
    yield Box(at=(x, y - 0.9), width=2.9, height=1.8, fill="paper")
    points = tuple((x + 0.1 + 0.45 * step, y + (0.55 if step % 2 else -0.55)) for step in range(7))
    yield DrawnLine(points=points, width=_THIN, ink="ink")


def wedge(x: float, y: float) -> DrawnLine:
    """Return the sign of an accent, its middle at a place."""
    return DrawnLine(
        points=((x - 0.9, y - 0.65), (x + 0.9, y), (x - 0.9, y + 0.65)), width=_THIN, ink="ink"
    )


def fermata(x: float, y: float) -> Iterator[Mark]:
    """Draw a fermata over a baseline: a bow with a dot."""
    points = ((x - 1.6, y), (x - 1.6, y - 2.5), (x + 1.6, y - 2.5), (x + 1.6, y))
    yield DrawnLine(points=points, width=0.4, ink="ink", curved=True)
    yield Disc(at=(x, y - 0.4), radius=0.4, fill="ink")
