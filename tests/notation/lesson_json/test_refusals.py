"""What the JSON of a lesson cannot hold: what no text could say is refused with its path, never lost."""

from __future__ import annotations

import json
from typing import Any

import pytest

from fretloom.errors import LessonUnreadable
from fretloom.notation.lesson_json.reading import from_lesson_json


def lesson(*blocks: object) -> str:
    return json.dumps({"format": "fretloom-lesson", "version": 1, "blocks": list(blocks)})


def section(*bars: dict[str, Any], **fields: Any) -> dict[str, Any]:
    lines = [{"type": "bars", "bars": list(bars)}]
    return {"type": "section", "name": "verse", "lines": lines, **fields}


E = {"parts": [{"voicing": "E"}]}


def step(text: str) -> dict[str, Any]:
    return {"type": "step", "title": "One", "lines": [{"type": "prose", "text": text}]}


@pytest.mark.parametrize(
    ("block", "place", "said"),
    [
        (step("a\n\nsection evil"), ".lines[0].text", "line break"),
        (step("show pattern plain"), ".lines[0].text", '"show"'),
        (step("thumb # first"), ".lines[0].text", "comment"),
        (step(" thumb"), ".lines[0].text", "white space"),
        (step(""), ".lines[0].text", "some text"),
        (section(E, {}), ".bars[1].parts", "names a voicing"),
        (section(), ".lines[0].bars", "has to be a bar"),
        (section({"kind": "loud"}), ".bars[0].kind", "'rest'"),
        (section({"kind": "rest", **E}), ".bars[0].parts", "no voicings"),
        (section({**E, "times": 0}), ".bars[0].times", "1 to 999999"),
        (section({**E, "text": "("}), ".bars[0].text", "unread"),
        (section({**E, "type": "bar"}), ".bars[0]", 'no field "type"'),
        (section({**E, "cue": "a\rb"}), ".bars[0].cue", "line break"),
        (section({"parts": [{"voicing": "x2"}]}), ".parts[0].voicing", "something else"),
        (section({"parts": [{"voicing": "E F"}]}), ".parts[0].voicing", "white space"),
        (section(E, margin={"above": ["slowly"]}), ".margin.above[0]", "#"),
        (section(E, margin={"beside": "#slowly"}), ".margin.beside", "space"),
        (section(E, tail=["# a\n  B"]), ".tail[0]", "line break"),
        (section(E, at={"line": 0, "column": 1}), ".at", "from 1"),
        ({"type": "unread", "text": "a\nsection evil"}, ".text", "two spaces"),
        ({"type": "heading", "title": "", "settings": [{"type": "setting", "name": "swing", "value": [2]}]}, ".value", "2 values"),
        ({"type": "heading", "title": "", "settings": [{"type": "setting", "name": "colour", "value": "red"}]}, ".settings[0].name", "'by'"),
        ({"type": "heading", "title": "a\x1bb"}, ".title", "control character"),
        ({"type": "heading", "title": "a\xa0b"}, ".title", "plain one"),
    ],
)  # fmt: skip
def test_what_no_text_could_say_is_refused(block: object, place: str, said: str) -> None:
    """The path leads to the field, and the message says what can stand there."""
    with pytest.raises(LessonUnreadable) as caught:
        from_lesson_json(lesson(block))
    path, _, problem = str(caught.value).partition(": ")
    assert said in str(caught.value)
    assert (path + (" " if not problem else "")).startswith("lesson.blocks[0]")
    assert place in str(caught.value)


def test_a_field_that_stands_twice_is_refused() -> None:
    """Python would take the last one in silence."""
    text = lesson(section(E)).replace('"name": "verse"', '"name": "verse", "name": "chorus"')
    with pytest.raises(
        LessonUnreadable, match=r'lesson.blocks\[0\]: the field "name" stands here twice'
    ):
        from_lesson_json(text)


@pytest.mark.parametrize("text", [b"{}", None, {"format": "fretloom-lesson"}])
def test_what_is_not_a_text_is_named(text: object) -> None:
    """Bytes are to be decoded first."""
    with pytest.raises(TypeError, match=f"^text is a str, not {type(text).__name__}"):
        from_lesson_json(text)  # type: ignore[arg-type]


def test_groups_inside_groups_are_read_as_deep_as_the_notation_goes() -> None:
    """Sixteen; more is refused, and so is what would exhaust the reader."""
    for depth, said in ((17, "16 deep"), (5000, "nested too deeply")):
        inner = '{"type": "hold"}'
        group = '{"type": "group", "items": [' * depth + inner + "]}" * depth
        pattern = {"type": "pattern", "name": "a", "bars": [{"beats": [{"items": ["?"]}]}]}
        text = lesson({"type": "patterns", "lines": [pattern]}).replace('"?"', group)
        with pytest.raises(LessonUnreadable, match=said):
            from_lesson_json(text)
    text = text.replace('{"type": "group", "items": [' * 5000, '{"type": "group", "items": [' * 16)
    assert from_lesson_json(text.replace("]}" * 5000, "]}" * 16)).patterns
