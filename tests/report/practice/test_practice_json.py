"""The practice path as JSON: valid by its schema, and the same as the values."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from jsonschema import Draft202012Validator
from lesson_pool import LESSONS, Made
from practice_lessons import STEPS, TUNE, example, path

from fretloom.api import as_data, json_schema
from fretloom.performance.reading import read_through
from fretloom.practising.path import practice_path


def test_it_says_what_the_path_says() -> None:
    found = path(TUNE + STEPS, student="Ada", begin=date(2026, 11, 30))
    data = as_data(found)
    assert data["format"] == "fretloom-practice"
    assert (data["student"], data["begin"], data["beat"]) == ("Ada", "2026-11-30", "1")
    step, part = data["steps"][1], data["steps"][1]["parts"][2]
    assert (step["title"], step["written"]) == ("Verse", True)
    assert part["show"] == {"kind": "bars", "name": "verse", "over": "", "first": 1, "last": 2}
    assert part["tempos"]["ladder"] == [50, 63, 77, 90]
    assert step["parts"][0]["tempos"] is None
    assert [one["minutes"] for one in data["sessions"]] == [one.minutes for one in found.sessions]
    assert data["sessions"][1]["date"] == "2026-12-01"
    assert data["drills"][0]["from"], data["drills"][0]["to"] == ("C", "F")


def test_tempos_are_numbers() -> None:
    """Whole where they are whole; beats of another length are said as an exact fraction."""
    half = path(TUNE.replace("tempo 96", "tempo 92.5"))
    assert as_data(half)["steps"][0]["parts"][1]["tempos"]["goal"] == 92.5
    assert as_data(example("ferry-at-the-weir"))["beat"] == str(Fraction(3, 2))


@LESSONS.law(most=12)
def test_it_is_valid_for_every_lesson(made: Made) -> None:
    """By a validator of JSON Schema (draft 2020-12)."""
    schema = json_schema("practice")
    Draft202012Validator.check_schema(schema)
    reading = read_through(made.read)
    if reading.timeline.bars:
        Draft202012Validator(schema).validate(as_data(practice_path(reading)))


def test_the_schema_names_all_that_is_written() -> None:
    """No field is left out of it, at any depth."""
    schema = json_schema("practice")
    data = as_data(path(TUNE + STEPS))
    assert list(schema["properties"]) == list(data)
    for name, one in (
        ("step", data["steps"][0]), ("part", data["steps"][0]["parts"][0]), ("drill", data["drills"][0]),
        ("session", data["sessions"][0]), ("item", data["sessions"][0]["items"][1]), ("thing", data["new"][0]),
    ):  # fmt: skip
        assert list(schema["$defs"][name]["properties"]) == list(one)
