"""Gives the slurs of a voice their numbers (MusicXML 4.0 `number-level`: 1 to 16 in one part).

Readers join equal numbers across staves: notation has the odd ones and tablature the even ones, so
that eight slurs can be open at once on each.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from fretloom.engraving.heads import Head
from fretloom.values import frozen

_MOST_OPEN = 8


@frozen
class SlurEnds:
    """The slurs that end and begin at one head, counted from 0; None for none.

    `lost` says that one should begin but all numbers are in use.
    """

    stop: int | None = None
    start: int | None = None
    lost: bool = False


_NO_SLUR = SlurEnds()


def slur_ends(chords: Sequence[Sequence[Head]]) -> tuple[tuple[SlurEnds, ...], ...]:
    """Return the slurs at each head of each chord of a voice, grace notes among them, in order."""
    ahead = Counter([head.chain for chord in chords for head in chord if head.slur_in])
    if not ahead:
        return tuple([(_NO_SLUR,) * len(chord) for chord in chords])
    open_slurs: dict[int, int] = {}
    return tuple(tuple(_ends(head, open_slurs, ahead) for head in chord) for chord in chords)


def slur_number(slur: int, tab: bool) -> str:
    """Return the number of a slur on a staff of notation or of tablature."""
    return str(2 * slur + (2 if tab else 1))


def _ends(head: Head, open_slurs: dict[int, int], ahead: Counter[int]) -> SlurEnds:
    """Return the slurs at a head, and note which are open after it."""
    stop = None
    if head.slur_in:
        stop = open_slurs.pop(head.chain, None)
        ahead[head.chain] -= 1
    # What is slurred to after the end of the bar is not written, and nor is its slur.
    if not (head.slur_out and ahead[head.chain]):
        return SlurEnds(stop)
    taken = {*open_slurs.values(), stop}
    start = next((number for number in range(_MOST_OPEN) if number not in taken), None)
    if start is None:
        return SlurEnds(stop, lost=True)
    open_slurs[head.chain] = start
    return SlurEnds(stop, start)
