"""The JSON documents: named, numbered, and as their schemas say."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from schemas import schema_validator

from fretloom import api
from fretloom.errors import FretloomError
from fretloom.formats.music_json.document import VERSION as MUSIC_VERSION
from fretloom.notation.lesson_json.convert import VERSION as LESSON_VERSION
from fretloom.report.documents import DOCUMENTS, schema

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.lesson"))


def documents_of(lesson: Any) -> dict[str, dict[str, Any]]:
    found = {
        "findings": api.as_data(api.check(lesson)),
        "hands": api.as_data(api.hands(lesson)),
        "sounds": api.as_data(api.sounds(lesson)),
        "levels": api.as_data(api.levels(lesson)),
        "eased": api.as_data(api.ease(lesson)),
        "music": json.loads(api.export_json(lesson)),
        "lesson": json.loads(api.lesson_to_json(lesson)),
    }
    if api.expand(lesson).settings.plays and not lesson.heading.setting("based"):
        found["capos"] = api.as_data(api.suggest_capos(lesson))
        found["transposed"] = api.as_data(api.transpose(lesson, capo=4))
    return found


@pytest.mark.parametrize("kind", DOCUMENTS)
def test_a_schema_is_a_schema_with_a_name_of_its_own(kind: str) -> None:
    """Each is valid JSON Schema (draft 2020-12), and its `$id` says kind and version."""
    Draft202012Validator.check_schema(schema(kind))
    assert schema(kind)["$id"] == f"urn:fretloom:schema:{kind}:{DOCUMENTS[kind][0]}"
    properties = schema(kind)["properties"]
    assert properties["format"] == {"const": f"fretloom-{kind}"}
    assert properties["version"] == {"const": DOCUMENTS[kind][0]}


def test_versions_stand_where_documents_are_made() -> None:
    """What is played and the lesson are written elsewhere, with the same versions."""
    assert DOCUMENTS["music"][0] == MUSIC_VERSION
    assert DOCUMENTS["lesson"][0] == LESSON_VERSION


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda file: file.stem)
def test_what_is_written_is_all_in_the_schema(example: Path) -> None:
    """Every field of every document is described: no schema knows less than is written."""
    for kind, written in documents_of(api.load(example)).items():
        schema_validator(kind, closed=True).validate(written)


def test_voicings_are_all_in_the_schema() -> None:
    """Of a chord with barres, an inversion and a rootless voicing too."""
    for chord in ("F#m7b5", "C/G", "G9"):
        written = api.as_data(api.suggest_voicings(chord, limit=40))
        assert written["voicings"]
        schema_validator("voicings", closed=True).validate(written)


@pytest.mark.parametrize("kind", [one for one in DOCUMENTS if one != "lesson"])
def test_a_new_field_needs_no_new_version_where_nothing_is_read_back(kind: str) -> None:
    """Who keeps a schema of today can check documents of tomorrow."""
    text = json.dumps(schema(kind))
    assert '"additionalProperties": false' not in text
    assert '"unevaluatedProperties"' not in text


def test_an_unknown_kind_is_refused_with_those_there_are() -> None:
    """The caller's mistake."""
    with pytest.raises(FretloomError, match="there is no schema 'chords'; there are findings, "):
        schema("chords")
