"""The common shapes of a chord on the lesson's tuning, and whether one is open."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.performance.events import Settings
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.performance.sounding.strings import Shifts, heard
from fretloom.trade.guitar.common_shapes import Frets, UsualShape, are_usual, usual_shapes
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.harmony.fit import fit
from fretloom.trade.harmony.symbol import ChordSymbol
from fretloom.trade.playability.effort import effort
from fretloom.trade.playability.shape import Fretted
from fretloom.trade.playability.solver import fingerings

#: What a point of effort weighs at each level.
_WEIGHTS = {"beginner": 0.7, "intermediate": 0.2, "advanced": 0.1}


def common_shape(symbol: ChordSymbol, settings: Settings, shifts: Shifts = ()) -> Frets | None:
    """Return the most usual shape of a chord, if there is one; an open one rather than a movable one.

    `shifts` are those of `name_shifts`. On tunings that have no usual shapes of their own, those of
    the guitar that sound something else are left out.
    """
    return next((one.frets for one in common_shapes(symbol, settings, shifts)), None)


def common_shapes(
    symbol: ChordSymbol, settings: Settings, shifts: Shifts = ()
) -> Iterator[UsualShape]:
    """Yield the usual shapes that sound a chord on the lesson's tuning, the most usual first.

    Those that the body hides come last, and what is beyond the neck or no hand of the
    lesson's size holds is left out. In a lesson for beginners, those that are easier to hold come
    first.
    """
    if symbol.quality is None:
        return
    bass = symbol.bass.pitch_class if symbol.bass else None
    opens = name_opens(settings, shifts)
    neck, hand = neck_of_settings(settings), hand_of_settings(settings)
    shapes = usual_shapes(opens, symbol.root.pitch_class, symbol.quality.suffix, bass)
    if settings.level == "beginner":
        shapes = _easier_first(shapes, settings)
    free, there = neck.free - settings.capo.fret, neck.frets - settings.capo.fret
    for shape in sorted(shapes, key=lambda one: _highest(one) > free):
        if _highest(shape) > there:
            continue
        notes = [one.hand for one in heard(Voicing(name="", frets=shape.frets), settings, shifts)]
        held = not any(shape.frets) or fingerings(shape.frets, neck, hand, limit=1)
        if held and fit(symbol, notes).accepted:
            yield shape


def _highest(shape: UsualShape) -> int:
    return max((fret or 0 for fret in shape.frets), default=0)


def weight_of(settings: Settings) -> float:
    """Return what a point of effort weighs against what is usual: a beginner needs it easy."""
    return _WEIGHTS.get(settings.level, _WEIGHTS["intermediate"])


def _easier_first(shapes: tuple[UsualShape, ...], settings: Settings) -> tuple[UsualShape, ...]:
    neck, hand = neck_of_settings(settings), hand_of_settings(settings)
    weighed = []
    for shape in shapes:
        ways = fingerings(shape.frets, neck, hand, limit=1) if any(shape.frets) else ()
        if ways or not any(shape.frets):
            held = effort(neck, hand, Fretted(shape.frets, ways[0].fingers)).points if ways else 0.0
            weighed.append((shape.points + weight_of(settings) * held, shape))
    return tuple(shape for _, shape in sorted(weighed, key=lambda one: one[0]))


def has_common_shapes(settings: Settings, shifts: Shifts = ()) -> bool:
    """Whether the lesson's tuning has usual shapes of its own: a guitar's or a ukulele's."""
    return are_usual(name_opens(settings, shifts))


def name_opens(settings: Settings, shifts: Shifts = ()) -> tuple[int, ...]:
    """Return what the open strings sound as the lesson's names think of it, highest number first."""
    every = Voicing(name="", frets=(0,) * settings.tuning.strings)
    return tuple(one.hand for one in heard(every, settings, shifts))


def is_open(shape: Frets | None) -> bool:
    """Whether a shape has an open string and so cannot be a full barre."""
    return shape is not None and 0 in shape
