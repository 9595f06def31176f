"""The voicing nearest to a given one that sounds its chord symbol."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, product

from fretloom.arranging.common_shape import common_shape
from fretloom.performance.events import Settings
from fretloom.performance.sounding.strings import Shifts, heard
from fretloom.trade.guitar.voicing import Voicing, frets_text
from fretloom.trade.harmony.fit import fit
from fretloom.trade.harmony.symbol import ChordSymbol

_SPAN = 3
_HIGHEST = 15
Frets = tuple[int | None, ...]


def nearest_voicing(
    voicing: Voicing, symbol: ChordSymbol, settings: Settings, shifts: Shifts = ()
) -> str:
    """Return the frets that sound the symbol with one or two strings changed; empty if there are none.

    The bass of the name lies lowest, or failing that another of its tones; on tunings whose lowest
    string is not the first one that makes no difference. The fewest strings are changed, by the
    fewest frets; muting comes last. All frets lie within four, or within as many as the given ones.
    """
    tones = _tones(voicing, symbol, settings, shifts)
    inverted: Frets = ()
    for changed in (1, 2):
        found = [
            (cost, frets)
            for cost, frets in _changes(voicing.frets, changed, tones)
            if _sounds(frets, symbol, settings, shifts)
        ]
        best = [one for one in found if _on_its_bass(one[1], symbol, settings, shifts)]
        if best:
            return frets_text(_least(best))
        if found and not inverted:
            inverted = _least(found)
    common = common_shape(symbol, settings, shifts)
    if common is not None and _on_its_bass(common, symbol, settings, shifts):
        return frets_text(common)
    return frets_text(inverted)


def _least(found: list[tuple[int, Frets]]) -> Frets:
    return min(found, key=lambda one: (one[0], str(one[1])))[1]


def _on_its_bass(frets: Frets, symbol: ChordSymbol, settings: Settings, shifts: Shifts) -> bool:
    """Whether the name's own bass is lowest, where the strings have a bass at all."""
    opens = [pitch.midi for pitch in settings.tuning.pitches]
    if opens[0] != min(opens) or symbol.lowest is None:
        return True
    notes = [one.hand for one in heard(Voicing(name="", frets=frets), settings, shifts)]
    return min(notes) % 12 == symbol.lowest.pitch_class


def _tones(
    voicing: Voicing, symbol: ChordSymbol, settings: Settings, shifts: Shifts
) -> list[list[int | None]]:
    """Return for each string the frets at which it sounds a tone of the chord, and mute."""
    held = [fret for fret in voicing.frets if fret]
    low = max(max(held, default=1) - _SPAN, 1)
    high = min(max(min(held, default=1) + _SPAN, low + _SPAN), _HIGHEST)
    frets = [0, *range(low, high + 1)]
    every = Voicing(name="", frets=(0,) * len(voicing.frets))
    opens = [one.hand for one in heard(every, settings, shifts)]
    inside = set(symbol.pitch_classes)
    return [[None, *(f for f in frets if (note + f) % 12 in inside)] for note in opens]


def _changes(
    frets: Frets, changed: int, tones: list[list[int | None]]
) -> Iterator[tuple[int, Frets]]:
    for places in combinations(range(len(tones)), changed):
        for new in product(*(tones[place] for place in places)):
            changes = dict(zip(places, new, strict=True))
            if all(frets[place] != fret for place, fret in changes.items()):
                after = tuple(changes.get(place, fret) for place, fret in enumerate(frets))
                cost = sum(_cost(frets[place], fret) for place, fret in changes.items())
                yield cost, after


def _cost(before: int | None, after: int | None) -> int:
    if after is None:
        return 6
    return 3 if before is None else min(abs(before - after), 5)


def _sounds(frets: Frets, symbol: ChordSymbol, settings: Settings, shifts: Shifts) -> bool:
    held = [fret for fret in frets if fret]
    if held and max(held) - min(held) > _SPAN:
        return False
    notes = [one.hand for one in heard(Voicing(name="", frets=frets), settings, shifts)]
    return len(notes) > 2 and fit(symbol, notes).accepted
