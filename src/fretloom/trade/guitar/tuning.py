"""Tunings and capos: what each open string sounds.

Two numberings, stated once. Strings are counted from the player's highest string, 1, as the trade
and MusicXML's `string` do; written tables (tunings, frets, fingers) run from the highest *number*
down to string 1. MusicXML counts staff *lines* from the bottom, so `staff-tuning line="1"` is the
string with the highest number; `staff-tuning` leaves the capo out.
"""

from __future__ import annotations

from attrs import field
from attrs.validators import ge, le

from fretloom.trade.music.pitch import Pitch
from fretloom.values import frozen

LEAST_STRINGS = 3
MOST_STRINGS = 12


@frozen
class Tuning:
    """Open strings without capo, `pitches[0]` being the string with the highest number.

    `doubles` gives, for instruments with courses, the second string of each course (or None);
    strings are numbered and judged by their first string. `name` is the trade's name, if it was
    given by name.
    """

    pitches: tuple[Pitch, ...]
    doubles: tuple[Pitch | None, ...] = ()
    name: str = ""

    @property
    def strings(self) -> int:
        """The number of strings (or courses), 3 to 12."""
        return len(self.pitches)

    def open_pitch(self, string: int) -> Pitch:
        """Return what string `string` (1 is the highest) sounds open, without capo."""
        return self.pitches[len(self.pitches) - string]

    @property
    def written(self) -> tuple[str, ...]:
        """The strings as a lesson writes them, from the highest number: `E2`, or `E2+E3` for a course."""
        pairs = zip(self.pitches, self.doubles or (None,) * self.strings, strict=True)
        return tuple(str(low) if high is None else f"{low}+{high}" for low, high in pairs)

    def __str__(self) -> str:
        return " ".join(self.written)


@frozen
class Capo:
    """A capo at `fret` (0 for none) over all strings, or over `strings` only when those are given."""

    fret: int = field(default=0, validator=[ge(0), le(24)])
    strings: tuple[int, ...] = ()

    def on(self, string: int) -> int:
        """Return how many frets the capo raises a string (0 if a partial capo leaves it out)."""
        return self.fret if not self.strings or string in self.strings else 0
