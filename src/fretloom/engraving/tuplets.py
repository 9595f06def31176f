"""Finds the tuplets of a beat from the places where its notes begin.

A pattern's commas and brackets divide beats by any number; a timeline keeps only exact times. The
search looks for the cheapest reading of those times: few tuplets, small numbers, notes that do
not straddle a division. Whatever it prefers, what it finds is exact.
"""

from __future__ import annotations

from fractions import Fraction
from math import gcd, lcm

from fretloom.engraving.values import is_dyadic
from fretloom.values import frozen

Cuts = tuple[Fraction, ...]
#: Price of a note or rest that must be cut in two at a division.
STRADDLE = 2
#: Divisors looked at; a finer tuplet is written as one flat group.
MOST_DIVISOR = 32


@frozen
class Tuplet:
    """`actual` notes of face length `unit` in the place of `normal`, from `start` to `end`.

    `dotted` marks a dotted beat divided by two, four, eight...: it is shown by dots on the values
    and not as a tuplet. `inside` are the tuplets within this one.
    """

    start: Fraction
    end: Fraction
    actual: int
    normal: int
    unit: Fraction
    dotted: bool = False
    inside: tuple[Tuplet, ...] = ()

    @property
    def face(self) -> Fraction:
        """What the written values of this place add up to, in quarter notes."""
        return self.actual * self.unit

    @property
    def scale(self) -> Fraction:
        """Real time of one quarter note of face."""
        return (self.end - self.start) / self.face


Found = tuple[int, tuple[Tuplet, ...]]


def is_compound(face: Fraction) -> bool:
    """Return whether a beat divides by three into plain values: dotted quarter, dotted half."""
    return face.numerator == 3 and is_dyadic(face)


def find_tuplets(start: Fraction, end: Fraction, face: Fraction, cuts: Cuts) -> Found:
    """Return the price and the tuplets of a place whose notes begin at `cuts`.

    Args:
        start, end: the place, in quarter notes of the bar. face: its length in written values.
        cuts: where notes or rests begin, in order; those outside the place are ignored.
    """
    inner = tuple(cut for cut in cuts if start < cut < end)
    length = end - start
    shares = tuple((cut - start) / length for cut in inner)
    if shares and is_compound(face) and all(is_dyadic(share) for share in shares):
        return 1, (Tuplet(start, end, 2, 3, face / 3, dotted=True),)
    if all(is_dyadic(share * face) for share in shares):
        return 0, ()
    return min(_readings(start, end, face, inner, shares), key=lambda found: found[0])


def _readings(
    start: Fraction, end: Fraction, face: Fraction, inner: Cuts, shares: Cuts
) -> list[Found]:
    found = [_tuplet(start, end, face, inner, count) for count in _counts(shares)]
    middle = start + (end - start) / 2
    if is_compound(face):
        found.append(_divided(start, end, face, inner, 3))
    elif middle in inner or face >= 2:
        found.append(_divided(start, end, face, inner, 2))
    return found


def _counts(shares: Cuts) -> list[int]:
    """Return the numbers of notes a tuplet over these shares may have; the one without inner tuplets comes last."""
    common = lcm(*(share.denominator for share in shares))
    odd = common
    while odd % 2 == 0:
        odd //= 2
    counts = [n for n in range(3, min(odd, MOST_DIVISOR) + 1) if odd % n == 0]
    equal = len(shares) + 1
    if common == equal:
        counts.insert(0, equal)
    return counts if odd in counts else [*counts, odd]


def _divided(start: Fraction, end: Fraction, face: Fraction, inner: Cuts, parts: int) -> Found:
    """Divide a place into parts that need no tuplet by themselves."""
    price, tuplets = _parts(start, end, face / parts, inner, parts)
    edges = (start + (end - start) * part / parts for part in range(1, parts))
    return price + STRADDLE * sum(edge not in inner for edge in edges), tuplets


def _parts(start: Fraction, end: Fraction, face: Fraction, inner: Cuts, parts: int) -> Found:
    step = (end - start) / parts
    price, tuplets = 0, list[Tuplet]()
    for part in range(parts):
        left = start + part * step
        more, found = find_tuplets(left, left + step, face, inner)
        price += more
        tuplets += found
    return price, tuple(tuplets)


def _tuplet(start: Fraction, end: Fraction, face: Fraction, inner: Cuts, count: int) -> Found:
    normal, unit = _normal(face, count)
    step = (end - start) / count
    off = [cut for cut in inner if ((cut - start) / step).denominator != 1]
    price, inside = count + len(off), tuple[Tuplet, ...]()
    if len(inner) + 1 == count and not off:
        price = 3
    if any(not is_dyadic((cut - start) / step) for cut in off):
        more, inside = _parts(start, end, unit, inner, count)
        price += more + STRADDLE * _straddled(start, step, count, inner, inside)
    return price, (Tuplet(start, end, count, normal, unit, inside=inside),)


def _straddled(
    start: Fraction, step: Fraction, count: int, inner: Cuts, inside: tuple[Tuplet, ...]
) -> int:
    """Count the edges of inner tuplets at which no note begins."""
    edges = {edge for tuplet in inside for edge in (tuplet.start, tuplet.end)}
    return sum(edge not in inner for edge in edges - {start, start + step * count})


def _normal(face: Fraction, count: int) -> tuple[int, Fraction]:
    """Return how many notes the tuplet replaces (the most that are fewer), and their value."""
    unit = Fraction(gcd(face.numerator, 1 << 16), face.denominator)
    normal = int(face / unit)
    while normal * 2 < count:
        normal, unit = normal * 2, unit / 2
    return normal, unit
