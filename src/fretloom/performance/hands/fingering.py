"""The fretting fingers a lesson leaves open: found for the instrument and the hand it names."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from attrs import evolve

from fretloom.performance.events import Settings
from fretloom.trade.guitar.voicing import Voicing

if TYPE_CHECKING:
    from fretloom.trade.guitar.fretboard import Neck
    from fretloom.trade.guitar.tuning import Capo, Tuning
    from fretloom.trade.playability.reach import Hand


#: A fingering without a wide stretch is taken before a likelier one that costs so much less
#: at most (an assumption).
_NEAR = 3.5


def fill_fingers(
    voicing: Voicing, settings: Settings, chosen: tuple[str | None, ...] = ()
) -> Voicing:
    """Give a voicing without fingers the chosen ones, or the likeliest.

    It stays as it is if a hand could not hold it.
    """
    if voicing.fingers:
        return voicing
    if chosen:
        return evolve(voicing, fingers=chosen)
    from fretloom.trade.playability.habits import habit_cost
    from fretloom.trade.playability.shape import stretches_wide
    from fretloom.trade.playability.solver import fingerings

    neck, hand = neck_of_settings(settings), hand_of_settings(settings)
    found = fingerings(voicing.frets, neck, hand, limit=4)
    if not found:
        return voicing
    frets = voicing.frets
    usual = sorted(found, key=lambda one: one.cost + habit_cost(frets, one.fingers))
    near = [one for one in usual if one.cost <= found[0].cost + _NEAR]
    narrow = (one for one in near if not stretches_wide(neck, hand, frets, one.fingers))
    return evolve(voicing, fingers=next(narrow, usual[0]).fingers)


def hand_of_settings(settings: Settings) -> Hand:
    """Return the hand a lesson is written for."""
    from fretloom.trade.playability.reach import hand_of

    return hand_of(settings.hand)


def neck_of_settings(settings: Settings) -> Neck:
    """Return the neck a lesson is played on, capo included.

    A lesson that does not name an instrument gets the one its tuning is usually found on.
    """
    scale = float(settings.scale) if settings.scale else None
    return _neck(settings.instrument, settings.tuning, scale, settings.capo)


@lru_cache(maxsize=64)
def _neck(name: str, tuning: Tuning, scale: float | None, capo: Capo) -> Neck:
    from fretloom.trade.guitar.instruments import instrument_for, neck_of

    return neck_of(instrument_for(name, tuning), strings=tuning.strings, scale=scale, capo=capo)
