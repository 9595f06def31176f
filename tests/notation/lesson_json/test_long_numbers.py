"""Numbers in the JSON that would take long to work with."""

from __future__ import annotations

import json

import pytest

from fretloom.errors import LessonUnreadable
from fretloom.notation.lesson_json.convert import from_lesson_json


def bar_for(beats: str) -> str:
    bar = {"parts": [{"voicing": "E", "beats": beats}]}
    section = {"type": "section", "name": "verse", "lines": [{"type": "bars", "bars": [bar]}]}
    return json.dumps({"format": "fretloom-lesson", "version": 1, "blocks": [section]})


def test_forty_signs_are_read() -> None:
    """More than any lesson needs."""
    (section,) = from_lesson_json(bar_for("7" * 40)).sections
    assert section.lines[0].bars[0].parts[0].beats == int("7" * 40)


def test_more_than_forty_signs_are_refused_at_their_place() -> None:
    """A fraction of a million digits would keep the reader busy for minutes."""
    with pytest.raises(LessonUnreadable) as caught:
        from_lesson_json(bar_for("7" * 41))
    assert ".parts[0].beats" in str(caught.value)
