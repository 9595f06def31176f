"""The standard degrees of loudness, softest first (MusicXML 4.0, `dynamics`)."""

from __future__ import annotations

from typing import Literal

Dynamic = Literal["ppp", "pp", "p", "mp", "mf", "f", "ff", "fff"]
DYNAMICS: tuple[Dynamic, ...] = ("ppp", "pp", "p", "mp", "mf", "f", "ff", "fff")
#: What each is called (the Italian words in English; common practice, no source).
DYNAMIC_WORDS: dict[Dynamic, str] = {
    "ppp": "as soft as can be",
    "pp": "very soft",
    "p": "soft",
    "mp": "moderately soft",
    "mf": "moderately loud",
    "f": "loud",
    "ff": "very loud",
    "fff": "as loud as can be",
}


def loudness_words(dynamic: Dynamic) -> str:
    """Say how loud, with the sign: `soft (p)`."""
    return f"{DYNAMIC_WORDS[dynamic]} ({dynamic})"


def louder(one: Dynamic, other: Dynamic) -> bool:
    """Whether one degree is louder than another."""
    return DYNAMICS.index(one) > DYNAMICS.index(other)
