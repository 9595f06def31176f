"""Reads a lesson from its JSON: by the types of the model, whose constructors refuse what cannot be."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from fractions import Fraction
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, NoReturn, Union, get_args, get_origin

import attrs

from fretloom.characters import composed
from fretloom.errors import LessonUnreadable, ModelError, SymbolError
from fretloom.limits import LIMITS
from fretloom.notation.lesson_json.convert import FORMAT, TEXTS, VERSION, WORDS, fields_of
from fretloom.notation.model.heading import SETTINGS
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.limits import MaybeName, MaybeSmallName, Name, PlayedName, SmallName
from fretloom.shapes import refuse_other_than_text
from fretloom.trade.music.key import Key, parse_key
from fretloom.trade.music.meter import Count, Meter, parse_count, parse_meter
from fretloom.trade.music.pitch import Pitch, parse_pitch

#: A number of more figures is in no lesson, and would take long to work with.
_FRACTION = re.compile(r"[0-9]{1,19}(?:/[0-9]{1,19})?")
_METER = re.compile(r"([0-9+]{1,200}/[0-9]{1,2})(?: in ([0-9]{1,2}))?")


_NAMES = (Name, SmallName, PlayedName, MaybeName, MaybeSmallName)


class _Number(str):
    """A number with a point or an exponent, as it is written."""


class _Object(dict[str, Any]):
    """An object; `doubled` is a field that stands in it twice, if there is one."""

    doubled: str | None = None


def from_lesson_json(text: str) -> Lesson:
    """Read what `to_lesson_json` wrote.

    Raises:
        TypeError: what is given is not a str.
        LessonUnreadable: the text is too long, or not JSON, or not a lesson of a version that this
            program reads; the message says where.
    """
    refuse_other_than_text(text)
    if len(text) > LIMITS.json_characters:
        raise LessonUnreadable(
            f"this JSON is too long for a lesson: more than {LIMITS.json_characters:,} characters"
        )
    try:
        data = _parsed(text)
        _check_head(data)
        fields = _Object({name: data[name] for name in data if name not in ("format", "version")})
        fields.doubled = data.doubled
        found = _read_object(fields, Lesson, "lesson")
    except RecursionError:
        raise LessonUnreadable("the JSON is nested too deeply to be a lesson") from None
    assert isinstance(found, Lesson)
    return found


def _parsed(text: str) -> Any:
    try:
        return json.loads(
            text, object_pairs_hook=_object, parse_float=_Number, parse_constant=_no_constant
        )
    except json.JSONDecodeError as error:
        raise LessonUnreadable(
            f"this is not JSON: line {error.lineno}, column {error.colno} makes no sense"
        ) from None
    except ValueError:
        raise LessonUnreadable("a number in the JSON has too many digits") from None


def _object(pairs: list[tuple[str, Any]]) -> _Object:
    made = _Object(pairs)
    if len(made) < len(pairs):
        names = [name for name, _ in pairs]
        made.doubled = next(name for name in names if names.count(name) > 1)
    return made


def _no_constant(word: str) -> NoReturn:
    raise LessonUnreadable(f"{word} is not JSON")


def _check_head(data: object) -> None:
    if not isinstance(data, _Object) or data.get("format") != FORMAT:
        raise LessonUnreadable(f'this JSON is not a lesson: it does not say "format": "{FORMAT}"')
    version = data.get("version")
    if type(version) is not int or version != VERSION:
        raise LessonUnreadable(
            f"this lesson has version {_shown(version)} of the format; "
            f"this program reads version {VERSION}"
        )


def _refuse(path: str, problem: str) -> NoReturn:
    raise LessonUnreadable(f"{path}: {problem}")


def _shown(data: object) -> str:
    if isinstance(data, dict):
        return "an object"
    if isinstance(data, list):
        return "a list"
    text = str(data) if isinstance(data, _Number) else json.dumps(data, ensure_ascii=True)
    return text if len(text) <= 40 else text[:37] + "..."


def _read(data: Any, hint: Any, path: str) -> object:
    """Read a value of a declared type."""
    origin, inner = get_origin(hint), get_args(hint)
    if origin is Annotated:
        found = _read(data, inner[0], path)
        # A name is the same with its accents apart, as it is in a text.
        return composed(found) if isinstance(found, str) and hint in _NAMES else found
    if origin in (Union, UnionType):
        return _read_one_of(data, inner, path)
    if origin is tuple:
        if not isinstance(data, list):
            _refuse(path, f"a list is needed, not {_shown(data)}")
        return tuple(_read(one, inner[0], f"{path}[{place}]") for place, one in enumerate(data))
    if hint in TEXTS:
        return _read_text(data, hint, path)
    if origin is None and attrs.has(hint):
        return _read_object(data, hint, path)
    return _read_plain(data, str if origin is Literal else hint, path)


def _read_one_of(data: Any, hints: tuple[Any, ...], path: str) -> object:
    if data is None and NoneType in hints:
        return None
    hints = tuple(hint for hint in hints if hint is not NoneType)
    if len(hints) == 1:
        return _read(data, hints[0], path)
    words = next((get_args(hint) for hint in hints if get_origin(hint) is Literal), ())
    if words:
        return data if isinstance(data, str) and data in words else _read(data, hints[-1], path)
    word = data.get("type") if isinstance(data, dict) else None
    for hint in hints:
        if isinstance(word, str) and WORDS[hint] == word:
            return _read_object(data, hint, path)
    known = ", ".join(WORDS[hint] for hint in hints)
    _refuse(path, f'an object is needed whose "type" is one of: {known}')


def _fraction(text: str) -> Fraction:
    if not _FRACTION.fullmatch(text):
        raise ValueError
    return Fraction(text)


def _meter(text: str) -> Meter:
    match = _METER.fullmatch(text)
    if match is None:
        raise ValueError
    return parse_meter(match[1], int(match[2]) if match[2] else None)


_READ_TEXT: dict[type, Callable[[str], object]] = {
    Fraction: _fraction,
    Pitch: parse_pitch,
    Key: parse_key,
    Meter: _meter,
    Count: parse_count,
}


def _read_text(data: object, kind: type, path: str) -> object:
    if not isinstance(data, str) or isinstance(data, _Number):
        _refuse(path, f"text is needed, not {_shown(data)}")
    try:
        # Figures of other scripts are no figures here, though Python reads them.
        found = _READ_TEXT[kind](data) if data.isascii() and len(data) <= 200 else None
    except (ValueError, ZeroDivisionError, SymbolError):
        found = None
    if found is None:
        _refuse(path, f"{_shown(data)} is not a {kind.__name__.lower()}")
    return found


_NEEDED = {str: "text", int: "a whole number", bool: "true or false"}


def _read_plain(data: object, kind: type, path: str) -> object:
    if type(data) is not kind:
        _refuse(path, f"{_NEEDED[kind]} is needed, not {_shown(data)}")
    return data


def _read_object(data: Any, kind: Any, path: str) -> object:
    if not isinstance(data, _Object):
        _refuse(path, f"an object is needed, not {_shown(data)}")
    if data.doubled is not None:
        _refuse(path, f"the field {_shown(data.doubled)} stands here twice")
    fields = fields_of(kind)
    _check_names(data, kind, path)
    values: dict[str, object] = {}
    for name, (hint, usual) in fields.items():
        if name in data:
            wanted = _value_type(data) if hint is object else hint
            values[name] = _read(data[name], wanted, f"{path}.{name}")
        elif usual is attrs.NOTHING:
            _refuse(path, f'the field "{name}" is missing')
    try:
        return kind(**values)
    except (ModelError, TypeError) as error:
        raise LessonUnreadable(f"{path}.{str(error).removeprefix(f'{kind.__name__}.')}") from None
    except ValueError as error:
        _refuse(path, str(error.args[0]) if error.args else "this is not possible")


def _check_names(data: _Object, kind: Any, path: str) -> None:
    """Refuse fields that the kind does not have, and a place that cannot be one."""
    fields = fields_of(kind)
    for name in data:
        if name in fields or (name == "type" and kind in WORDS):
            continue
        if name != "at" or not hasattr(kind, "span"):
            _refuse(path, f"there is no field {_shown(name)} here")
        at = data[name]
        right = isinstance(at, _Object) and at.doubled is None and at.keys() == {"line", "column"}
        if not right or not all(type(one) is int and one > 0 for one in at.values()):
            _refuse(f"{path}.at", "a line and a column are needed, both from 1")


def _value_type(setting: dict[str, object]) -> Any:
    """Return what the value of a line of the heading must be, given its `name`."""
    name = setting.get("name")
    return SETTINGS.get(name, str) if isinstance(name, str) else str
