"""Keys as they are named in different countries: `F#m`, `fis-Moll`, `Fa#m`."""

from __future__ import annotations

from fretloom.errors import SymbolError
from fretloom.trade.harmony.note_names import read_note, write_note
from fretloom.trade.music.key import MODES, Key, parse_key

#: Words for major and minor beside the names of the modes.
_MODE_WORDS = {
    "": "major", "maj": "major", "dur": "major", "maggiore": "major", "majeur": "major",
    "mayor": "major", "maior": "major", "m": "minor", "min": "minor", "-": "minor", "moll": "minor",
    "minore": "minor", "mineur": "minor", "menor": "minor",
    **{mode: mode for mode in MODES},
}  # fmt: skip


def read_key(text: str, naming: str = "english") -> Key:
    """Read a key as a naming writes it; a small German letter (`a`, `fis-Moll`) is minor.

    Raises:
        SymbolError: the text does not name a key.
    """
    if naming == "english":
        return parse_key(text)
    plain = text.strip()
    small = naming == "german" and plain[:1] in tuple("abcdefgh")
    note = plain[:1].upper() + plain[1:] if small else plain
    tonic, after = read_note(note, 0, naming)
    word = plain[after:].strip()
    word = word.removeprefix("-").lower() if len(word) > 1 else word
    mode = _MODE_WORDS.get(word)
    if mode is None or (small and mode not in ("major", "minor")) or (small and word == "dur"):
        raise SymbolError(f"{text[:40]!r} is not a key", after, _EXAMPLES[naming])
    return Key(tonic, "minor" if small else mode)


_EXAMPLES = {
    "german": "write it like E, Fism, fis-Moll or B-Dur (B is B flat, H is B natural)",
    "romance": "write it like Mi, Fa#m or Sib",
}


def write_key(key: Key, naming: str = "english") -> str:
    """Return a key's name so that `read_key` reads it back: `Fism` for F# minor in German."""
    return write_note(key.tonic, naming) + key.mode_text
