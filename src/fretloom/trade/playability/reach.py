"""How far the fingers reach: hands, contacts on the neck and the distance between two of them.

Two fingers are `r = sqrt(dx**2 + (k*dy)**2)` apart, dx along the neck, dy across it. k is below 1
because fingers reach across the strings by bending, which is easy, and along the neck by spreading,
which is not. With k = 0.5 the largest distance of every pair of fingers in the measured voicings is
the one between frets, not the diagonal.

The limits are for a hand of 182.5 mm (mean of the male and female median of British adults, Pheasant,
"Bodyspace", from memory). Comfortable: just above the 90th percentile of 2,040 voicings of the
dataset in `tests/data/voicings.tsv`; maximum: just above the largest value in it, except for fingers
1 and 4, where the data ends at three frets and 112 mm (80 % of what the flat hand spans) is an
assumption. Reach grows with the square root of hand length, an assumption after Wagner 1988
(Ergonomics 31(1)): spans without the thumb hardly differ between small and large hands.
"""

from __future__ import annotations

from functools import lru_cache
from math import hypot, sqrt
from typing import NamedTuple

from attrs import field
from attrs.validators import ge, le

from fretloom.trade.guitar.fretboard import Neck
from fretloom.values import frozen

AVERAGE_LENGTH = 182.5
#: Hand lengths in mm: about the 5th percentile of women and the 95th of men (Pheasant, from memory).
LENGTHS = {"small": 160.0, "average": AVERAGE_LENGTH, "large": 205.0}

ACROSS = 0.5
COMFORTABLE = {
    ("1", "2"): 40.0,
    ("1", "3"): 70.0,
    ("1", "4"): 88.0,
    ("2", "3"): 36.0,
    ("2", "4"): 56.0,
    ("3", "4"): 36.0,
}
MAXIMUM = {
    ("1", "2"): 72.0,
    ("1", "3"): 100.0,
    ("1", "4"): 112.0,
    ("2", "3"): 70.0,
    ("2", "4"): 76.0,
    ("3", "4"): 68.0,
}
#: Fingers 1 and 4 over so many frets: the first fret from the nut from which the little finger makes
#: it by standing back from its wire, and by how much of its own fret (assumptions).
FIVE, LEANS_FROM, LEANS = 5, 3, 0.125
#: The longest barre that can leave a string on its treble side free: about the last finger joint.
PAD = 24.0
#: The thumb over the neck: along the neck from finger 1, or from the lowest finger without it.
THUMB_TO_INDEX = 45.0
THUMB_TO_LOWEST = 60.0
#: With the thumb over the neck the palm closes and the hand spans less.
THUMB_SPAN = 0.85


@frozen(cache_hash=True)
class Hand:
    """A hand by its length in mm, from the wrist's crease to the tip of the middle finger."""

    length: float = field(default=AVERAGE_LENGTH, validator=[ge(100), le(300)])

    @property
    def factor(self) -> float:
        """How its reach compares with the average hand's."""
        return sqrt(self.length / AVERAGE_LENGTH)


def hand_of(size: object) -> Hand:
    """Return the hand a lesson names: a size of `LENGTHS`, or a length in mm."""
    if isinstance(size, str):
        return Hand(LENGTHS[size])
    return Hand(float(size))  # type: ignore[arg-type]


class Contact(NamedTuple):
    """Where a finger touches: a fret counted from the nut, from string `bass` to string `treble`."""

    fret: int
    bass: int
    treble: int


@lru_cache(maxsize=1 << 15)
def reach(neck: Neck, one: Contact, other: Contact) -> float:
    """Return how far apart two contacts are for the hand, in mm."""
    along = neck.span(one.fret, other.fret)
    return hypot(along, ACROSS * _gap(neck, one, other))


def apart(neck: Neck, one: str, first: Contact, other: str, second: Contact) -> float:
    """Return how far apart two fingers are, in mm, the lower-numbered one given first.

    Wires stand for the places of fingers, which is right where both stand close to theirs. A little
    finger stretched over five frets stands back in its own: from `LEANS_FROM` on that is taken off.
    """
    distance = reach(neck, first, second)
    if spans_five(one, first.fret, other, second.fret) and first.fret >= LEANS_FROM:
        distance -= LEANS * neck.span(second.fret - 1, second.fret)
    return distance


def spans_five(one: str, first: int, other: str, second: int) -> bool:
    """Whether fingers 1 and 4 are on the first and the last of five frets."""
    return (one, other) == ("1", "4") and second - first == FIVE - 1


def _gap(neck: Neck, one: Contact, other: Contact) -> float:
    """Return the distance across the strings between two contacts, 0 where they overlap."""
    if one.bass >= other.treble and other.bass >= one.treble:
        return 0.0
    lower, higher = (one, other) if one.treble > other.bass else (other, one)
    return abs(neck.across(lower.treble, lower.fret) - neck.across(higher.bass, higher.fret))


def barre_length(neck: Neck, contact: Contact) -> float:
    """Return the length of a barre from its first to its last string, in mm."""
    return (contact.bass - contact.treble) * neck.spacing(contact.fret)


def comfortable(hand: Hand, one: str, other: str) -> float:
    """Return how far two fingers reach without strain, in mm."""
    return COMFORTABLE[one, other] * hand.factor


def maximum(hand: Hand, one: str, other: str, *, thumb: bool = False) -> float:
    """Return how far two fingers can reach, in mm; less between 1 and 4 while the thumb frets."""
    limit = MAXIMUM[one, other] * hand.factor
    return limit * THUMB_SPAN if thumb and (one, other) == ("1", "4") else limit
