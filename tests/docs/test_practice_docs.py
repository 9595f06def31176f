"""The page of practice shows what the program writes, and names all that its JSON has."""

from __future__ import annotations

import re
from pathlib import Path

import fretloom
from fretloom.practising.days import LONGEST, PAUSE
from fretloom.practising.path import LEFT_OUT
from fretloom.practising.tempos import AT_EASE, LEARNING, LEAST_STEP, SLOWEST

DOCS = Path(__file__).parents[2] / "docs"
PAGE = (DOCS / "reference" / "practice.md").read_text(encoding="utf-8")
WHY = (DOCS / "explanation" / "how-it-plans-practice.md").read_text(encoding="utf-8")


def test_the_example_is_what_comes_out() -> None:
    """The lesson on the page, two days for Ada."""
    [(text, shown)] = re.findall(r"```lesson\n(.*?)```.*?```text\n(.*?)```", PAGE, re.DOTALL)
    options = fretloom.PracticeOptions(days=2, student="Ada", begin="2026-11-30")
    [output] = fretloom.export(fretloom.loads(text), "practice", options)
    assert output.text == shown


def test_every_field_of_the_json_is_on_the_page() -> None:
    """In the part about JSON."""
    part = PAGE.split("## As JSON")[1]
    named = set(re.findall(r"`(\w+)`", part)) | {"format", "version"}
    schema = fretloom.json_schema("practice")
    things = {"the whole": schema, **schema["$defs"]}
    del things["show"]  # The page of the lesson as JSON has it.
    missing = {(thing, name) for thing, one in things.items() for name in one["properties"]} - {
        (thing, name) for thing, one in things.items() for name in one["properties"] if name in named
    }  # fmt: skip
    assert missing == set()


def test_the_figures_of_the_explanation_are_those_of_the_code() -> None:
    words = " ".join(WHY.split())
    assert f"no more than {AT_EASE} of the time" in words
    assert (LEARNING * 10, LEAST_STEP, LEFT_OUT, PAUSE) == (7, 3, 4, 5)
    assert f"not below {SLOWEST} beats a minute" in words
    assert f"ends after {LONGEST} at the latest" in words
