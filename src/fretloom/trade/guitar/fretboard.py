"""The fretboard in millimetres.

`x` runs along the neck from the nut, `y` across it from the middle, towards string 1. Frets of a
voicing count from the capo; `stopped` turns them into frets counted from the nut.

The distance from nut to fret n is `scale * (1 - 2**(-n/12))`: each fret takes 1/17.817 of what is
left (Mottola 2017, "Was the Rule of 18 Good Enough?", American Lutherie 130).
"""

from __future__ import annotations

from functools import cached_property

from attrs import field
from attrs.validators import ge, gt

from fretloom.trade.guitar.tuning import Capo
from fretloom.values import frozen

_REACHABLE = 48


@frozen(cache_hash=True)
class Neck:
    """A neck and the capo on it; the defaults are those of a steel-string guitar.

    Args:
        scale: length of the open strings, mm.
        nut, bridge: distance of the outer strings at the nut and at the bridge, mm.
        strings: number of strings (or courses).
        frets: number of frets; free: frets clear of the body.
        capo: where the capo sits.
        mirrored: strung the other way round for a mirrored player; string numbers stay.
    """

    scale: float = field(default=647.7, validator=gt(0))
    nut: float = field(default=36.0, validator=gt(0))
    bridge: float = field(default=54.0, validator=gt(0))
    strings: int = field(default=6, validator=ge(2))
    frets: int = field(default=20, validator=ge(1))
    free: int = 14
    capo: Capo = Capo()
    mirrored: bool = False

    @cached_property
    def _places(self) -> tuple[float, ...]:
        return tuple(self.scale * (1 - 2 ** (-fret / 12)) for fret in range(_REACHABLE + 1))

    def distance(self, fret: int) -> float:
        """Return the distance from the nut to a fret counted from the nut, in mm."""
        return self._places[fret]

    def span(self, first: int, last: int) -> float:
        """Return the distance between two frets counted from the nut, in mm."""
        return abs(self._places[last] - self._places[first])

    def spacing(self, fret: int) -> float:
        """Return the distance of neighbouring strings at a fret counted from the nut, in mm."""
        part = self._places[fret] / self.scale
        return (self.nut + (self.bridge - self.nut) * part) / (self.strings - 1)

    def across(self, string: int, fret: int) -> float:
        """Return where a string lies at a fret counted from the nut: mm from the middle."""
        place = ((self.strings + 1) / 2 - string) * self.spacing(fret)
        return -place if self.mirrored else place

    @property
    def first(self) -> int:
        """The first fret that can be stopped on every string: behind a full capo, counted from the nut."""
        return 1 + (0 if self.capo.strings else self.capo.fret)

    def stopped(self, string: int, fret: int) -> int:
        """Return a voicing's fret counted from the nut (0 is the open string, or the capo)."""
        return fret + self.capo.on(string)

    def has(self, string: int, fret: int) -> bool:
        """Whether a voicing's fret exists, capo included."""
        return self.stopped(string, fret) <= self.frets
