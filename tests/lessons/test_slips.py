"""Lessons with one slip each: the right rule, the right place, and words that show the way out."""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

import fretloom
from fretloom.diagnostics import Diagnostic
from fretloom.edits import apply_edits
from fretloom.rule_facts import Severity

HERE = Path(__file__).parent
LESSON = (HERE / "shuffle.lesson").read_text(encoding="utf-8")
SLIPS: list[dict[str, Any]] = tomllib.loads((HERE / "slips.toml").read_text(encoding="utf-8"))[
    "slip"
]


def findings(slip: dict[str, Any]) -> list[Diagnostic]:
    """Return all errors and warnings about the lesson with one slip in it."""
    text = LESSON.replace(slip["for"], slip["write"], 1)
    assert text != LESSON
    found = fretloom.check(fretloom.loads(text))
    return [one for one in found if one.severity is not Severity.INFO]


def mended(slip: dict[str, Any]) -> tuple[str, str]:
    """Return the title of a slip's edits, and the lines that they make if it is not the right lesson."""
    (found,) = findings(slip)
    text = LESSON.replace(slip["for"], slip["write"], 1)
    made = apply_edits(text, found.edits)
    if not found.edits or made == LESSON:
        return (found.edits[0].title if found.edits else ""), ""
    lines = zip(text.splitlines(), made.splitlines(), strict=True)
    return found.edits[0].title, "\n".join(new for old, new in lines if new != old)


def test_the_lesson_without_a_slip_is_right() -> None:
    """Whatever is found below comes from the slip."""
    assert fretloom.check(fretloom.loads(LESSON)) == []


def test_there_are_many_kinds_of_slip() -> None:
    """At least sixty slips, by at least twenty-five rules."""
    assert len(SLIPS) >= 60
    assert len({slip["rule"] for slip in SLIPS}) >= 25


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: slip["name"].replace(" ", "-"))
def test_one_slip_is_one_finding_with_its_place_and_its_way_out(slip: dict[str, Any]) -> None:
    """No slip is reported twice, and none without what to write instead."""
    (found,) = findings(slip)
    assert (found.rule, f"{found.span.line}:{found.span.column}") == (slip["rule"], slip["at"])
    assert (found.message, found.hint) == (slip["says"], slip["way_out"])


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: slip["name"].replace(" ", "-"))
def test_one_sure_change_makes_the_lesson_right_again(slip: dict[str, Any]) -> None:
    """A slip with one way out carries it; what becomes of the lesson is known, and no other slip has an edit."""
    title, made = mended(slip)
    assert title == slip.get("mend", "")
    assert made == slip.get("becomes", "")


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: slip["name"].replace(" ", "-"))
def test_no_name_of_the_grammar_reaches_a_teacher(slip: dict[str, Any]) -> None:
    """Terminals and rules of the grammar are for developers (lark-parser/lark#778, case f01)."""
    (found,) = findings(slip)
    words = f"{found.message} {found.hint}"
    assert not re.search(r"__|Token\(|Expected one of|Traceback|_line\b|\$END", words)
    assert found.hint


def write_again() -> None:
    """Write the words of every slip again, to be read through."""
    text = (HERE / "slips.toml").read_text(encoding="utf-8")
    for slip in SLIPS:
        (found,) = findings(slip)
        for key, new in {
            "rule": found.rule,
            "at": f"{found.span.line}:{found.span.column}",
            "says": found.message,
            "way_out": found.hint,
        }.items():
            old, fresh = (
                value.replace("\\", "\\\\").replace('"', '\\"') for value in (slip[key], new)
            )
            start = text.index(f'name = "{slip["name"]}"')
            text = text[:start] + text[start:].replace(f'{key} = "{old}"', f'{key} = "{fresh}"', 1)
        title, becomes = mended(slip)
        start = text.index(f'name = "{slip["name"]}"')
        end = text.find("\n\n", start) if "\n\n" in text[start:] else len(text.rstrip())
        kept = [
            line for line in text[start:end].split("\n") if not re.match("(mend|becomes) =", line)
        ]
        new = {"mend": title, "becomes": becomes}
        kept += [
            f"{key} = {json.dumps(value, ensure_ascii=False)}"
            for key, value in new.items()
            if value
        ]
        text = text[:start] + "\n".join(kept) + text[end:]
    (HERE / "slips.toml").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    write_again()
