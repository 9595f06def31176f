"""The lesson as JSON: nothing is lost on the way out and back, and what is not a lesson is refused."""

from __future__ import annotations

import json
from importlib.resources import files
from random import Random
from typing import Any
from unicodedata import normalize

import attrs
import pytest
from jsonschema import Draft202012Validator
from lesson_pool import LESSONS, Made

from fretloom.errors import LessonUnreadable
from fretloom.notation.lesson_json.convert import TYPES, to_lesson_json
from fretloom.notation.lesson_json.reading import from_lesson_json
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.source import Source

SCHEMA = json.loads(
    (files("fretloom.notation.lesson_json") / "lesson.schema.json").read_text(encoding="utf-8")
)
SHORT = """\
lesson "Kiln Lane Air"
  tuning drop D
  meter 6/8 in 6
  swing 2:1
  hand 185 mm

section verse
  E early on 2& x2 { p+a, i3@0h2!, (p i), p6-4, -, [p m] i }
"""


def validate(text: str, *, wants: bool = True) -> None:
    """Check against the JSON Schema (draft 2020-12)."""
    assert Draft202012Validator(SCHEMA).is_valid(json.loads(text)) is wants


@LESSONS.law()
def test_reading_back_gives_an_equal_lesson(made: Made) -> None:
    """Writing and reading a lesson is the identity."""
    assert from_lesson_json(to_lesson_json(made.written)) == made.written


@LESSONS.law(most=60)
def test_what_is_written_fits_the_schema(made: Made) -> None:
    """With places and without, the JSON is what its schema says."""
    validate(to_lesson_json(made.written))
    validate(to_lesson_json(read(Source("a.lesson", format_lesson(made.written))), places=True))


def test_places_are_lines_and_columns_and_change_nothing() -> None:
    """`at` counts from 1, and reading ignores it."""
    lesson = read(Source("air.lesson", SHORT))
    written = json.loads(to_lesson_json(lesson, places=True))
    assert written["blocks"][1]["lines"][0]["at"] == {"line": 8, "column": 3}
    assert from_lesson_json(json.dumps(written)) == lesson


def test_lines_that_were_not_understood_are_kept() -> None:
    """A faulty lesson goes out and comes back as well."""
    lesson = read(Source("bad.lesson", 'lesson "Air"\n  temmpo 96\nsection verse\n  E | ((\n'))
    text = to_lesson_json(lesson)
    validate(text)
    assert from_lesson_json(text) == lesson


def test_exact_numbers_are_fractions_in_text() -> None:
    """Tempo, meter and tuning read as a teacher writes them."""
    blocks = json.loads(to_lesson_json(read(Source("air.lesson", SHORT))))["blocks"]
    values = {line["name"]: line["value"] for line in blocks[0]["settings"]}
    assert values["meter"] == "6/8 in 6"
    assert values["hand"] == "185"
    assert values["tuning"]["pitches"] == ["D2", "A2", "D3", "G3", "B3", "E4"]


def test_the_schema_names_every_field_of_the_model() -> None:
    """The schema cannot fall behind the model."""
    for word, kind in TYPES.items():
        fields = {one.name for one in attrs.fields(kind) if one.eq}
        described = set(SCHEMA["$defs"][word]["properties"]) - {"type", "at"}
        assert described == fields, word


def test_the_schema_names_every_line_of_the_heading() -> None:
    """Each field of the table is a name of a setting, and the schema says what its value is."""
    setting = SCHEMA["$defs"]["setting"]
    valued = [one["if"]["properties"]["name"]["const"] for one in setting["allOf"]]
    assert sorted(setting["properties"]["name"]["enum"]) == sorted(FIELDS)
    assert sorted(valued) == sorted(FIELDS)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "not JSON"),
        ("[1, 2", "line 1, column 6"),
        ("[]", '"format": "fretloom-lesson"'),
        ('{"format": "fretloom-music", "version": 1}', '"format": "fretloom-lesson"'),
        ('{"format": "fretloom-lesson", "version": 2}', "reads version 1"),
        ('{"format": "fretloom-lesson", "version": true}', "reads version 1"),
        ("[" * 100_000, "nested too deeply"),
        ('{"format": "fretloom-lesson", "version": ' + "9" * 5000 + "}", "too many digits"),
    ],
)
def test_what_is_no_lesson_is_refused_in_plain_words(text: str, said: str) -> None:
    """The message says what the text is not."""
    with pytest.raises(LessonUnreadable, match=said.replace("(", r"\(")):
        from_lesson_json(text)


def pluck(**fields: Any) -> dict[str, Any]:
    part = {"type": "pluck", "finger": "p", **fields}
    beat = {"items": [{"type": "stroke", "parts": [part]}]}
    pattern = {"type": "pattern", "name": "plain", "bars": [{"beats": [beat]}]}
    return {"type": "patterns", "lines": [pattern]}


@pytest.mark.parametrize(
    ("block", "place", "said"),
    [
        ({"type": "lesson"}, "blocks[0]", "type"),
        (7, "blocks[0]", "type"),
        ({"type": "heading"}, "blocks[0]", '"title" is missing'),
        ({"type": "heading", "title": 3}, "blocks[0].title", "text is needed, not 3"),
        ({"type": "heading", "title": "a\nb"}, "blocks[0].title", "line break"),
        ({"type": "heading", "title": "\ud800"}, "blocks[0].title", "half of a character"),
        ({"type": "heading", "title": "Air", "colour": 1}, "blocks[0]", "no field"),
        ({"type": "section", "name": "verse", "meter": "4/5"}, ".meter", "is not a meter"),
        ({"type": "section", "name": "verse", "stated_bars": True}, ".stated_bars", "whole number"),
        ({"type": "section", "name": "verse", "lines": {}}, ".lines", "a list is needed"),
        (pluck(string=-1), ".parts[0].string", "from 0 to 99"),
        (pluck(finger="q"), ".parts[0]", "finger"),
        (pluck(slurs=[{"kind": "hammer-on", "fret": "2"}]), ".slurs[0].fret", "whole number"),
    ],
)
def test_a_fault_in_the_json_is_named_with_its_place(block: object, place: str, said: str) -> None:
    """The message gives the path to the fault and what should be there."""
    text = json.dumps({"format": "fretloom-lesson", "version": 1, "blocks": [block]})
    validate(text, wants=False) if said not in ("line break", "half of a character") else None
    with pytest.raises(LessonUnreadable) as caught:
        from_lesson_json(text)
    assert place in str(caught.value)
    assert said in str(caught.value)


_SCALARS = (None, False, True, "", "1/0", "E", "2&")


def junk(chance: Random) -> Any:
    """Return a value that may belong nowhere: a scalar, a short list, or an object with a type."""
    one, other = (chance.choice([*_SCALARS, chance.randint(-3, 99)]) for _ in range(2))
    return chance.choice([one, one, [], [one], [one, other], {}, {"type": one}])


@LESSONS.law()
def test_damaged_json_is_refused_or_read_as_what_it_now_says(made: Made) -> None:
    """Whatever stands in one place, there is a message or a lesson that can be written again."""
    chance = made.chance
    written = json.loads(to_lesson_json(made.written))
    holder: Any = written["blocks"]
    for _ in range(chance.randint(0, 8)):
        key = chance.choice(sorted(holder) if isinstance(holder, dict) else range(len(holder)))
        if not isinstance(holder[key], dict | list) or not holder[key]:
            holder[key] = junk(chance)
            break
        holder = holder[key]
    try:
        found = from_lesson_json(json.dumps(written))
    except LessonUnreadable:
        return
    assert from_lesson_json(to_lesson_json(found)) == found


def test_names_are_the_same_with_their_accents_apart() -> None:
    """A letter and its accent as two characters are one in names, as in a text; quotes keep theirs."""
    text = (
        'lesson "T"\n  meter 4/4\nvoicings\n  tréo 022100\n  hé like tréo lift 1\npatterns\n  tré p , p , p , p\n'
        "section sé using tré\n  tréo using tré | hé\nform\n  sé\n"
        'step "é"\n  show voicing tréo\n  show section sé\n  show bars 1-1 of sé\n'
    )
    apart = normalize("NFD", to_lesson_json(read(Source("t", text))))
    found = from_lesson_json(apart)
    assert found == read(Source("t", text.replace('"é"', '"e\u0301"')))
    assert format_lesson(found).count("\u0301") == 1
