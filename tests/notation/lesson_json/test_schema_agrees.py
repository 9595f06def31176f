"""The schema and the reader of the lesson's JSON agree, over documents in which one thing is another."""

from __future__ import annotations

import json
import re
from importlib.resources import files
from random import Random
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from lesson_pool import LESSONS, Made
from pools import deep

from fretloom.errors import LessonUnreadable
from fretloom.notation.lesson_json.convert import to_lesson_json
from fretloom.notation.lesson_json.reading import from_lesson_json
from fretloom.notation.syntax.read import read
from fretloom.source import Source

SCHEMA = json.loads(
    (files("fretloom.notation.lesson_json") / "lesson.schema.json").read_text(encoding="utf-8")
)
VALID = Draft202012Validator(SCHEMA)
_ODD: tuple[Any, ...] = (
    None, True, False, 0, 1, -1, 7, 10**7, 1.5, "", "E", "2&", "3/2", "a\nb", "# a", "#a", "x2", "show", "unread", [], {}, [1], ["E"], [None],
    {"type": "hold"}, {"type": "prose", "text": "a"}, {"line": 1, "column": 1},
)  # fmt: skip
#: What is said of documents that fit the schema: what holds between fields, and what a text may be.
SEMANTIC = re.compile(
    r"is not a (meter|key|pitch|count|fraction)|no text says|cannot stand here|is not kept|plain one|of a comment|would be a comment|"
    r"begins with|begin with|means something else|needs its partner|a name begins|holds some text|two spaces|six figures|above 0|counting starts|"
    r"a number from|one of the two|not both|names no voicings|names a voicing|only |leads to|comes after|run from|run backwards|open_end|has a name|"
    r"as many places|as many as pitches|two strings at least|not empty|ends with it|a string from|'by'|one of .*, not|more than 0|nested|has a text|16 deep|short bar|"
    r"two strings or more|a finger is for|has no finger|slurred to its main|natural or an artificial|bent or trilled|one length|of a brush|"
    r"some bar has words|for each of the|counted from the end|a run of bars|so last is -1"
)


def places(node: Any) -> list[tuple[Any, Any]]:
    """Return every holder with every key in it."""
    inside = list(node.items()) if isinstance(node, dict) else list(enumerate(node)) if isinstance(node, list) else []  # fmt: skip
    return [place for key, one in inside for place in ((node, key), *places(one))]


def changed(document: Any, chance: Random) -> Any:
    """Return the document with one or two things replaced, taken away, doubled or added."""
    for _ in range(chance.randint(1, 2)):
        holder, key = chance.choice(places(document))
        how = chance.choice(["odd", "odd", "gone", "elsewhere", "field"])
        if how == "odd":
            holder[key] = chance.choice(_ODD)
        elif how == "gone":
            del holder[key]
        elif how == "elsewhere":
            other, name = chance.choice(places(document))
            holder[key] = json.loads(json.dumps(other[name]))
        elif isinstance(holder, dict):
            names = (
                "kind",
                "times",
                "text",
                "opening",
                "gap",
                "name",
                "colour",
                "type",
                "at",
                "using",
            )
            holder[chance.choice(names)] = chance.choice(_ODD)
        if not places(document):
            break
    return document


def agree(document: Any) -> None:
    """Check that what is read fits the schema, and that what fits is read or refused for what it says."""
    text = json.dumps(document)
    try:
        from_lesson_json(text)
    except LessonUnreadable as error:
        if VALID.is_valid(document):
            assert SEMANTIC.search(str(error)), error
    else:
        assert VALID.is_valid(document), next(iter(VALID.iter_errors(document))).message


@LESSONS.law()
def test_schema_and_reader_agree(made: Made) -> None:
    """Four changed documents of each lesson, ten where new ones are asked for."""
    for number in range(10 if deep() else 4):
        chance = Random(made.number + number)
        agree(changed(json.loads(to_lesson_json(made.written)), chance))


FAULTY = """lesson Air  # no quotes
  temmpo 96

use "a.lesson"

voicings too
  C  x32010
  D  ((

section verse  8 barz
  C | ( | C  # why
  | C | | C

form
  but bar 3: C
  verse x2
    but (
"""


@pytest.mark.parametrize("places_too", [True, False])
def test_the_json_of_a_faulty_lesson_fits_the_schema_too(places_too: bool) -> None:
    """Lines, bars and opening lines that could not be read are in it."""
    lesson = read(Source("t.lesson", FAULTY))
    text = to_lesson_json(lesson, places=places_too)
    VALID.validate(json.loads(text))
    assert from_lesson_json(text) == lesson
    assert text.count('"opening"') == 2
    for number in range(200):
        agree(changed(json.loads(text), Random(number)))


def test_empty_lines_go_through_json() -> None:
    """They are no part of a comparison, but of the canonical text."""
    lesson = read(Source("t.lesson", 'lesson "Air"\n  tempo 90\n\n  capo 2\n'))
    (heading,) = from_lesson_json(to_lesson_json(lesson)).blocks
    assert [line.margin.gap for line in heading.settings] == [False, True]


def test_the_schema_says_which_it_is() -> None:
    """By a name of its own and its version."""
    assert SCHEMA["$id"] == "urn:fretloom:schema:lesson:1"
    Draft202012Validator.check_schema(SCHEMA)
