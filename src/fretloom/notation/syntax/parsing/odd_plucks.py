"""Words that stand where a pluck should and are none: what is said of them, and what to write."""

from __future__ import annotations

import re

from fretloom.notation.syntax.parsing.plucks import (
    PLUCK,
    plain_pluck,
    pluck_maker,
    split_words,
)
from fretloom.notation.syntax.parsing.techniques import (
    WrongWord,
    read_technique,
    respelt,
    word_for,
)

#: What to write where nothing says what was meant.
NAME_A_FINGER = (
    "write a finger (p i m a c), then a string and a fret if need be: p, i2, a@3, i3@0h2"
)
_JOINED = re.compile(r"[pimac]{2,5}")
#: Signs behind a pluck that scores and tabs have, and the word that a lesson has.
_SIGNED = re.compile(r"([pimac][0-9]{0,2}(?:@[0-9]{1,2})?)(~+|v|vib|b|br|tr|\^)[0-9/]*")
_SIGNS = {
    "~": "vibrato", "~~": "vibrato", "~~~": "vibrato", "v": "vibrato", "vib": "vibrato", "b": "bend-half",
    "br": "bend-half-release", "^": "bend-half", "tr": "trill-5",
}  # fmt: skip
_SLAPS = frozenset(
    (
        "bodyslap", "stringslap", "slap", "slaps", "tap", "knock", "thump", "body", "string", "percussion",
        "hit",
    )
)  # fmt: skip


def odd_pluck(text: str) -> tuple[str, str]:
    """Return what is wrong with a word that is not a pluck, and a way out, by the likeliest reason."""
    plain, words = split_words(text)
    if words and plain_pluck(plain):
        return _wrong_words(plain, words)
    return f"`{text}` is not a pluck", _way_out(text)


def respelt_pluck(text: str) -> str:
    """Return a pluck with the words behind it spelt as they can only have been meant, "" if that is not sure."""
    plain, words = split_words(text)
    meant = f"{plain}{respelt(words)}" if words and plain_pluck(plain) else plain
    return meant if meant != plain and pluck_maker(meant) is not None else ""


def _way_out(text: str) -> str:
    signed = _SIGNED.fullmatch(text)
    if signed and plain_pluck(signed[1]):
        return f"write {signed[1]}.{_SIGNS[signed[2][:3]]}"
    if text == "slow":
        return "write it inside the brackets of a roll: (slow p i m a)"
    if text.lower() in _SLAPS:
        return "write slap (on the strings) or body-slap, in small letters"
    if word := word_for(text):
        return f"write it behind the pluck, with a dot: m2@3.{word}"
    if _JOINED.fullmatch(text):
        apart, at_once = " ".join(text), "+".join(text)
        return f"write {apart} one after the other, {at_once} at once, or ({apart}) rolled"
    if PLUCK.fullmatch(text.lower()):
        return f"write it in small letters: {text.lower()}"
    if text.strip("-") == "" or text in "–—_.~=":
        return "write - for each place where nothing is plucked"
    if text.isdigit():
        return f"name the finger as well: p{text} is the thumb on string {text}"
    return NAME_A_FINGER


def _wrong_words(plain: str, words: str) -> tuple[str, str]:
    """Return what is wrong with words behind a pluck: they say nothing, or do not go with it."""
    read = read_technique(words)
    if isinstance(read, WrongWord):
        return read.message, read.hint
    hint = "of a brush only its length can be said: .to-3, .for-2, .ring, .damped"
    if read.grace:
        hint = "a grace note is slurred to its main note: m2@1h3.grace"
    elif read.touch is not None:
        hint = "* is a natural harmonic, .harmonic-15 an artificial one: keep one of them"
    return f"`{words}` does not go with {plain}", hint
