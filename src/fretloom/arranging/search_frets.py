"""Frets that sound a chord symbol, searched on the fretboard, and how well each suits plucking."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from attrs import evolve

from fretloom.arranging.common_shape import name_opens
from fretloom.limits import LIMITS
from fretloom.performance.events import Settings
from fretloom.performance.sounding.strings import Shifts
from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.guitar.plucking import PickingPlan
from fretloom.trade.harmony.fit import Fit, fit
from fretloom.trade.harmony.symbol import ChordSymbol
from fretloom.trade.playability.shape import inner_muted
from fretloom.values import frozen

Frets = tuple[int | None, ...]

#: Frets of a search: a window of so many, up to this fret from the capo.
_WINDOW, _HIGHEST = 4, 12
#: What frets lose for an inversion, a missing root, each unplayed string inside, below and above
#: (where the fingers pluck), and each fret up the neck.
_INVERTED, _ROOTLESS, _INSIDE, _BELOW, _ABOVE, _UP = 2.0, 3.0, 1.2, 0.25, 1.0, 0.2
#: An open string beside stopped ones sounds another colour, and the hand loses its bearing: for each
#: fret beyond this one.
_MIXED, _NEAR = 0.6, 4


@frozen
class Strings:
    """The strings that a chord is looked for on.

    Args:
        opens: what they sound open as the lesson's names think of it, the highest number first.
        plan: which of them the thumb plays. needed: those that have to sound.
    """

    opens: tuple[int, ...]
    plan: PickingPlan
    needed: frozenset[int] = frozenset()

    @property
    def lowest_first(self) -> bool:
        """Whether the string with the highest number is the lowest; on re-entrant tunings it is not."""
        return min(self.opens) == self.opens[0]

    def sounding(self, frets: Frets) -> list[int]:
        """Return the MIDI numbers of frets, in the order of the strings."""
        return [
            note + fret for note, fret in zip(self.opens, frets, strict=True) if fret is not None
        ]

    def hears(self, symbol: ChordSymbol, frets: Frets) -> Fit | None:
        """Return how frets fit a symbol, None unless its name is right, and these strings suit them."""
        notes = self.sounding(frets)
        heard = fit(symbol, notes)
        if not (notes and heard.accepted and self._suits(frets, notes)):
            return None
        return heard if self.lowest_first else evolve(heard, inverted=False)

    def _suits(self, frets: Frets, notes: list[int]) -> bool:
        """Whether the needed strings sound, and the thumb plays the lowest note where there is a bass."""
        count = len(frets)
        played = [count - at for at, fret in enumerate(frets) if fret is not None]
        if not self.needed <= set(played):
            return False
        lowest = played[notes.index(min(notes))]
        return not self.lowest_first or lowest in self.plan.strings_of("p")


def strings_of(
    settings: Settings, plan: PickingPlan, needed: frozenset[int], shifts: Shifts = ()
) -> Strings:
    """Return the strings of a lesson; `shifts` are those of `name_shifts`."""
    return Strings(name_opens(settings, shifts), plan, needed)


def searched(
    symbol: ChordSymbol, strings: Strings, neck: Neck, capo: int
) -> Iterator[tuple[Frets, Fit]]:
    """Yield frets that sound the symbol: within four of the neck and open strings, each once."""
    seen: set[Frets] = set()
    essential = {note.pitch_class for note in symbol.essential}
    highest = min(_HIGHEST, neck.frets - capo - _WINDOW)
    for lowest in range(1, max(2, highest + 1)):
        columns = [_column(symbol, strings, at, lowest) for at in range(len(strings.opens))]
        for frets in islice(_products(columns), LIMITS.candidates):
            if frets in seen:
                continue
            seen.add(frets)
            if not essential <= {pitch % 12 for pitch in strings.sounding(frets)}:
                continue
            heard = strings.hears(symbol, frets)
            if heard is not None:
                yield frets, heard


def loss(frets: Frets, heard: Fit) -> float:
    """Return the points that frets lose for their sound and their place."""
    stopped = [fret for fret in frets if fret]
    played = [at for at, fret in enumerate(frets) if fret is not None]
    mixed = max(0, max(stopped, default=0) - _NEAR) if 0 in frets else 0
    return (
        _INVERTED * heard.inverted
        + _ROOTLESS * heard.rootless
        + _INSIDE * len(inner_muted(frets))
        + _BELOW * played[0]
        + _ABOVE * (len(frets) - 1 - played[-1])
        + _UP * (min(stopped) if stopped else 0)
        + _MIXED * mixed
    )


def _column(symbol: ChordSymbol, strings: Strings, at: int, lowest: int) -> list[int | None]:
    """Return the frets at which a string sounds a tone of the chord, and mute if it may be left out."""
    frets = [0, *range(lowest, lowest + _WINDOW)]
    note = strings.opens[at]
    tones: list[int | None] = [fret for fret in frets if (note + fret) % 12 in symbol.pitch_classes]
    return tones if len(strings.opens) - at in strings.needed else [*tones, None]


def _products(columns: list[list[int | None]]) -> Iterator[Frets]:
    """Yield combinations with at least three strings and at most one unplayed string inside."""

    def extend(taken: Frets, inside: int) -> Iterator[Frets]:
        if len(taken) == len(columns):
            if sum(fret is not None for fret in taken) >= min(3, len(columns) - 1):
                yield taken
            return
        for fret in columns[len(taken)]:
            gap = (
                fret is not None
                and bool(taken)
                and taken[-1] is None
                and any(one is not None for one in taken)
            )
            if inside + gap <= 1 and not (gap and len(taken) > 1 and taken[-2] is None):
                yield from extend((*taken, fret), inside + gap)

    yield from extend((), 0)
