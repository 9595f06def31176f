"""Answers in words, as data and as JSON."""

from __future__ import annotations

import json

import pytest

import fretloom

TUNE = """lesson "Two cups"
  capo 2
  plays in C

voicings
  C   x32010  fingers .32.1.  bass 5 4 5 4
  Am  x02210  fingers ..231.  bass 5 4 5 4

patterns
  plain  p , p m , p i , p m

section verse  using plain
  C | Am@3 | Am
"""
GOOD = TUNE.replace("Am@3", "Am")


def test_findings_are_said_as_the_command_prints_them() -> None:
    """One, several or none: an empty line between two, a line end at the end."""
    found = fretloom.check(fretloom.loads(TUNE))
    one = fretloom.as_text(found[0])
    assert one.startswith("<text>:13:")
    assert one.endswith("\n")
    assert fretloom.as_text([found[0], found[0]]) == f"{one}\n{one}"
    assert fretloom.as_text(tuple(found)) == fretloom.as_text(found)
    assert fretloom.as_text([]) == ""


def test_findings_as_data_carry_what_the_findings_do() -> None:
    """A finding alone is a document with one finding."""
    found = fretloom.check(fretloom.loads(TUNE))
    data = fretloom.as_data(found[0])
    assert data == fretloom.as_data(found[:1])
    assert list(data)[:2] == ["format", "version"]
    (one,) = data["findings"]
    assert (one["rule"], one["fingerprint"]) == (found[0].rule, found[0].fingerprint)
    assert fretloom.as_data([])["findings"] == []


@pytest.mark.parametrize(
    ("asked", "kind", "said"),
    [
        (fretloom.hands, "hands", "Changes, hardest first"),
        (fretloom.sounds, "sounds", "Capos for this key"),
        (fretloom.suggest_capos, "capos", "Sounding in D, easiest first"),
    ],
)
def test_each_answer_is_said_in_its_own_words(asked: object, kind: str, said: str) -> None:
    """Text for people; JSON under the name of its format, the same as the data."""
    answer = asked(fretloom.loads(GOOD))  # type: ignore[operator]
    assert said in fretloom.as_text(answer)
    assert fretloom.as_data(answer)["format"] == f"fretloom-{kind}"
    assert json.loads(fretloom.as_json(answer)) == fretloom.as_data(answer)
    assert fretloom.as_json(answer).endswith("}\n")


def test_voicings_are_said_with_the_chord_that_was_asked_for() -> None:
    """Also where none was found."""
    found = fretloom.suggest_voicings("Am7", limit=2)
    assert len(found.voicings) == 2
    assert fretloom.as_text(found).startswith("Am7, the usual shapes first")
    none = fretloom.suggest_voicings("Am7", sounding=[6, 5], limit=1)
    assert fretloom.as_data(none)["chord"] == "Am7"


def test_a_transposed_lesson_comes_with_its_text_and_its_remarks() -> None:
    """In words, what its teacher should look at; as data, the text too."""
    moved = fretloom.transpose(fretloom.loads(GOOD), plays="G")
    data = fretloom.as_data(moved)
    assert fretloom.loads(data["lesson"]) == moved.lesson
    assert len(data["remarks"]) == len(moved.remarks) == 2
    assert fretloom.as_text(moved).splitlines() == [one["message"] for one in data["remarks"]]
    assert data["remarks"][0]["kind"] == "common-shape"
    assert data["remarks"][0]["voicing"] == "C"
    assert data["remarks"][0]["now"]["name"] == "G"


@pytest.mark.parametrize("answer", ["C", None, 3, ["C"], fretloom.loads(GOOD)])
def test_something_else_is_refused_by_name(answer: object) -> None:
    """What is no answer of ours cannot be said."""
    for say in (fretloom.as_text, fretloom.as_data, fretloom.as_json):
        with pytest.raises(TypeError, match="answer is Diagnostic, a list of them, Hands, "):
            say(answer)  # type: ignore[arg-type]


def test_a_practice_path_is_said_as_the_command_prints_it() -> None:
    """The whole page; as data with the steps."""
    path = fretloom.practice(fretloom.loads(GOOD), begin="2026-11-30", student="Ada")
    assert fretloom.as_text(path).startswith(
        "Practice: Two cups\n==================\nFor Ada\n7 days from Monday 30"
    )
    assert fretloom.as_data(path)["steps"][0]["title"] == "The thumb alone"
