"""Forgets what the code remembers, so that each test calls by itself all that it depends on."""

from __future__ import annotations

import sys
from functools import _lru_cache_wrapper

from hypothesis import settings

#: The parser takes long to make, and is made from the grammar and nothing else.
KEPT = "fretloom.notation.syntax.grammar"


def forgetful() -> bool:
    """Whether this run looks for the tests that call a function: `--hypothesis-profile mutation`."""
    return settings.get_current_profile_name() == "mutation"


def forget() -> None:
    """Empty the caches of all functions of the project."""
    for name, module in list(sys.modules.items()):
        if name.startswith("fretloom.") and name != KEPT:
            for value in list(vars(module).values()):
                if isinstance(value, _lru_cache_wrapper):
                    value.cache_clear()
