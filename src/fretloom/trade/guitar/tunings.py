"""Tunings by the trade's names, free tunings, and the words for retuning from standard.

The names are in general use; the octaves are reckoned from standard tuning, whose sixth string is
the E two octaves below the one on the first (E2 to E4 in scientific pitch notation).
"""

from __future__ import annotations

import re
from functools import lru_cache

from fretloom.errors import SymbolError
from fretloom.text import counted, listed, near_in_words, only_near
from fretloom.trade.guitar.instruments import plain_name
from fretloom.trade.guitar.tuning import LEAST_STRINGS, MOST_STRINGS, Tuning
from fretloom.trade.music.pitch import Pitch, parse_pitch

#: Trade names and their open strings, string with the highest number first; common practice.
NAMED: dict[str, str] = {
    "standard": "E2 A2 D3 G3 B3 E4",
    "drop D": "D2 A2 D3 G3 B3 E4",
    "double drop D": "D2 A2 D3 G3 B3 D4",
    "drop C": "C2 G2 C3 F3 A3 D4",
    "DADGAD": "D2 A2 D3 G3 A3 D4",
    "open D": "D2 A2 D3 F#3 A3 D4",
    "open D minor": "D2 A2 D3 F3 A3 D4",
    "open E": "E2 B2 E3 G#3 B3 E4",
    "open E minor": "E2 B2 E3 G3 B3 E4",
    "open G": "D2 G2 D3 G3 B3 D4",
    "open G minor": "D2 G2 D3 G3 Bb3 D4",
    "open A": "E2 A2 E3 A3 C#4 E4",
    "open A minor": "E2 A2 E3 A3 C4 E4",
    "open C": "C2 G2 C3 G3 C4 E4",
    "half step down": "Eb2 Ab2 Db3 Gb3 Bb3 Eb4",
    "whole step down": "D2 G2 C3 F3 A3 D4",
    "half step up": "F2 Bb2 Eb3 Ab3 C4 F4",
    "7-string": "B1 E2 A2 D3 G3 B3 E4",
    "8-string": "F#1 B1 E2 A2 D3 G3 B3 E4",
    "12-string": "E2+E3 A2+A3 D3+D4 G3+G4 B3+B3 E4+E4",
    "baritone": "B1 E2 A2 D3 F#3 B3",
    "baritone A": "A1 D2 G2 C3 E3 A3",
    "ukulele": "G4 C4 E4 A4",
    "ukulele low G": "G3 C4 E4 A4",
    "baritone ukulele": "D3 G3 B3 E4",
    "tenor guitar": "C3 G3 D4 A4",
    "tenor guitar, guitar tuning": "D3 G3 B3 E4",
}
#: Other names that the trade has for some of them.
OTHER_NAMES = {
    "e standard": "standard",
    "dropped d": "drop D",
    "double dropped d": "double drop D",
    "d modal": "DADGAD",
    "half step lower": "half step down",
    "eb standard": "half step down",
    "e flat": "half step down",
    "full step down": "whole step down",
    "d standard": "whole step down",
    "baritone b": "baritone",
    "b standard": "baritone",
    "ukulele high g": "ukulele",
    "high g ukulele": "ukulele",
    "low g ukulele": "ukulele low G",
}
_COURSE = re.compile(r"([^+\s]+)(?:\+([^+\s]+))?")
#: What people say besides; common practice, no source.
_SPOKEN = {
    "normal": "standard",
    "regular": "standard",
    "6 string": "standard",
    "eb": "half step down",
    "half step": "half step down",
    "down a half step": "half step down",
    "down half step": "half step down",
    "down a whole step": "whole step down",
}


def _plain(name: str) -> str:
    """Return the words of a name in an order of our own, so that `G open` is open G."""
    apart = re.sub(r"\b(drop|open)(?=[a-h]\b)", r"\1 ", plain_name(name))
    return " ".join(sorted(apart.split()))


_BY_NAME = {_plain(name): meant for name, meant in (*OTHER_NAMES.items(), *_SPOKEN.items())}
_BY_NAME |= {_plain(name): name for name in NAMED}
#: Tunings that an instrument comes with: retuning starts from the nearest one.
_USUAL = (
    *("standard", "7-string", "8-string", "12-string", "baritone", "baritone A"),
    *("ukulele", "ukulele low G", "baritone ukulele", "tenor guitar"),
)


def parse_tuning(text: str) -> Tuning:
    """Read a tuning: `E2 A2 D3 G3 B3 E4`, courses as `E2+E3 A2+A3 ...`, or a trade name.

    Raises:
        SymbolError: a note is not readable, there are too few or too many, or the name is unknown.
    """
    name = _BY_NAME.get(_plain(text)) if len(text) < 64 else None
    if name is not None:
        return _courses(NAMED[name], name)
    if not re.search(r"[0-9]", text) or not re.match(r"\s*[A-Ga-g]\S*[0-9]", text):
        raise _unknown(text)
    return _courses(text)


def _courses(text: str, name: str = "") -> Tuning:
    lows: list[Pitch] = []
    doubles: list[Pitch | None] = []
    for word in re.finditer(r"\S+", text):
        match = _COURSE.fullmatch(word[0])
        if match is None:
            hint = "write a pair of strings like E2+E3"
            raise SymbolError(f"{word[0][:24]!r} is not a string", word.start(), hint)
        lows.append(_open_string(match[1], word.start()))
        doubles.append(_open_string(match[2], word.start() + match.start(2)) if match[2] else None)
    if not LEAST_STRINGS <= len(lows) <= MOST_STRINGS:
        hint = f"name {LEAST_STRINGS} to {MOST_STRINGS} strings, as E2 A2 D3 G3 B3 E4"
        raise SymbolError(f"this tuning has {len(lows)} strings", 0, hint)
    return Tuning(tuple(lows), tuple(doubles) if any(doubles) else (), name)


def _open_string(text: str, position: int) -> Pitch:
    try:
        pitch = parse_pitch(text)
    except SymbolError as error:
        hint = "name every string with its octave, as E2 A2 D3 G3 B3 E4"
        raise SymbolError(f"{text[:24]!r} is not a note with an octave", position, hint) from error
    if not 0 <= pitch.midi <= 127:
        hint = "write a lower or higher octave: the sixth string of a guitar is E2, the first E4"
        raise SymbolError(f"no string can sound {pitch}", position, hint)
    return pitch


def _unknown(text: str) -> SymbolError:
    meant = tuning_meant(text)
    near = [meant] if meant else near_in_words(text[:40], NAMED)
    known = "standard, drop D, DADGAD, open G"
    hint = (
        f"did you mean {listed(near, 'or')}? Or write"
        if near
        else f"write a name such as {known}, or"
    )
    hint += " the notes from the highest string number to string 1, as E2 A2 D3 G3 B3 E4"
    return SymbolError(f"{text[:40]!r} is not a tuning that fretloom knows", 0, hint)


def tuning_meant(text: str) -> str:
    """Return the tuning that a misspelt name, or notes without octaves, can only mean; "" if not sure."""
    if len(text) >= 64:
        return ""
    if (notes := _notes_apart(text)) and notes != text:
        return notes
    near = only_near(_plain(text), _BY_NAME)
    if near:
        return _BY_NAME[near]
    letters = re.findall(r"[A-H][#b]?", re.sub(r"[\s,-]+", " ", text.upper().replace("H", "B")))
    if "".join(letters) != re.sub(r"[\s,-]+", "", text.upper().replace("H", "B")):
        return ""
    for order in (letters, letters[::-1]):  # Some begin with string 1.
        same = [name for name, notes in NAMED.items() if _letters(notes) == order]
        if same:
            return same[0] if len(same) == 1 else ""
    return ""


def _notes_apart(text: str) -> str:
    """Return notes with octaves that have other signs than spaces between them, or small letters, as they should be."""
    notes = re.findall(r"([A-Ga-g])([#b]?)([0-9])", text)
    if not LEAST_STRINGS <= len(notes) <= MOST_STRINGS:
        return ""
    plain = [f"{letter.upper()}{sign}{octave}" for letter, sign, octave in notes]
    same = "".join(plain).upper() == re.sub(r"[\s,;/|-]+", "", text).upper()
    return " ".join(plain) if same else ""


def _letters(notes: str) -> list[str]:
    return re.sub(r"\d", "", notes).upper().split()


@lru_cache(maxsize=64)
def name_of_tuning(tuning: Tuning) -> str:
    """Return the trade's name of a tuning, given by name or by its notes; "" if it has none or several."""
    if tuning.name:
        return tuning.name
    names = [name for name, notes in NAMED.items() if notes == str(tuning)]
    return names[0] if len(names) == 1 else ""


def usual_tuning(tuning: Tuning) -> Tuning | None:
    """Return the tuning that one starts from to tune to this one: the nearest with as many strings.

    None if there is no known instrument with as many strings.
    """
    usual = [_courses(NAMED[name], name) for name in _USUAL]
    alike = [
        one
        for one in usual
        if one.strings == tuning.strings and bool(one.doubles) == bool(tuning.doubles)
    ]
    return min(alike, key=lambda one: sum(map(abs, _distances(one, tuning))), default=None)


def _distances(usual: Tuning, tuning: Tuning) -> list[int]:
    pairs = zip(usual.pitches, tuning.pitches, strict=True)
    return [now.midi - was.midi for was, now in pairs]


def retuning_steps(tuning: Tuning) -> tuple[str, ...]:
    """Say how to reach a tuning from the usual one of such an instrument.

    `string 6 down 2 half steps, to D2`, from the highest string number to string 1 (of a course,
    both strings); empty if nothing has to be changed or no usual tuning is known.
    """
    usual = usual_tuning(tuning)
    if usual is None:
        return ()
    steps = []
    for index, distance in enumerate(_distances(usual, tuning)):
        if distance:
            way = "up" if distance > 0 else "down"
            half_steps = counted(abs(distance), "half step")
            now = tuning.pitches[index]
            steps.append(f"string {tuning.strings - index} {way} {half_steps}, to {now}")
    return tuple(steps)


@lru_cache(maxsize=64)
def tuning_shift(tuning: Tuning) -> int:
    """Return how many half steps all strings lie above the usual tuning, 0 if they do not all agree.

    -1 for a guitar half a step down, -5 for a baritone guitar, whose usual tuning is taken to be
    the guitar's: its shapes have the guitar's names too.
    """
    usual = _courses(NAMED["standard"]) if tuning.strings == 6 else usual_tuning(tuning)
    if usual is None:
        return 0
    shifts = set(_distances(usual, tuning))
    return shifts.pop() if len(shifts) == 1 else 0
