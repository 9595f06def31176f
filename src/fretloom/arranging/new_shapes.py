"""Voicings for another key: an open shape, else moved along, else a common shape, else a barre for the nut."""

from __future__ import annotations

from attrs import evolve

from fretloom.arranging.common_shape import common_shape, is_open
from fretloom.arranging.moving.hops import hops_missing, with_hops
from fretloom.arranging.remarks import CommonShapeTaken, NutBarred
from fretloom.performance.events import Settings, Timeline
from fretloom.performance.expansion.voicings.bass import bass_order
from fretloom.performance.hands.fingering import neck_of_settings
from fretloom.performance.sounding.strings import Shifts, name_shifts, symbol_of
from fretloom.trade.guitar.common_shapes import Frets
from fretloom.trade.guitar.plucking import PickingPlan
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.guitar.voicing import Voicing, split_name
from fretloom.trade.harmony.chord_tones import chord_tones
from fretloom.trade.harmony.symbol import ChordSymbol, symbol_in_name
from fretloom.trade.harmony.transposing import transposed
from fretloom.trade.music.key import Key
from fretloom.values import frozen

_HIGHEST = 14
#: So many frets are there to be used, even where the body hides them.
_LEAST = 5
#: A movable voicing that would travel farther gives way to a common shape.
_FAR = 7


@frozen
class NewShape:
    """A voicing of the new key, and what its teacher should know about it, if anything."""

    voicing: Voicing
    remark: CommonShapeTaken | NutBarred | None = None


def new_shapes(
    timeline: Timeline,
    key: Key,
    steps: int,
    fret: int,
    plan: PickingPlan,
    *,
    thumb_only: bool = False,
    hops: bool = True,
) -> dict[str, NewShape]:
    """Return the voicing that is `steps` half steps higher for each voicing of a lesson, by its old name.

    The capo is to stand at `fret`. `plan` has the thumb's strings. Hops are worked out anew, or with
    `hops=False` left out. With `thumb_only` a bass order that would lead the thumb to a string of the
    fingers is one string instead.
    """
    settings = evolve(timeline.settings, capo=Capo(fret))
    neck = neck_of_settings(settings)
    shifts = name_shifts(timeline.voicings.values(), settings)
    found: dict[str, NewShape] = {}
    taken: set[str] = set()
    for name, voicing in timeline.voicings.items():
        symbol = symbol_of(voicing, settings)
        moved = transposed(symbol, steps, key, settings.names) if symbol else None
        new_name = _name(voicing, moved, settings, taken)
        taken.add(new_name)
        shape = _shape(voicing, new_name, moved, steps, settings, shifts, neck.free - fret)
        found[name] = _hopping(voicing, shape, steps, settings, plan) if hops else shape
        if thumb_only and found[name].remark is not None:
            found[name] = evolve(
                found[name], voicing=_on_thumb(found[name].voicing, settings, plan)
            )
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
    free: int,
) -> NewShape:
    named = evolve(voicing, name=name, symbol=symbol_in_name(name, settings.names))
    if steps == 0 or all(fret is None for fret in voicing.frets):
        return NewShape(named)
    by = _room(voicing.frets, steps, min(_HIGHEST, max(free, _LEAST)))
    common = common_shape(symbol, settings, shifts) if symbol else None
    chosen = bool(split_name(voicing.name)[1]) or not is_open(common)
    if by is not None and (common is None or (chosen and abs(by) <= _FAR)):
        return NewShape(_shifted(named, by))
    if common is not None:
        new = _bare(named, common)
        return NewShape(new, CommonShapeTaken(voicing.name, new, voicing.hops))
    frets = tuple(None if fret is None else fret + steps for fret in voicing.frets)
    new = _bare(named, frets)
    return NewShape(new, NutBarred(voicing.name, new, steps, voicing.hops))


def _hopping(
    old: Voicing, shape: NewShape, steps: int, settings: Settings, plan: PickingPlan
) -> NewShape:
    """Return a shape that was replaced, with hops of its own; its remark says which are missing."""
    if shape.remark is None or not old.hops:
        return shape
    hopping = with_hops(old, shape.voicing, steps, settings, plan)
    missing = hops_missing(old, hopping, steps, settings, plan)
    return NewShape(hopping, evolve(shape.remark, voicing=hopping, hops=missing))


def _on_thumb(voicing: Voicing, settings: Settings, plan: PickingPlan) -> Voicing:
    """Return a voicing whose bass order stays on the thumb's strings, where it has one of them."""
    order = bass_order(voicing, settings, plan, chord_tones(voicing.symbol, settings.names))
    own = plan.strings_of("p")
    kept = tuple(string for string in order if string in own)
    if len(kept) == len(order) or not kept:
        return voicing
    return evolve(voicing, bass=tuple(dict.fromkeys(kept)), bass_given=True)


def _room(frets: Frets, steps: int, highest: int) -> int | None:
    """Return how many frets a movable voicing moves: up, or down where that is nearer."""
    held = [fret for fret in frets if fret is not None]
    if not held or 0 in held:
        return None
    ways = [by for by in (steps, steps - 12) if min(held) + by >= 1 and max(held) + by <= highest]
    return min(ways, key=abs, default=None)


def _shifted(voicing: Voicing, by: int) -> Voicing:
    frets = tuple(None if fret is None else fret + by for fret in voicing.frets)
    hops = tuple(evolve(hop, fret=max(hop.fret + by, 0)) for hop in voicing.hops)
    return evolve(voicing, frets=frets, hops=hops)


def _bare(voicing: Voicing, frets: Frets) -> Voicing:
    return evolve(
        voicing, frets=frets, fingers=(), bass=(), hops=(), bass_given=False, fingers_given=False
    )
