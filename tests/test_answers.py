"""Whatever an answer holds has a public name and says what it is."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from types import UnionType
from typing import Any, get_args, get_origin, get_type_hints

import attrs

import fretloom
from fretloom import answers

PAGE = Path(__file__).parents[1] / "docs" / "reference" / "answers.md"
GIVEN = (
    fretloom.Timeline, fretloom.Hands, fretloom.Sounds, fretloom.FoundVoicings, fretloom.CapoChoices,
    fretloom.PracticePath, fretloom.Transposed, fretloom.LevelFits, fretloom.Eased, fretloom.Diagnostic, fretloom.Output,
)  # fmt: skip


def _parts(kind: Any, seen: set[type]) -> Iterator[type]:
    if get_origin(kind) is not None or isinstance(kind, UnionType):
        for one in get_args(kind):
            yield from _parts(one, seen)
    elif isinstance(kind, type) and kind.__module__.startswith("fretloom") and kind not in seen:
        seen.add(kind)
        yield kind
        for hint in get_type_hints(kind).values() if attrs.has(kind) else ():
            yield from _parts(hint, seen)


def test_every_class_inside_an_answer_is_given_out() -> None:
    """By `fretloom` or by `fretloom.answers`; the parts of a lesson have a module of their own."""
    seen: set[type] = set()
    inside = [one for kind in GIVEN for one in _parts(kind, seen)]
    assert len(inside) > 50
    public = {getattr(answers, name) for name in answers.__all__}
    public |= {getattr(fretloom, name) for name in fretloom.__all__}
    hidden = [one for one in inside if one not in public]
    assert [one for one in hidden if not one.__module__.startswith("fretloom.notation.model")] == []


def test_the_page_shows_all_of_them() -> None:
    """Each class once, and no other."""
    shown = re.findall(
        r"^\.\. autoclass:: fretloom\.answers\.(\w+)$", PAGE.read_text(encoding="utf-8"), re.M
    )
    classes = [name for name in answers.__all__ if isinstance(getattr(answers, name), type)]
    assert sorted(shown) == classes


def test_each_says_what_it_is() -> None:
    """A docstring of its own."""
    for name in answers.__all__:
        found = getattr(answers, name)
        if isinstance(found, type):
            assert (found.__dict__.get("__doc__") or "").strip(), name
