"""Note names as they are written in different countries: C D E, C D E with H, Do Re Mi."""

from __future__ import annotations

import re

from fretloom.errors import SymbolError
from fretloom.trade.music.pitch import ACCIDENTAL_SIGNS, NoteName

NAMINGS = ("english", "german", "romance")
_SIGN = r"(##|♯♯|𝄪|#|♯|bb|♭♭|𝄫|b|♭|♮|x)?"
_ENGLISH = re.compile(r"([A-G])" + _SIGN)
#: German endings: -is is sharp, -es flat; As, Es and B are short for the flats of A, E and H.
_GERMAN_WORD = re.compile(
    r"([CDFG]es(?:es)?|(?:Ases|Eses|Heses)|[CDEFGAH]is(?:is)?|As(?!us)|Es(?!us))"
)
_GERMAN = re.compile(r"([A-H])" + _SIGN)
_ROMANCE = re.compile(r"(D[oóOÓ]|R[eéEÉ]|M[iíIÍ]|F[aáAÁ]|S[oO][lL]|L[aáAÁ]|S[iíIÍ])" + _SIGN)
_ROMANCE_STEPS = {"d": "C", "r": "D", "m": "E", "f": "F", "so": "G", "l": "A", "si": "B"}


def read_note(text: str, start: int = 0, naming: str = "english") -> tuple[NoteName, int]:
    """Read a note name and return it with the offset of what follows.

    Raises:
        SymbolError: there is not a note name of that naming.
    """
    found = _READERS[naming](text, start)
    if found is None:
        raise SymbolError(*_refusal(text, start, naming))
    return found


def write_note(note: NoteName, naming: str = "english") -> str:
    """Return a note's name in a naming: Bb is B in German and Sib in the Romance one."""
    if naming == "german":
        return _in_german(note)
    if naming == "romance":
        return _ROMANCE_NAMES[note.step] + str(note)[1:]
    return str(note)


def _in_german(note: NoteName) -> str:
    if note == NoteName("B", -1):
        return "B"
    step = "H" if note.step == "B" else note.step
    if note.alter >= 0:
        return step + "is" * note.alter
    flat = "s" if step in "AE" else "es"
    return step + flat + "es" * (-note.alter - 1)


_ROMANCE_NAMES = {
    "C": "Do", "D": "Re", "E": "Mi", "F": "Fa", "G": "Sol", "A": "La", "B": "Si",
}  # fmt: skip


def _english(text: str, start: int) -> tuple[NoteName, int] | None:
    match = _ENGLISH.match(text, start)
    return _note(match[1], match) if match else None


def _german(text: str, start: int) -> tuple[NoteName, int] | None:
    word = _GERMAN_WORD.match(text, start)
    if word:
        return _german_word(word[1]), word.end()
    match = _GERMAN.match(text, start)
    if match is None:
        return None
    letter, sign = match.groups()
    if letter == "H":
        return _note("B", match)
    # "Bb" is B flat for everybody; plain B is the German name for it.
    if letter == "B":
        if sign not in (None, "b", "♭"):
            return None
        return NoteName("B", -1), match.end()
    return _note(letter, match)


def _german_word(word: str) -> NoteName:
    step = "B" if word[0] == "H" else word[0]
    if word in ("As", "Es"):
        return NoteName(step, -1)
    if word in ("Ases", "Eses"):
        return NoteName(step, -2)
    ending = word[1:]
    return NoteName(step, ending.count("is") - ending.count("es"))


def _romance(text: str, start: int) -> tuple[NoteName, int] | None:
    match = _ROMANCE.match(text, start)
    if match is None:
        return None
    word = match[1].lower()
    return _note(_ROMANCE_STEPS[word[: 2 if word[0] == "s" else 1].replace("í", "i")], match)


def _note(step: str, match: re.Match[str]) -> tuple[NoteName, int]:
    return NoteName(step, ACCIDENTAL_SIGNS[match[2]] if match[2] else 0), match.end()


_READERS = {"english": _english, "german": _german, "romance": _romance}


def _refusal(text: str, start: int, naming: str) -> tuple[str, int, str]:
    rest = text[start : start + 12]
    letter = rest[:1]
    if naming == "english" and letter in ("H", "h"):
        hint = 'write B, or say "names german" in the heading'
        return f"{rest!r}: H is a note in German naming only", start, hint
    if naming == "english" and letter and letter in "abcdefg":
        hint = f"write {letter.upper()}{rest[1:2]} (a minor chord is {letter.upper()}m)"
        return f"{rest!r} does not begin with a capital letter", start, hint
    notes = {
        "english": "a letter A to G",
        "german": "a letter A to H (B is B flat, H is B natural) or a name such as Fis, Es",
        "romance": "Do, Re, Mi, Fa, Sol, La or Si",
    }[naming]
    what = f"{rest!r} does not begin with a note" if rest else "there is no note"
    return what, start, f"begin with {notes}"
