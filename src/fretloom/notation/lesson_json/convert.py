"""The lesson as written, as JSON and back without loss.

The format is called `fretloom-lesson`; `lesson.schema.json` beside this module describes version 1,
and the reference page of the documentation explains it. Three habits make it short and stable:

* A field that has its usual value is left out.
* What the trade writes as text stays text: `"6/8"`, `"2&"`, `"F#m"`, `"E2"`; exact numbers are
  fractions as text, `"96"` or `"3/2"`.
* Where several kinds of thing may stand in one place, `type` says which (see `TYPES`).

Places in the source, if asked for, are written as `at` and ignored on reading, which `reading.py`
does. Diagnostics and linked files are not part of it.
"""

from __future__ import annotations

import json
from fractions import Fraction
from functools import cache
from typing import Any, get_type_hints

import attrs

from fretloom.notation.model import form, heading, lesson, margin, pattern, section, step, voicing
from fretloom.notation.model.details import expression, sung
from fretloom.text import for_machines
from fretloom.trade.music.key import Key
from fretloom.trade.music.meter import Count, Meter
from fretloom.trade.music.pitch import Pitch

FORMAT = "fretloom-lesson"
VERSION = 1

#: The word in `type` for each kind of thing that shares its place with others.
TYPES: dict[str, type] = {
    "notation": lesson.Edition, "heading": heading.Heading, "setting": heading.Setting, "use": lesson.Use,
    "picking": lesson.PickingBlock, "home": lesson.Home, "voicings": lesson.VoicingBlock,
    "voicing": voicing.VoicingEntry, "add": voicing.Add, "lift": voicing.Lift,
    "move": voicing.Move, "mute": voicing.Mute, "shift": voicing.Shift,
    "patterns": lesson.PatternBlock, "pattern": pattern.Pattern, "pluck": pattern.Pluck,
    "brush": pattern.Brush, "slap": pattern.Slap, "roll": pattern.Roll, "hold": pattern.Hold, "stroke": pattern.Stroke,
    "group": pattern.Group, "section": section.Section, "bars": section.BarLine,
    "short-bar": section.ShortBar, "meter": section.MeterChange, "using": section.UsingLine,
    "words": sung.WordsLine, "tempo": expression.TempoChange, "tempo-ramp": expression.TempoRamp,
    "a-tempo": expression.BackToTempo, "free-time": expression.FreeTime,
    "dynamic": expression.DynamicChange, "dynamic-ramp": expression.DynamicRamp,
    "repeat": section.RepeatStart, "ending": section.EndingStart, "end": section.RepeatEnd,
    "with": section.With, "without": section.Without, "form": form.Form, "play": form.FormEntry,
    "change-bars": form.ChangeBars, "drop-bars": form.DropBars,
    "keep-bars": form.KeepBars,
    "without-repeats": form.WithoutRepeats, "change-pattern": form.ChangePattern,
    "change-tempo": form.ChangeTempo, "change-dynamic": form.ChangeDynamic, "tempo-run": form.TempoRun,
    "dynamic-run": form.DynamicRun, "change-words": form.ChangeWords,
    "step": step.Step,
    "prose": step.Prose, "show": step.Show, "unread": margin.Unread,
}  # fmt: skip
WORDS = {kind: word for word, kind in TYPES.items()}


#: What is written as text, in the spelling of the notation.
TEXTS = (Fraction, Pitch, Key, Meter, Count)


def to_lesson_json(written: lesson.Lesson, *, places: bool = False) -> str:
    """Write a lesson as JSON; with `places`, each thing says in `at` where it is in the text."""
    head = {"format": FORMAT, "version": VERSION}
    return (
        for_machines(json.dumps(head | _object(written, places), ensure_ascii=False, indent=1))
        + "\n"
    )


def _object(value: Any, places: bool) -> dict[str, object]:
    kind: Any = type(value)
    written: dict[str, object] = {"type": WORDS[kind]} if kind in WORDS else {}
    for name, (_, usual) in fields_of(kind).items():
        held = getattr(value, name)
        if held != usual or isinstance(held, bool) != isinstance(usual, bool) or _gapped(held):
            written[name] = _value(held, places)
    span = getattr(value, "span", None)
    if places and span is not None:
        written["at"] = {"line": span.line, "column": span.column}
    return written


def _gapped(held: object) -> bool:
    """Whether a margin has an empty line, which comparing it does not show."""
    return isinstance(held, margin.Margin) and held.gap


def _value(value: Any, places: bool) -> object:
    if isinstance(value, tuple):
        return [_value(one, places) for one in value]
    if type(value) in TEXTS:
        return str(value)
    return _object(value, places) if attrs.has(type(value)) else value


@cache
def fields_of(kind: Any) -> dict[str, tuple[Any, object]]:
    """Return the declared type and usual value (`attrs.NOTHING` if none) of each field that counts."""
    hints = get_type_hints(kind, include_extras=True)
    return {
        one.name: (hints[one.name], one.default)
        for one in attrs.fields(kind)
        if one.eq is not False or one.name == "gap"
    }
