"""What holds for the practice path of every lesson."""

from __future__ import annotations

from itertools import chain, pairwise

import pytest
from attrs import evolve
from lesson_pool import LESSONS, Made
from places import EXAMPLES

from fretloom.api import examine, load
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.step import Step
from fretloom.performance.reading import Reading, read_through
from fretloom.practising.days import LONGEST
from fretloom.practising.path import asked_by, practice_path
from fretloom.practising.plan import PracticePath, PracticeWish
from fretloom.practising.tempos import LEAST_STEP


def without_steps(lesson: Lesson) -> Lesson:
    return evolve(lesson, blocks=tuple(one for one in lesson.blocks if not isinstance(one, Step)))


def hold(found: PracticePath, reading: Reading) -> None:
    """Try all laws on a path."""
    minutes_are_as_asked(found)
    tempos_rise_evenly(found)
    new_things_come_once(found, reading)
    songs = {
        part.where for step in found.steps for part in step.parts if part.show.kind == "form"
    }  # fmt: skip
    assert songs
    practised = {item.where for one in found.sessions for item in one.items}
    assert found.later or songs <= practised


def minutes_are_as_asked(found: PracticePath) -> None:
    days: dict[int, int] = {}
    for one in found.sessions:
        days[one.day] = days.get(one.day, 0) + one.minutes
        assert one.minutes <= LONGEST
        assert one.items[0].kind == "warm-up"
        assert all(item.minutes >= 1 for item in one.items)
    assert days == dict.fromkeys(range(1, found.days + 1), found.minutes)
    for one, later in pairwise(found.sessions):
        assert one.pause > 0 or one.day < later.day


def tempos_rise_evenly(found: PracticePath) -> None:
    for tempos in (part.tempos for step in found.steps for part in step.parts):
        if tempos is None:
            continue
        assert tempos.start <= tempos.goal
        assert (tempos.ladder[0], tempos.ladder[-1]) == (tempos.start, tempos.goal)
        gaps = [later - one for one, later in pairwise(tempos.ladder)]
        assert all(gap > 0 for gap in gaps)
        assert len(gaps) < 2 or (min(gaps) >= LEAST_STEP - 1 and max(gaps) - min(gaps) < 2)


def new_things_come_once(found: PracticePath, reading: Reading) -> None:
    new = list(chain.from_iterable(step.new for step in found.steps))
    assert len(new) == len(set(new))
    assert tuple(new) == found.new
    assert {*asked_by(reading)} <= {*new}


@LESSONS.law(most=12)
def test_the_laws_hold_for_any_lesson(made: Made) -> None:
    """With the teacher's steps and without; with little time, and with much."""
    for lesson in (made.read, without_steps(made.read)):
        reading = read_through(lesson)
        if not reading.timeline.bars:
            continue
        minutes, days = made.chance.randint(10, 120), made.chance.randint(1, 12)
        wish = PracticeWish(minutes=minutes, days=days, ladder=made.chance.randint(3, 5))
        found = practice_path(reading, wish)
        hold(found, reading)
        assert found == practice_path(read_through(lesson), wish)


@pytest.mark.parametrize("name", sorted(path.stem for path in EXAMPLES.glob("*.lesson")))
def test_the_laws_hold_for_the_examples(name: str) -> None:
    """And all of their steps fit into a week of 20 minutes."""
    lesson = load(EXAMPLES / f"{name}.lesson")
    for one in (lesson, without_steps(lesson)):
        reading = examine(one).reading
        found = practice_path(reading)
        hold(found, reading)
        assert found.later == ()
