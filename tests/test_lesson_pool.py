"""The generated lessons are many and of all kinds: a law tried on them is tried on the whole notation."""

from __future__ import annotations

import json
from collections.abc import Iterator
from importlib.resources import files
from typing import Any, get_args, get_type_hints

import attrs
from lesson_pool import LESSONS

from fretloom.notation import model
from fretloom.notation.model.lesson import Lesson

#: What lessons that are written well do not hold: lines that were not understood.
NEVER = {"Unread.name", "Unread.text", "Bar.kind=unread"}
#: Comments stand beside any line by chance: they are counted together.
MARGIN = "margin"


def parts_of(known: set[type], kind: Any) -> set[type]:
    """Return the known classes and, of the model, the one given and all that its fields lead to."""
    for inner in get_args(kind):
        parts_of(known, inner)
    if isinstance(kind, type) and kind.__module__.startswith(model.__name__) and kind not in known:
        known.add(kind)
        for field in attrs.fields(kind):
            parts_of(known, get_type_hints(kind)[field.name])
    return known


def constructs() -> set[str]:
    """Return `Class.field` of all that can be written, and `Class.field=value` of what a word chooses."""
    found = {
        f"{kind.__name__}.{field.name}"
        for kind in parts_of(set(), Lesson)
        for field in attrs.fields(kind)
        if field.eq
    }
    schema = json.loads(
        (files("fretloom.notation.lesson_json") / "lesson.schema.json").read_text(encoding="utf-8")
    )["$defs"]
    for word, name, field in (
        ("bar", "Bar", "kind"),
        ("short-bar", "ShortBar", "kind"),
        ("show", "Show", "kind"),
        ("slur", "Slur", "kind"),
        ("setting", "Setting", "name"),
    ):
        values = schema[word]["properties"][field]["enum"]
        found |= {f"{name}.{field}={value}" for value in values}
    # Every lesson of the pool can be read.
    left_out = (f".{MARGIN}", ".opening", "Bar.text")
    return {one for one in found - NEVER if not one.endswith(left_out)}


def used(value: object) -> Iterator[str]:
    """Yield what a part of a lesson uses; a field that has its usual value is not used."""
    if isinstance(value, tuple):
        for one in value:
            yield from used(one)
    elif attrs.has(type(value)):
        name = type(value).__name__
        for field in attrs.fields(type(value)):
            inside = getattr(value, field.name)
            if field.name in ("kind", "name"):
                yield f"{name}.{field.name}={inside}"
            if field.eq and inside != field.default:
                yield f"{name}.{field.name}"
                yield from used(inside)


@LESSONS.by_share
def test_every_construct_of_the_notation_occurs_in_every_share(share: int) -> None:
    """Where one is missing, a strategy in `strategies*.py` has to make it, or make it more often."""
    found = {one for made in LESSONS.share(share) for one in used(made.written)}
    assert constructs() - found == set()


@LESSONS.by_share
def test_no_lesson_is_made_twice(share: int) -> None:
    """As many lessons as there seem to be."""
    texts = [made.text for made in LESSONS.share(share)]
    assert len(set(texts)) == len(texts) == 40
