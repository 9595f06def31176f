"""The instrument of a lesson for a page: what `guitar.json` says of it, and no more."""

from __future__ import annotations

from typing import Any

from fretloom.formats.sound.guitar.constants import table
from fretloom.formats.sound.guitar.string.making import making_of
from fretloom.performance.events import Settings

_UNUSED = {"source"}
_FIGURES = 6


def instrument_data(settings: Settings) -> dict[str, Any]:
    """Return the numbers of an instrument, as `guitarOf` in `synth.js` takes them.

    `makes` has for each string (its number times two, and one more for the second of a course) the number of its row
    in `strung`: length, weight, stiffness, three constants of its losses, and where it lies, 0 to 1.
    """
    making = making_of(settings)
    found: dict[str, Any] = {
        name: _used(table(name))
        for name in ("strings", "fingers", "damping", "slurs", "noises", "room", "clicks")
    }
    makes = {
        number * 2 + mate: [
            *map(_short, (one.length, one.weight, one.stiffness, *one.decay, one.share))
        ]
        for (number, mate), one in making.strings.items()
    }
    return found | {
        "body": _used(table("bodies")[making.body]),
        "size": making.size,
        "scale": making.scale,
        "makes": makes,
        "capo": making.capo,
    }


def _used(part: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in part.items() if name not in _UNUSED}


def _short(value: float) -> float:
    return float(f"{value:.{_FIGURES}g}")
