"""The lesson as written, as JSON and back without loss.

The format is called `fretloom-lesson`; `lesson.schema.json` beside this module describes version 1,
and the reference page of the documentation explains it. Three habits make it short and stable:

* A field that has its usual value is left out.
* What the trade writes as text stays text: `"6/8"`, `"2&"`, `"F#m"`, `"E2"`; exact numbers are
  fractions as text, `"96"` or `"3/2"`.
* Where several kinds of thing may stand in one place, `type` says which (see `TYPES`).

Places in the source, if asked for, are written as `at` and ignored on reading. Diagnostics and
linked files are not part of it.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from fractions import Fraction
from functools import cache
from types import UnionType
from typing import Any, NoReturn, Union, get_args, get_origin, get_type_hints

import attrs

from fretloom.errors import LessonUnreadable
from fretloom.notation.model import form, heading, lesson, margin, pattern, section, step, voicing
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.trade.music.key import Key, parse_key
from fretloom.trade.music.meter import Count, Meter, parse_count, parse_meter
from fretloom.trade.music.pitch import Pitch, parse_pitch

FORMAT = "fretloom-lesson"
VERSION = 1

#: The word in `type` for each kind of thing that shares its place with others.
TYPES: dict[str, type] = {
    "heading": heading.Heading, "setting": heading.Setting, "use": lesson.Use,
    "picking": lesson.PickingBlock, "home": lesson.Home, "voicings": lesson.VoicingBlock,
    "voicing": voicing.VoicingEntry, "add": voicing.Add, "lift": voicing.Lift,
    "move": voicing.Move, "mute": voicing.Mute, "shift": voicing.Shift,
    "patterns": lesson.PatternBlock, "pattern": pattern.Pattern, "pluck": pattern.Pluck,
    "brush": pattern.Brush, "roll": pattern.Roll, "hold": pattern.Hold, "stroke": pattern.Stroke,
    "group": pattern.Group, "section": section.Section, "bars": section.BarLine,
    "short-bar": section.ShortBar, "meter": section.MeterChange, "tempo": section.TempoChange,
    "repeat": section.RepeatStart, "ending": section.EndingStart, "end": section.RepeatEnd,
    "with": section.With, "without": section.Without, "form": form.Form, "play": form.FormEntry,
    "change-bars": form.ChangeBars, "drop-bars": form.DropBars,
    "change-pattern": form.ChangePattern, "change-tempo": form.ChangeTempo, "step": step.Step,
    "prose": step.Prose, "show": step.Show, "unread": margin.Unread,
}  # fmt: skip
#: Fields that count from the end (-1 the last bar) or downwards (`down 2`).
_MAY_BE_NEGATIVE = (".first", ".last", ".frets")
_WORDS = {kind: word for word, kind in TYPES.items()}


def _read_fraction(text: str) -> Fraction:
    if len(text) > 40:
        raise ValueError("too many digits")
    return Fraction(text)


def _read_meter(text: str) -> Meter:
    signature, _, pulses = text.partition(" in ")
    return parse_meter(signature, int(pulses) if pulses else None)


_TEXTS: dict[type, Callable[[str], object]] = {
    Fraction: _read_fraction,
    Pitch: parse_pitch,
    Key: parse_key,
    Meter: _read_meter,
    Count: parse_count,
}


def to_lesson_json(written: lesson.Lesson, *, places: bool = False) -> str:
    """Write a lesson as JSON; with `places`, each thing says in `at` where it is in the text."""
    head = {"format": FORMAT, "version": VERSION}
    return json.dumps(head | _object(written, places), ensure_ascii=False, indent=1) + "\n"


def from_lesson_json(text: str) -> lesson.Lesson:
    """Read what `to_lesson_json` wrote.

    Raises:
        LessonUnreadable: the text is not JSON, or not a lesson of a version that this program
            reads; the message says where.
    """
    try:
        data = json.loads(text)
        _check_head(data)
        fields = {name: data[name] for name in data if name not in ("format", "version")}
        found = _read_object(fields, lesson.Lesson, "lesson")
    except RecursionError:
        raise LessonUnreadable("the JSON is nested too deeply to be a lesson") from None
    except json.JSONDecodeError as error:
        raise LessonUnreadable(
            f"this is not JSON: line {error.lineno}, column {error.colno} makes no sense"
        ) from None
    except ValueError:
        raise LessonUnreadable("a number in the JSON has too many digits") from None
    assert isinstance(found, lesson.Lesson)
    return found


def _check_head(data: object) -> None:
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise LessonUnreadable(f'this JSON is not a lesson: it does not say "format": "{FORMAT}"')
    if data.get("version") != VERSION or isinstance(data.get("version"), bool):
        raise LessonUnreadable(
            f"this lesson has version {data.get('version')!r} of the format; "
            f"this program reads version {VERSION}"
        )


def _object(value: Any, places: bool) -> dict[str, object]:
    kind: Any = type(value)
    written: dict[str, object] = {"type": _WORDS[kind]} if kind in _WORDS else {}
    for name, (_, usual) in _fields(kind).items():
        held = getattr(value, name)
        if held != usual or isinstance(held, bool) != isinstance(usual, bool):
            written[name] = _value(held, places)
    span = getattr(value, "span", None)
    if places and span is not None:
        written["at"] = {"line": span.line, "column": span.column}
    return written


def _value(value: Any, places: bool) -> object:
    if isinstance(value, tuple):
        return [_value(one, places) for one in value]
    if type(value) in _TEXTS:
        return str(value)
    return _object(value, places) if attrs.has(type(value)) else value


@cache
def _fields(kind: Any) -> dict[str, tuple[Any, object]]:
    """Return the declared type and usual value (`attrs.NOTHING` if none) of each field that counts."""
    hints = get_type_hints(kind)
    return {
        one.name: (hints[one.name], one.default)
        for one in attrs.fields(kind)
        if one.eq is not False
    }


def _refuse(path: str, problem: str) -> NoReturn:
    raise LessonUnreadable(f"{path}: {problem}")


def _shown(data: object) -> str:
    if isinstance(data, dict):
        return "an object"
    if isinstance(data, list):
        return "a list"
    text = json.dumps(data, ensure_ascii=True)
    return text if len(text) <= 40 else text[:37] + "..."


def _read(data: object, declared: Any, path: str) -> object:
    origin = get_origin(declared)
    if origin in (Union, UnionType):
        return _read_one_of(data, get_args(declared), path)
    if origin is tuple:
        if not isinstance(data, list):
            _refuse(path, f"a list is needed, not {_shown(data)}")
        inner = get_args(declared)[0]
        return tuple(_read(one, inner, f"{path}[{place}]") for place, one in enumerate(data))
    if declared in _TEXTS:
        return _read_text(data, declared, path)
    if attrs.has(declared):
        return _read_object(data, declared, path)
    return _read_plain(data, declared, path)


def _read_one_of(data: object, kinds: tuple[Any, ...], path: str) -> object:
    if data is None and type(None) in kinds:
        return None
    kinds = tuple(kind for kind in kinds if kind is not type(None))
    if len(kinds) == 1:
        return _read(data, kinds[0], path)
    word = data.get("type") if isinstance(data, dict) else None
    for kind in kinds:
        if isinstance(word, str) and _WORDS[kind] == word:
            return _read_object(data, kind, path)
    known = ", ".join(_WORDS[kind] for kind in kinds)
    _refuse(path, f'an object is needed whose "type" is one of: {known}')


def _read_text(data: object, declared: type, path: str) -> object:
    if not isinstance(data, str):
        _refuse(path, f"text is needed, not {_shown(data)}")
    try:
        return _TEXTS[declared](data)
    except (ValueError, ZeroDivisionError):
        _refuse(path, f"{_shown(data)} is not a {declared.__name__.lower()}")


def _read_plain(data: object, declared: type, path: str) -> object:
    names = {str: "text", int: "a whole number", bool: "true or false"}
    if type(data) is not declared:
        _refuse(path, f"{names[declared]} is needed, not {_shown(data)}")
    if isinstance(data, str):
        _check_characters(data, path)
    if type(data) is int and data < 0 and not path.endswith(_MAY_BE_NEGATIVE):
        _refuse(path, f"a number from 0 up is needed, not {_shown(data)}")
    return data


def _check_characters(text: str, path: str) -> None:
    one_line = not path.endswith(".text")
    if one_line and ("\n" in text or "\r" in text):
        _refuse(path, "a line break cannot stand here")
    if any("\ud800" <= sign <= "\udfff" for sign in text):
        _refuse(path, "half a character cannot stand here")


def _read_object(data: object, kind: type, path: str) -> object:
    if not isinstance(data, dict):
        _refuse(path, f"an object is needed, not {_shown(data)}")
    fields = _fields(kind)
    for name in data:
        if name not in fields and name not in ("type", "at"):
            _refuse(path, f"there is no field {_shown(name)} here")
    values: dict[str, object] = {}
    for name, (declared, usual) in fields.items():
        if name in data:
            hint = _value_type(data) if declared is object else declared
            values[name] = _read(data[name], hint, f"{path}.{name}")
        elif usual is attrs.NOTHING:
            _refuse(path, f'the field "{name}" is missing')
    try:
        return kind(**values)
    except (ValueError, TypeError) as error:
        _refuse(path, str(error.args[0]) if error.args else "this is not possible")


def _value_type(setting: dict[str, object]) -> Any:
    """Return what the value of a line of the heading must be, given its `name`."""
    name = setting.get("name")
    field = FIELDS.get(name) if isinstance(name, str) else None
    if field is None:
        return str
    if isinstance(field.kind, UnionType):
        return str if setting.get("value") in field.words else Fraction
    return tuple[int, ...] if field.kind is tuple else field.kind
