"""The values that a line of the heading can have, where there are few or they have names."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.trade.guitar.instruments import INSTRUMENTS
from fretloom.trade.guitar.tunings import NAMED
from fretloom.trade.harmony.key_names import write_key
from fretloom.trade.music.key import parse_key

_KEYS = {
    "major": ("C", "G", "D", "A", "E", "B", "F#", "Gb", "Db", "Ab", "Eb", "Bb", "F"),
    "minor": ("Am", "Em", "Bm", "F#m", "C#m", "G#m", "D#m", "Ebm", "Bbm", "Fm", "Cm", "Gm", "Dm"),
}
_USUAL = {
    "meter": ("4/4", "3/4", "2/4", "6/8", "12/8"),
    "swing": ("2:1", "3:2"),
    "capo": ("1", "2", "3", "4", "5"),
}


def field_values(word: str, naming: str) -> Iterator[tuple[str, str]]:
    """Yield values for a line of the heading, by its first word, each with a few words on it.

    `naming` is how the lesson names notes.
    """
    row = FIELDS.get(word)
    if row is None:
        return
    if word in ("plays", "sounds"):
        keys = ((key, mode) for mode in ("major", "minor") for key in _KEYS[mode])
        yield from ((write_key(parse_key(key), naming), mode) for key, mode in keys)
    elif word == "tuning":
        yield from NAMED.items()
    elif word == "instrument":
        yield from ((one.name, "") for one in INSTRUMENTS)
    else:
        yield from ((value, "") for value in row.words or _USUAL.get(word, ()))
