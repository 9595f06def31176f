"""What makes players choose one fingering rather than another, as numbers.

The cost of a fingering is a weighted sum of terms of single fingers and of pairs of fingers. It ranks
fingerings of the *same* frets, so weights may be negative; it is not a measure of difficulty. The
weights were fitted to the dataset by `tests/data/fit_fingering_weights.py`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from fretloom.trade.playability.weights import ASSUMED, FITTED

Term = tuple[str, float]

_WEIGHTS = ASSUMED | FITTED


def finger_terms(
    finger: str, strings: tuple[int, ...], lower_beyond: int, any_open: bool
) -> Iterator[Term]:
    """Yield the terms of one finger on `strings` (bass first).

    `lower_beyond` counts the sounding strings on the treble side of a barre that sound at a lower
    fret; `any_open` says whether the voicing has an open string.
    """
    yield f"use{finger}", 1.0
    held = len(strings)
    if held < 2:
        return
    yield f"barre{finger}", 1.0
    yield f"barre{finger}_extra", held - 2.0
    gap = strings[0] - strings[-1] + 1 - held
    index = finger == "1"
    yield ("barre_gap" if index else "barre_gap_hi"), float(gap)
    if lower_beyond:
        yield ("barre_arch1" if index else "barre_arch"), 1.0
    if index and any_open:
        yield "barre1_open", 1.0


def pair_terms(
    one: tuple[str, tuple[int, ...]], other: tuple[str, tuple[int, ...]], frets: int, strain: float
) -> Iterator[Term]:
    """Yield the terms of two fingers, each with its strings, `one` below `other` in number.

    `frets` is how many frets apart they are, `strain` the millimetres beyond comfortable reach.
    """
    pair, wide = one[0] + other[0], int(other[0]) - int(one[0])
    across = other[1][0] - one[1][0]
    if frets == 0:
        yield "sameskip", wide - 1.0
        if across > 0:
            yield "reversed", 1.0
    else:
        yield "slant", across / 5
    yield f"spread{pair}", max(0.0, frets - wide)
    yield f"squeeze{pair}", max(0.0, wide - frets)
    yield "stretchmm", strain / 10


#: Few fingers beside open strings keep each to the fret of its number, up to this one.
FEW, _LAST_HOME = 2, 4


def whole_terms(
    placed: Iterable[tuple[str, int]], written: Iterable[int] = (), in_position: bool = False
) -> Iterator[Term]:
    """Yield the terms of all fingers used together, without the thumb, each with its fret.

    `written` are the frets as they are counted from the capo, in the same order, where the voicing
    has an open string; `in_position` says that four frets there lie within easy reach.
    """
    placed = tuple(placed)
    used = sorted(placed)
    if not used:
        return
    if len(used) <= FEW:
        away = sum(
            abs(fret - int(finger))
            for (finger, _), fret in zip(placed, written, strict=False)
            if fret <= _LAST_HOME
        )
        yield "few_away", float(away)
        if len(used) == 1 and in_position:
            yield "one_away", float(away)
    yield "fingers", float(len(used))
    yield "skip", int(used[0][0]) - 1.0
    for (one, low), (other, high) in pairwise(used):
        yield f"next{one}{other}_{high - low}", 1.0


def cost_of(terms: Iterator[Term]) -> float:
    """Return the weighted sum of terms."""
    weight = _WEIGHTS.get
    return sum(value * weight(name, 0.0) for name, value in terms)
