"""Reads the values of the heading's lines; other lines have some of them (meters, tempos) too."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from fretloom.errors import SymbolError
from fretloom.notation.model.limits import HAND_MM, TEMPOS
from fretloom.notation.syntax.parsing.tree import Token, number, text_of, whole
from fretloom.text import listed, near_in_words, near_names, only_near
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.music.key import Key
from fretloom.trade.music.meter import Meter, parse_meter
from fretloom.trade.music.tempo import Tempo
from fretloom.values import frozen

MM_PER_INCH = Fraction(254, 10)


@frozen
class Given:
    """A value as it is written: its text, its words and signs, and how the lesson names notes."""

    text: str
    tokens: tuple[Token, ...]
    naming: str = "english"

    @property
    def plain(self) -> str:
        """The text with single spaces between its words."""
        return " ".join(self.text.split())


@frozen
class BadValue:
    """Why a value is wrong; `start` and `end` are offsets in its text, without `end` up to its end.

    `meant` is what to write in its place, if that is sure.
    """

    message: str
    hint: str
    start: int = 0
    end: int | None = None
    meant: str = ""


Read = Callable[[Given], object]


def text(given: Given) -> str:
    """Read a text in quotes."""
    return text_of(given.tokens[0])


def tuning(given: Given) -> Tuning | BadValue:
    """Read strings one by one, or a tuning's name."""
    from fretloom.trade.guitar.tunings import parse_tuning, tuning_meant

    try:
        return parse_tuning(given.plain)
    except SymbolError as error:
        meant = tuning_meant(given.plain)
        return BadValue(error.message, error.hint, 0 if meant else error.position, meant=meant)


def capo(given: Given) -> Capo | BadValue:
    """Read the fret of a capo, and the strings of a partial one."""
    numbers = [whole(token) for token in given.tokens]
    fret, strings = numbers[0], numbers[1:]
    if fret is None or fret > 24:
        hint = "write the fret it stands at: capo 3 (capo 0 is none)"
        return BadValue(f"a capo cannot stand at fret {given.tokens[0].text}", hint)
    if any(string is None or not 1 <= string <= 12 for string in strings):
        hint = "name the strings it covers: capo 2 on 5 4 3"
        return BadValue("a partial capo covers strings, numbered from 1", hint)
    return Capo(fret, tuple(string for string in strings if string is not None))


def key(given: Given) -> Key | BadValue:
    """Read a key, named as the lesson names notes."""
    from fretloom.trade.harmony.key_names import read_key

    try:
        return read_key(given.plain, given.naming)
    except SymbolError as error:
        return BadValue(error.message, error.hint, error.position)


def meter(tokens: Sequence[Token]) -> Meter | BadValue:
    """Read a meter and the number it is counted in, if there is one."""
    pulses = whole(tokens[1]) if len(tokens) > 1 else None
    if len(tokens) > 1 and pulses is None:
        start = tokens[1].start - tokens[0].start
        message = f"a bar is counted in a whole number of beats, not {tokens[1].text}"
        hint = "write a whole number, as in 6/8 in 2, or leave it out"
        return BadValue(message, hint, start)
    try:
        return parse_meter(tokens[0].text, pulses)
    except SymbolError as error:
        return BadValue(error.message, error.hint, error.position, len(tokens[0].text))


def tempo(tokens: Sequence[Token]) -> Tempo | BadValue:
    """Read a tempo and the note it counts, a quarter note if none is named."""
    per_minute = number(tokens[0])
    unit = 4 * number(tokens[1]) if len(tokens) > 1 else Fraction(1)
    if not TEMPOS[0] <= per_minute <= TEMPOS[1] or not unit:
        message = f"tempo {tokens[0].text} is outside {TEMPOS[0]} to {TEMPOS[1]}"
        if not unit:
            message = "a tempo cannot count a note of length 0"
        hint = "write beats a minute: tempo 96, or tempo 60 to 3/8"
        return BadValue(message, hint, 0, len(tokens[0].text))
    return Tempo(per_minute, unit)


def swing(given: Given) -> tuple[int, int] | BadValue:
    """Read the ratio of the first half of a beat to the second."""
    long, short = (whole(token) for token in given.tokens)
    if long is None or short is None or not 1 <= long <= 20 or not 1 <= short <= 20:
        hint = "write the ratio of the first eighth to the second, with numbers from 1 to 20: swing 2:1"
        return BadValue(f"{given.text} is not a ratio for a swing", hint)
    return long, short


def length(limits: tuple[int, int], what: str) -> Read:
    """Return the reader of a length within limits in millimetres; `what` is the thing that has it."""

    def read(given: Given) -> Fraction | BadValue:
        factor = Fraction(1) if given.tokens[1].text == "mm" else MM_PER_INCH
        value = number(given.tokens[0]) * factor
        if limits[0] <= value <= limits[1]:
            return value
        hint = f"give it in millimetres, {limits[0]} to {limits[1]}"
        return BadValue(f"{given.text} is outside {limits[0]} to {limits[1]} mm for {what}", hint)

    return read


def one_of(allowed: tuple[str, ...], what: str) -> Read:
    """Return the reader of one of some words; `what` says what they stand for."""

    def read(given: Given) -> str | BadValue:
        if given.text in allowed:
            return given.text
        near = near_names(given.text.lower(), allowed, 1, 0.6)
        listed = ", ".join(allowed[:-1]) + " or " + allowed[-1]
        hint = f"write {near[0]}" if near else f"write one of {listed}"
        meant = only_near(given.text, allowed)
        return BadValue(f"`{given.text}` is not {what}: {listed}", hint, meant=meant)

    return read


def hand(sizes: tuple[str, ...]) -> Read:
    """Return the reader of the size of a hand, or its length."""
    size = one_of(sizes, "a size of hand")
    measure = length(HAND_MM, "a hand")
    return lambda given: measure(given) if len(given.tokens) == 2 else size(given)


def instrument(given: Given) -> str | BadValue:
    """Read the name of an instrument."""
    from fretloom.trade.guitar.instruments import INSTRUMENTS, find_instrument

    if find_instrument(given.plain) is not None:
        return given.plain
    names = [one.name for one in INSTRUMENTS]
    near = near_in_words(given.plain, names)
    hint = f"write {listed(near, 'or')}" if near else "write one of " + ", ".join(names)
    meant = only_near(given.plain, names)
    return BadValue(f"the instrument `{given.plain}` is not known", hint, meant=meant)
