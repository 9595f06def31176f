"""The heading of a lesson as settings, with every default filled in."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, TypeVar

from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.performance.events import Settings
from fretloom.performance.material.gather import Material
from fretloom.trade.guitar.plucking import PickingPlan, usual_plan
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.music.key import Key
from fretloom.trade.music.meter import Meter
from fretloom.trade.music.tempo import Tempo

if TYPE_CHECKING:
    from fretloom.trade.guitar.instruments import Instrument

T = TypeVar("T")


def read_settings(material: Material) -> Settings:
    """Return a lesson's settings; by default standard tuning, 4/4 and no capo.

    The key that is missing of the two is worked out from the other and a full capo; with a partial
    capo it stays unknown.
    """
    capo = _value(material, "capo", Capo)
    plays, sounds = _keys(material, capo)
    hand = _known(material, "hand", Fraction)
    return Settings(
        title=material.title,
        by=_value(material, "by", str),
        rights=_value(material, "rights", str),
        tuning=_value(material, "tuning", Tuning),
        capo=capo,
        plays=plays,
        sounds=sounds,
        meter=_value(material, "meter", Meter),
        tempo=_value(material, "tempo", Tempo),
        swing=_swing(material),
        instrument=_value(material, "instrument", str),
        scale=_known(material, "scale", Fraction),
        hand=_value(material, "hand", str) if hand is None else hand,
        level=_value(material, "level", str),
        names=_value(material, "names", str),
    )


def _known(material: Material, name: str, kind: type[T]) -> T | None:
    """Return the value that a line of the heading sets, None where there is no such line."""
    line = material.settings.get(name)
    return line.value if line is not None and isinstance(line.value, kind) else None


def _value(material: Material, name: str, kind: type[T]) -> T:
    """Return the value that a line of the heading sets, or what holds without it."""
    known = _known(material, name, kind)
    if known is not None:
        return known
    default = FIELDS[name].default
    assert isinstance(default, kind)
    return default


def _keys(material: Material, capo: Capo) -> tuple[Key | None, Key | None]:
    plays, sounds = _known(material, "plays", Key), _known(material, "sounds", Key)
    if not capo.strings:
        if sounds is None and plays is not None:
            sounds = plays.transposed(capo.fret)
        elif plays is None and sounds is not None:
            plays = sounds.transposed(-capo.fret)
    return plays, sounds


def _swing(material: Material) -> tuple[int, int] | None:
    line = material.settings.get("swing")
    if line is None or not isinstance(line.value, tuple) or len(line.value) != 2:
        return None
    long, short = (Fraction(part) for part in line.value)
    ratio = long / short
    return None if ratio == 1 else (ratio.numerator, ratio.denominator)


def picking_plan(material: Material, tuning: Tuning) -> PickingPlan:
    """Return the home strings of the picking fingers: the usual ones if the lesson does not name any."""
    homes = dict(usual_plan(tuning.strings).homes)
    homes |= {finger: home.strings for finger, home in material.homes.items()}
    return PickingPlan(tuple(homes.items()))


def instrument_in(material: Material, tuning: Tuning) -> Instrument:
    """Return the instrument that a lesson's heading names, else the one that its tuning is usually found on."""
    from fretloom.trade.guitar.instruments import find_instrument, usual_instrument

    line = material.settings.get("instrument")
    instrument = find_instrument(str(line.value)) if line else None
    return instrument or usual_instrument(tuning)
