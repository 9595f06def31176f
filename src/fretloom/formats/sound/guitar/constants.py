"""The numbers our guitar is made of: `guitar.json`, which a player in another language reads as well."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from fretloom.package_data import packaged_text

#: Samples a second.
RATE = 44100


@cache
def table(name: str) -> Any:
    """Return a part of `guitar.json` by its name."""
    return _all()[name]


@cache
def _all() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(packaged_text(__package__, "guitar.json"))
    return found


def value(part: str, name: str) -> float:
    """Return one number of a part."""
    return float(table(part)[name])
