"""Voicings for another key: moved where they can be, else a common shape, else a barre for the nut."""

from __future__ import annotations

from attrs import evolve

from fretloom.arranging.common_shape import common_shape
from fretloom.arranging.remarks import CommonShapeTaken, NutBarred, Remark
from fretloom.performance.events import Settings, Timeline
from fretloom.performance.sounding.strings import Shifts, name_shifts, symbol_of
from fretloom.trade.guitar.common_shapes import Frets
from fretloom.trade.guitar.voicing import Voicing, split_name
from fretloom.trade.harmony.symbol import ChordSymbol, symbol_in_name
from fretloom.trade.harmony.transposing import transposed
from fretloom.trade.music.key import Key
from fretloom.values import frozen

_HIGHEST = 14
#: A movable voicing that would travel farther gives way to a common shape.
_FAR = 7


@frozen
class NewShape:
    """A voicing of the new key, and what its teacher should know about it, if anything."""

    voicing: Voicing
    remark: Remark | None = None


def new_shapes(timeline: Timeline, key: Key, steps: int) -> dict[str, NewShape]:
    """Return the voicing that is `steps` half steps higher for each voicing of a lesson, by its old name."""
    settings = timeline.settings
    shifts = name_shifts(timeline.voicings.values(), settings)
    found: dict[str, NewShape] = {}
    taken: set[str] = set()
    for name, voicing in timeline.voicings.items():
        symbol = symbol_of(voicing, settings)
        moved = transposed(symbol, steps, key, settings.names) if symbol else None
        new_name = _name(voicing, moved, settings, taken)
        taken.add(new_name)
        found[name] = _shape(voicing, new_name, moved, steps, settings, shifts)
    return found


def _name(voicing: Voicing, symbol: ChordSymbol | None, settings: Settings, taken: set[str]) -> str:
    """Return the new name with the old tag; a second voicing of the same name gets another tag."""
    tag = split_name(voicing.name)[1]
    base = symbol.written(settings.names) if symbol else voicing.name
    name = f"{base}.{tag}" if symbol and tag else base
    number = 2
    while name in taken:
        name = f"{base}.{tag or 'shape'}-{number}"
        number += 1
    return name


def _shape(
    voicing: Voicing,
    name: str,
    symbol: ChordSymbol | None,
    steps: int,
    settings: Settings,
    shifts: Shifts,
) -> NewShape:
    named = evolve(voicing, name=name, symbol=symbol_in_name(name, settings.names))
    if steps == 0 or all(fret is None for fret in voicing.frets):
        return NewShape(named)
    by = _room(voicing.frets, steps)
    common = common_shape(symbol, settings, shifts) if symbol else None
    if by is not None and (common is None or abs(by) <= _FAR):
        return NewShape(_shifted(named, by))
    if common is not None:
        new = _bare(named, common)
        return NewShape(new, CommonShapeTaken(voicing.name, new, voicing.hops))
    frets = tuple(None if fret is None else fret + steps for fret in voicing.frets)
    new = _bare(named, frets)
    return NewShape(new, NutBarred(voicing.name, new, steps, voicing.hops))


def _room(frets: Frets, steps: int) -> int | None:
    """Return how many frets a movable voicing moves: up, or down where that is nearer."""
    held = [fret for fret in frets if fret is not None]
    if not held or 0 in held:
        return None
    ways = [by for by in (steps, steps - 12) if min(held) + by >= 1 and max(held) + by <= _HIGHEST]
    return min(ways, key=abs, default=None)


def _shifted(voicing: Voicing, by: int) -> Voicing:
    frets = tuple(None if fret is None else fret + by for fret in voicing.frets)
    hops = tuple(evolve(hop, fret=max(hop.fret + by, 0)) for hop in voicing.hops)
    return evolve(voicing, frets=frets, hops=hops)


def _bare(voicing: Voicing, frets: Frets) -> Voicing:
    return evolve(
        voicing, frets=frets, fingers=(), bass=(), hops=(), bass_given=False, fingers_given=False
    )
