"""What can be asked for, and the words for what cannot."""

from __future__ import annotations

from datetime import date, datetime

import pytest
from practice_lessons import TUNE, path

from fretloom.errors import FretloomError
from fretloom.practising.plan import PracticeWish
from fretloom.practising.wishes import checked


@pytest.mark.parametrize(
    ("wish", "says"),
    [
        ({"minutes": 0}, "minutes is a whole number from 10 to 120, not 0"),
        ({"minutes": 9}, "from 10 to 120, not 9"),
        ({"minutes": 121}, "from 10 to 120, not 121"),
        ({"minutes": 10**9}, "not 1000000000"),
        ({"minutes": 10**9999}, "not a number as large as this"),
        ({"minutes": True}, "not True"),
        ({"minutes": 20.0}, "not 20.0"),
        ({"days": 0}, "days is a whole number from 1 to 60, not 0"),
        ({"days": 61}, "not 61"),
        ({"days": "7"}, "not '7'"),
        ({"ladder": 2}, "ladder is a whole number from 3 to 5, not 2"),
        ({"ladder": 6}, "not 6"),
        ({"level": "expert"}, "level is one of beginner, intermediate, advanced, not 'expert'"),
        ({"student": 3}, "student is a name, not 3"),
        ({"student": "x" * 61}, "at most 60 letters, not 61"),
        ({"student": "A\x1b[2Jda"}, "has a sign that is not seen"),
        ({"student": "A\u202eda"}, "has a sign that is not seen"),
        ({"student": "A\nda"}, "has a sign that is not seen"),
        ({"student": "<b>Ada"}, "has the sign <"),
        ({"begin": "2026-11-30"}, "begin is a day"),
        ({"begin": datetime(2026, 11, 30)}, "begin is a day"),
        ({"begin": date.max}, "7 days from 9999-12-31 on go beyond the calendar: begin earlier"),
    ],
)
def test_what_cannot_be_is_refused_in_words(wish: dict[str, object], says: str) -> None:
    with pytest.raises(FretloomError) as found:
        checked(PracticeWish(**wish))  # type: ignore[arg-type]
    assert says in str(found.value)


@pytest.mark.parametrize("student", ["", "Ada", "Zoë O’Hara-Núñez", "李雷", "Ada & Ben"])
def test_names_of_people_pass(student: str) -> None:
    assert path(TUNE, student=student).student == student


def test_the_bounds_themselves_are_possible() -> None:
    for minutes, days, ladder in ((10, 1, 3), (120, 60, 5)):
        found = path(TUNE, minutes=minutes, days=days, ladder=ladder)
        assert sum(one.minutes for one in found.sessions) == minutes * days
