"""What callers give, looked at before any work is done: what is wrong with it names the argument."""

from __future__ import annotations

import re
from collections.abc import Iterable
from contextlib import suppress
from datetime import date

from fretloom.errors import FretloomError
from fretloom.notation.model.lesson import Lesson
from fretloom.text import short, shown_name
from fretloom.trade.harmony.key_names import read_key
from fretloom.trade.music.key import Key


def key_named(argument: str, given: object, naming: str) -> Key | None:
    """Return a key from its text, in a lesson's naming of notes.

    Raises:
        TypeError: it is not text.
        SymbolError: it is not a key.
    """
    if given is None:
        return None
    if not isinstance(given, str):
        raise TypeError(f'{argument} is a key as text, such as "Am", not {type(given).__name__}')
    return read_key(given, naming)


def text_given(argument: str, given: object) -> str:
    """Return a text.

    Raises:
        TypeError: it is none.
    """
    if not isinstance(given, str):
        raise TypeError(f"{argument} is a str, not {type(given).__name__}")
    return given


def whole_number(argument: str, given: object, *, least: int) -> int | None:
    """Return a whole number that is at least `least`.

    Raises:
        TypeError: it is not a whole number.
        FretloomError: it is less.
    """
    if given is None:
        return None
    number = integer(argument, given)
    if number < least:
        raise FretloomError(f"{argument} is a number from {least} up, not {number}")
    return number


def integer(argument: str, given: object) -> int:
    """Return a whole number.

    Raises:
        TypeError: it is none.
    """
    if type(given) is not int:
        raise TypeError(f"{argument} is a whole number, not {type(given).__name__}")
    return given


def lesson_given(given: object) -> Lesson:
    """Return a lesson.

    Raises:
        TypeError: it is none.
    """
    if not isinstance(given, Lesson):
        kind = type(given).__name__
        raise TypeError(f"lesson is a Lesson, as load and loads return it, not {kind}")
    return given


def strings_named(argument: str, given: object) -> frozenset[int]:
    """Return string numbers.

    Raises:
        TypeError: they are not whole numbers.
    """
    if isinstance(given, str) or not isinstance(given, Iterable):
        raise TypeError(f"{argument} is a tuple of strings by number, not {type(given).__name__}")
    found = tuple(given)
    for one in found:
        if type(one) is not int:
            raise TypeError(f"{argument} has strings by number, not {type(one).__name__}")
    return frozenset(found)


def day_given(argument: str, given: object) -> date | None:
    """Return a day from a date or from text as ISO 8601 writes it.

    Raises:
        TypeError: it is neither.
        FretloomError: there is no such day.
    """
    if given is None or type(given) is date:
        return given
    if not isinstance(given, str):
        kind = type(given).__name__
        raise TypeError(f"{argument} is a day, a datetime.date or YYYY-MM-DD, not {kind}")
    if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", given):
        with suppress(ValueError):
            return date.fromisoformat(given)
    raise FretloomError(f"{argument} is a day written YYYY-MM-DD, not {shown_name(short(given))}")
