"""Plucks as written: the fretting finger of a note, both signs of an accent, a roll of one."""

from __future__ import annotations

import pytest

from fretloom.api import check, dumps, expand, lesson_from_json, lesson_to_json, loads
from fretloom.errors import ModelError
from fretloom.model import Pluck, Roll, Slur


def _lesson(pattern: str, more: str = "") -> str:
    return f"""lesson "Fingers"
  tempo 80

voicings
  C  x32010  fingers .32.1.

patterns
  plain  {pattern}

section tune  using plain
  C{more}
"""


def _notes(pattern: str) -> list[tuple[str, int, str | None]]:
    notes = expand(loads(_lesson(pattern))).bars[0].bar.notes
    return [(one.finger, one.fret, one.fretting) for one in notes]


@pytest.mark.parametrize(
    ("pluck", "fingers"),
    [
        ("m2@3:3", ["3"]),
        ("m2@3:4", ["4"]),
        ("m2@3:4p1:1", ["4", "1"]),
        ("m2@0h1:1", ["1"]),
        ("m2@0h3:3", ["3"]),
        ("m2@1h3:3", ["1", "3"]),
    ],
)
def test_a_note_takes_the_finger_that_is_written(pluck: str, fingers: list[str]) -> None:
    """It is what the performance has, whatever would be found."""
    lesson = loads(_lesson(f"p , {pluck} , p , i"))
    note = next(one for one in expand(lesson).bars[0].bar.notes if one.finger == "m")
    named = [one.fretting for one in (note, *note.slurs) if one.fret]
    assert named == fingers
    assert f" {pluck} " in dumps(lesson)


def test_the_finger_survives_json() -> None:
    """Written as JSON and read back, the lesson is the same."""
    lesson = loads(_lesson("p , m2@3:4p1:1 , p , i"))
    assert dumps(lesson_from_json(lesson_to_json(lesson))) == dumps(lesson)


@pytest.mark.parametrize(
    "make",
    [
        lambda: Pluck(finger="m", fretting="4"),
        lambda: Pluck(finger="m", fret=0, fretting="4"),
        lambda: Slur("pull-off", 0, "1"),
        lambda: Roll(parts=(Pluck(finger="m"),)),
    ],
)
def test_what_no_text_says_cannot_be_made(make: object) -> None:
    """A finger without a fret to stop, and a roll of one finger."""
    with pytest.raises(ModelError):
        make()  # type: ignore[operator]


def test_an_accent_has_two_signs() -> None:
    """`>` as it is printed, `!` as a lesson is written; canonical text has the second."""
    lesson = loads(_lesson("p> , i+m> , p6-4> , a!"))
    assert check(lesson) == check(loads(_lesson("p! , i+m! , p6-4! , a!")))
    assert "p! , i+m! , p6-4! , a!" in dumps(lesson)


@pytest.mark.parametrize("roll", ["(m)", "( m )", "(p5)"])
def test_brackets_around_one_finger_are_not_guessed_at(roll: str) -> None:
    """A roll of one is nothing, and a soft note cannot be written yet."""
    (found,) = check(loads(_lesson(f"p , {roll} , p , i")))
    assert found.rule == "bad-pluck"
    assert "one finger" in found.message


def test_a_brush_may_stand_alone_in_brackets() -> None:
    """It goes over several strings."""
    assert _notes("(p6-4) , i , p , m")
