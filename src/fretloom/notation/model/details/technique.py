"""How one note is played beyond its pluck: how long it lasts, how it is bent, adorned or touched.

In a lesson these are words behind a pluck, each after a dot: `m2@3.vibrato`, `a1@5.bend-half`.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Literal

from fretloom.notation.model.limits import Place, Share, WrittenCount
from fretloom.shapes import Limit, shaped
from fretloom.trade.guitar.voicing import FrettingFinger
from fretloom.values import frozen

#: How a note ends: of itself ("ring": let ring; "damped": with its own place in the pattern).
Lasting = Literal["", "ring", "damped"]
#: When the quick notes before a main note are played (grace notes).
Grace = Literal["", "on-beat", "before"]
#: How far a string is bent, in semitones, by the trade's words, which count whole tones.
BENDS: dict[str, Fraction] = {
    "quarter": Fraction(1, 2),
    "half": Fraction(1),
    "full": Fraction(2),
    "full-and-half": Fraction(3),
    "two": Fraction(4),
}
BEND_WORDS = {amount: word for word, amount in BENDS.items()}


def _amount(value: Fraction) -> str:
    if value in BEND_WORDS:
        return ""
    return f"one of {', '.join(map(str, BEND_WORDS))} semitones, not {value}"


def wrong_technique(one: Technique) -> str:
    """Say what cannot be asked of one note; "" if all can."""
    lengths = [one.held_to is not None, one.held_for is not None, bool(one.lasting)]
    if sum(lengths) > 1:
        return "lasting: a note has one length: held to a count, held for beats, ring, or damped"
    if one.trill is not None and one.bend is not None:
        return "trill: a string is bent or trilled, not both"
    return ""


@shaped()
@frozen
class Bend:
    """A string pushed across the neck: `semitones` higher (see `BENDS`).

    `release` brings it back to its fret; `before` bends it before it is plucked.
    """

    semitones: Annotated[Fraction, Limit(_amount, "an amount of BENDS")]
    release: bool = False
    before: bool = False


@shaped()
@frozen
class Trill:
    """Quick hammer-ons and pull-offs between the note's fret and `fret`, by the finger `fretting`."""

    fret: Place
    fretting: FrettingFinger | None = None


@shaped(also=wrong_technique)
@frozen(kw_only=True)
class Technique:
    """What the words behind a pluck say; without any of them the note is plain.

    Args:
        held_to: held up to that count of its bar, and let go there. held_for: held for a number of beats,
            over the bar line if need be. lasting: "ring" lets it ring on, "damped" stops it at the
            end of its own place.
        bend, vibrato, trill: what the fretting hand does while it sounds.
        ghost: hinted at, far softer than the others.
        grace: the notes of the pluck before its last one take no time of their own: they are played
            quickly on the beat, or before it.
        touch: the fret over which the picking hand touches the string (an artificial harmonic).
    """

    held_to: WrittenCount | None = None
    held_for: Share | None = None
    lasting: Lasting = ""
    bend: Bend | None = None
    vibrato: bool = False
    trill: Trill | None = None
    ghost: bool = False
    grace: Grace = ""
    touch: Place | None = None

    @property
    def only_lasts(self) -> bool:
        """Whether it says nothing but how long something sounds."""
        more = (self.bend, self.trill, self.touch)
        return all(one is None for one in more) and not (self.vibrato or self.ghost or self.grace)


PLAIN = Technique()
