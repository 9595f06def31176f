"""Values that are written in many places, as text: quoted texts, exact numbers, tempos."""

from __future__ import annotations

import re
from fractions import Fraction

from fretloom.trade.music.tempo import Tempo

#: A text in quotes; one that is not closed goes on to the end, so that it is gone through once.
QUOTED = r'"(?:[^"\\]++|\\.?+)*+(?P<closed>"?)'


def is_closed(found: re.Match[str]) -> bool:
    """Whether what `QUOTED` has found ends with a quotation mark."""
    return bool(found["closed"])


def quoted(text: str) -> str:
    """Write a text in quotes."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def number(value: Fraction) -> str:
    """Write 3, 1.5 or 5/3: as a decimal where that is exact and short."""
    if value.denominator == 1:
        return str(value.numerator)
    scaled = value * 10000
    if (scaled.denominator == 1 and value.denominator != 2) or value.denominator in (2, 4, 5, 10):
        return f"{float(value):.4f}".rstrip("0")
    return f"{value.numerator}/{value.denominator}"


def share(value: Fraction) -> str:
    """Write a share in beats: 3 or 3/2, as a decimal only where the fraction is too long."""
    return str(value) if value.denominator <= 999 else number(value)


def tempo(value: Tempo) -> str:
    """Write `96`, or `60 to 3/8`."""
    if value.unit == 1:
        return number(value.per_minute)
    unit = value.unit / 4
    return f"{number(value.per_minute)} to {unit.numerator}/{unit.denominator}"
