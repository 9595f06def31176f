"""The common shape of a chord on the lesson's tuning, and whether it is an open one."""

from __future__ import annotations

from fretloom.performance.events import Settings
from fretloom.performance.sounding.strings import Shifts, heard
from fretloom.trade.guitar.common_shapes import Frets, movable_shape, open_shape
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.harmony.fit import fit
from fretloom.trade.harmony.symbol import ChordSymbol


def common_shape(symbol: ChordSymbol, settings: Settings, shifts: Shifts = ()) -> Frets | None:
    """Return a common shape of a chord, if there is one; an open one rather than a movable one.

    `shifts` are those of `name_shifts`. Common shapes are for six strings in fourths and a third:
    on other tunings shapes that sound something else are left out.
    """
    if symbol.quality is None:
        return None
    shape = open_shape(symbol.canonical)
    if shape is None:
        shape = movable_shape(symbol.root.pitch_class, symbol.quality.suffix)
    if shape is None:
        return None
    notes = [one.hand for one in heard(Voicing(name="", frets=shape), settings, shifts)]
    return shape if notes and fit(symbol, notes).accepted else None


def is_open(shape: Frets | None) -> bool:
    """Whether a shape has an open string and so cannot be a full barre."""
    return shape is not None and 0 in shape
