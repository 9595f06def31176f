"""Tunings and capos: what each open string sounds.

Two numberings, stated once. Strings are counted from the player's highest string, 1, as the trade
and MusicXML's `string` do; written tables (tunings, frets, fingers) run from the highest *number*
down to string 1. MusicXML counts staff *lines* from the bottom, so `staff-tuning line="1"` is the
string with the highest number; `staff-tuning` leaves the capo out.
"""

from __future__ import annotations

from typing import Annotated

from fretloom.shapes import between, shaped
from fretloom.trade.music.pitch import Pitch
from fretloom.values import frozen

LEAST_STRINGS = 3
MOST_STRINGS = 12


def _wrong_courses(tuning: Tuning) -> str:
    if not LEAST_STRINGS <= tuning.strings <= MOST_STRINGS:
        return f"pitches: {LEAST_STRINGS} to {MOST_STRINGS} strings, not {tuning.strings}"
    if tuning.doubles and len(tuning.doubles) != tuning.strings:
        return f"doubles: as many as pitches, {tuning.strings}, or none"
    return ""


@shaped(also=_wrong_courses)
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
    def outer_is_lowest(self) -> bool:
        """Whether the string with the highest number is the lowest; on a ukulele with a high G it is not."""
        return self.pitches[0].midi == min(one.midi for one in self.pitches)

    @property
    def written(self) -> tuple[str, ...]:
        """The strings as a lesson writes them, from the highest number: `E2`, or `E2+E3` for a course."""
        pairs = zip(self.pitches, self.doubles or (None,) * self.strings, strict=True)
        return tuple(str(low) if high is None else f"{low}+{high}" for low, high in pairs)

    def __str__(self) -> str:
        return " ".join(self.written)


@shaped()
@frozen
class Capo:
    """A capo at `fret` (0 for none) over all strings, or over `strings` only when those are given."""

    fret: Annotated[int, between(0, 24)] = 0
    strings: tuple[int, ...] = ()

    def on(self, string: int) -> int:
        """Return how many frets the capo raises a string (0 if a partial capo leaves it out)."""
        return self.fret if not self.strings or string in self.strings else 0

    def leaves_out(self, strings: int) -> bool:
        """Whether a neck with this number of strings has some that it does not cover: a partial capo."""
        return bool(self.fret) and any(not self.on(one) for one in range(1, strings + 1))
