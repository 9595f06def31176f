"""The reference pages of the JSON formats name everything that the schemas do, and their examples are true."""

from __future__ import annotations

import json
import re
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from fretloom.notation.lesson_json.reading import from_lesson_json
from fretloom.notation.syntax.read import read
from fretloom.source import Source

REFERENCE = Path(__file__).parents[2] / "docs" / "reference"
FORMATS = {
    "lesson": "fretloom.notation.lesson_json",
    "music": "fretloom.formats.music_json",
    "playback": "fretloom.formats.sound.playback_json",
}


def schema_of(name: str) -> dict[str, Any]:
    text = (files(FORMATS[name]) / f"{name}.schema.json").read_text(encoding="utf-8")
    found: dict[str, Any] = json.loads(text)
    return found


def page_of(name: str) -> str:
    return (REFERENCE / f"{name}-json.md").read_text(encoding="utf-8")


def sections_of(name: str) -> dict[str, str]:
    return dict(re.findall(r"^##+ ([\w -]+)\n(.*?)(?=^##|\Z)", page_of(name), re.M | re.S))


def example(name: str, language: str) -> str:
    match = re.search(rf"^```{language}\n(.*?)^```$", page_of(name), re.M | re.S)
    assert match is not None
    return match[1]


@pytest.mark.parametrize("name", FORMATS)
def test_every_field_of_the_schema_is_on_the_page(name: str) -> None:
    """Each kind of thing has a heading, and each of its fields a row under it."""
    sections = sections_of(name)
    schema = schema_of(name)
    for thing, described in {"The whole": schema, **schema["$defs"]}.items():
        for field in described.get("properties", {}):
            assert f"| `{field}` |" in sections.get(thing, ""), (thing, field)


@pytest.mark.parametrize("name", FORMATS)
def test_every_word_that_a_field_can_be_is_on_the_page(name: str) -> None:
    """The row of a field lists the words that the schema allows for it, in the schema's order."""
    sections = sections_of(name)
    for thing, described in schema_of(name)["$defs"].items():
        for field, allowed in described.get("properties", {}).items():
            if "enum" in allowed:
                words = ", ".join(f"`{word}`" for word in allowed["enum"])
                assert f"| `{field}` | {words} |" in sections[thing], (thing, field)


@pytest.mark.parametrize("name", FORMATS)
def test_the_example_on_the_page_is_valid(name: str) -> None:
    """Checked by a JSON Schema validator (draft 2020-12)."""
    Draft202012Validator.check_schema(schema_of(name))
    Draft202012Validator(schema_of(name)).validate(json.loads(example(name, "json")))


def test_the_lesson_on_the_page_is_the_json_below_it() -> None:
    """The two examples say the same."""
    lesson = read(Source("page.lesson", example("lesson", "lesson-part")))
    assert from_lesson_json(example("lesson", "json")) == lesson
