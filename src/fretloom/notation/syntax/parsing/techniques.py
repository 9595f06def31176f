"""The words behind a pluck, each after a dot, to what they mean: `.vibrato`, `.bend-half`, `.to-3`."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from typing import Any

from fretloom.notation.model.details.technique import BENDS, Bend, Technique, Trill, wrong_technique
from fretloom.shapes import trusted
from fretloom.text import near_names, only_near
from fretloom.trade.music.meter import parse_count
from fretloom.values import frozen

_AMOUNTS = "|".join(sorted(BENDS, key=len, reverse=True))
_COUNT = r"[0-9]{1,2}(?:e|&|a|trip|let|\+[0-9]{1,2}/[0-9]{1,2})?"
_BEATS = r"[0-9]{1,3}(?:\.[0-9]{1,4}|/[0-9]{1,3})?"
#: From this likeness on (0 to 1) an unknown word may be one that was misspelt.
_ALIKE = 0.6


def _bend(before: bool) -> Callable[[re.Match[str]], Bend]:
    return lambda found: Bend(BENDS[found[1]], release=bool(found[2]), before=before)


def _trill(found: re.Match[str]) -> Trill:
    finger: Any = found[2]
    return Trill(int(found[1]), finger)


#: For each word its shape, the field of `Technique` that it fills, and how it is read.
_WORDS: tuple[tuple[re.Pattern[str], str, Callable[[re.Match[str]], object]], ...] = (
    (re.compile(rf"to-({_COUNT})"), "held_to", lambda found: parse_count(found[1])),
    (re.compile(rf"for-({_BEATS})"), "held_for", lambda found: Fraction(found[1])),
    (re.compile(r"(ring|damped)"), "lasting", lambda found: found[1]),
    (re.compile(rf"bend-({_AMOUNTS})(-release)?"), "bend", _bend(False)),
    (re.compile(rf"prebend-({_AMOUNTS})(-release)?"), "bend", _bend(True)),
    (re.compile(r"vibrato"), "vibrato", lambda found: True),
    (re.compile(r"trill-([0-9]{1,2})(?::([1-4T]))?"), "trill", _trill),
    (re.compile(r"ghost"), "ghost", lambda found: True),
    (re.compile(r"grace(-before)?"), "grace", lambda found: "before" if found[1] else "on-beat"),
    (re.compile(r"harmonic-([0-9]{1,2})"), "touch", lambda found: int(found[1])),
)
#: How each word is written, for messages.
_EXAMPLES = {
    "to": "to-3", "for": "for-2", "ring": "ring", "damped": "damped", "bend": "bend-half",
    "prebend": "prebend-full-release", "vibrato": "vibrato", "trill": "trill-5", "ghost": "ghost",
    "grace": "grace", "harmonic": "harmonic-15",
}  # fmt: skip
_HELD = "to-3 (up to a count) or .for-2 (for two beats)"
#: Words of the trade for one of them.
_ALSO = {
    "vib": "vibrato", "letring": "ring", "let-ring": "ring", "lv": "ring", "hold": _HELD,
    "held": _HELD, "staccato": "damped", "damp": "damped", "mute": "damped", "short": "damped",
    "tr": "trill-5", "b": "bend-half", "artificial": "harmonic-15", "acciaccatura": "grace",
    "appoggiatura": "grace", "full": "bend-full", "release": "bend-half-release", "bend-whole": "bend-full",
}  # fmt: skip


@frozen
class WrongWord:
    """A word behind a pluck that says nothing: what is wrong, and what to write."""

    message: str
    hint: str


def read_technique(text: str) -> Technique | WrongWord:
    """Read the words behind a pluck, from the first dot on."""
    fields: dict[str, Any] = {}
    at = 0
    while at < len(text):
        found = _next_word(text, at + 1)
        if found is None:
            return _unknown(re.split(r"\.(?=[^\W\d_])", text[at:])[1])
        name, value, end = found
        if name in fields:
            return WrongWord(f"`{text}` says two things of one kind", "keep one of them")
        fields[name] = value
        at = end
    with trusted():  # What does not go together is said below.
        technique = Technique(**fields)
    if technique.held_for == 0 or (technique.held_to and not technique.held_to.number):
        hint = "counts and beats begin at 1: .to-3, .for-2"
        return WrongWord(f"`{text}` holds a note for no time", hint)
    if wrong_technique(technique):
        hint = "keep one of them: one length for a note, and a bend or a trill"
        return WrongWord(f"`{text}` asks for what does not go together", hint)
    return technique


def _next_word(text: str, at: int) -> tuple[str, object, int] | None:
    """Return the field that the word at an offset fills, its value, and where the word ends."""
    for pattern, name, read in _WORDS:
        found = pattern.match(text, at)
        if found is None or text[found.end() : found.end() + 1] not in ("", "."):
            continue
        try:
            return name, read(found), found.end()
        except (ValueError, ArithmeticError):
            return None
    return None


def word_for(text: str) -> str:
    """Return the word of technique that a text may stand for, as it is written; "" if there is none.

    One letter alone may as well be another word for a finger.
    """
    if len(text) < 2:
        return ""
    stem = text.lower().partition("-")[0]
    return _ALSO.get(text.lower()) or _ALSO.get(stem) or _EXAMPLES.get(stem, "")


def respelt(text: str) -> str:
    """Return the words behind a pluck, from the first dot on, with those misspelt that can only mean one; else ""."""
    words = re.split(r"\.(?=[^\W\d_])", text)
    known = [one for one in _EXAMPLES.values() if one.isalpha()]
    meant = ".".join(only_near(word, known) or word for word in words)
    return meant if meant != text and isinstance(read_technique(meant), Technique) else ""


def _unknown(word: str) -> WrongWord:
    stem = word.partition("-")[0]
    also = _ALSO.get(word) or _ALSO.get(stem)
    near = near_names(stem, _EXAMPLES, 1, _ALIKE)
    like = also or (_EXAMPLES[near[0]] if near else "")
    if stem in ("bend", "prebend"):
        amounts = ", ".join(f"{stem}-{amount}" for amount in BENDS)
        return WrongWord(f"`.{word}` does not say how far", f"write one of {amounts}")
    every = "such words are ." + ", .".join(_EXAMPLES.values())
    hint = f"did you mean .{like}?" if like else every
    return WrongWord(f"`.{word}` says nothing about a note", hint)
