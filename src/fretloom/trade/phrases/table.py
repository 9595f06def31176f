"""Looks up the words of the pages for students, and fills in what changes."""

from __future__ import annotations

import tomllib
from functools import cache

from fretloom.package_data import packaged_text

#: The only language so far; another is another file with the same keys.
LANGUAGE = "english"


@cache
def phrases(language: str = LANGUAGE) -> dict[str, str]:
    """Return all texts of a language by part and key: `pages.shapes`."""
    parts = tomllib.loads(packaged_text("fretloom.trade.phrases", f"{language}.toml"))
    return {f"{part}.{key}": text for part, texts in parts.items() for key, text in texts.items()}


def say(key: str, **filled: object) -> str:
    """Return a text with what it names filled in: `say("pages.again")`.

    Raises:
        KeyError: there is no such text, or something it names is not given.
    """
    text = phrases()[key]
    return text.format_map(filled) if filled else text
