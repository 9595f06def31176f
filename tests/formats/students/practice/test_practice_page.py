"""The page of practice: boxes to tick, no line too wide, and nothing of a lesson obeyed."""

from __future__ import annotations

from datetime import date

import pytest
from attrs import evolve
from lesson_pool import LESSONS, Made
from practice_lessons import STEPS, TUNE, example, path

from fretloom.api import export, loads
from fretloom.characters import unseen
from fretloom.formats.students.practice.options import PracticeOptions
from fretloom.formats.students.practice.page import practice_text
from fretloom.performance.reading import read_through
from fretloom.practising.path import practice_path
from fretloom.text import columns


def test_every_tempo_has_three_boxes() -> None:
    """As many as the trade's test asks for."""
    text = practice_text(path(TUNE + STEPS))
    assert "\n        60 [ ][ ][ ]   72 [ ][ ][ ]   84 [ ][ ][ ]   96 [ ][ ][ ]\n" in text
    assert "\n        [ ][ ][ ] every string sounds, three times in a row\n" in text


def test_each_day_lists_its_minutes() -> None:
    """A box, the minutes, the piece and its tempos of the day."""
    found = path(TUNE + STEPS, days=2)
    text = practice_text(found)
    days = text.split("\nDay by day\n")[1]
    assert days.count("  [ ] ") == sum(len(one.items) for one in found.sessions)
    assert "\n  [ ]  5 min  Plain over Am, 60 to 72. Play it over and over" in text
    assert "\nDay 2\n  [ ]  3 min  Warm up.\n" in text


def test_what_to_do_is_said_once() -> None:
    """The second shape needs no sentence."""
    text = practice_text(path(TUNE))
    assert " ".join(text.split()).count("pluck its strings one by one, lift the hand off") == 1
    assert text.count("shake out both hands") == 1


def test_breaks_stand_where_they_are() -> None:
    text = practice_text(path(TUNE, minutes=60, days=1))
    assert text.count("\n      Break: 5 minutes without the guitar.\n") == 2


def test_dates_and_names_stand_at_the_head() -> None:
    text = practice_text(path(TUNE, student="Ada", begin=date(2026, 11, 30)))
    assert text.startswith(
        "Practice: Two cups\n==================\nFor Ada\n"
        "7 days from Monday 30 November 2026, 20 minutes a day.\n"
        "Tempos are in quarter notes a minute, for an intermediate player.\n\n"
    )
    assert "\nDay 7: Sunday 6 December 2026\n" in text
    one = practice_text(path(TUNE, days=1, begin=date(2026, 11, 30)))
    assert "\nMonday 30 November 2026: 20 minutes.\n" in one


def test_the_beat_is_the_one_that_is_counted() -> None:
    text = practice_text(example("ferry-at-the-weir"))
    assert "\nTempos are in dotted quarter notes a minute, for an intermediate player.\n" in text


def test_what_tires_the_hand_has_a_mark() -> None:
    """And the mark is explained, where there is one."""
    tiring, easy = practice_text(path(TUNE)), practice_text(example("clay-and-water"))
    assert "After what has a * let the hand hang" in " ".join(tiring.split())
    assert "*\n" in tiring
    assert "*" not in easy


def test_the_cautions_stand_before_everything_else() -> None:
    """Warm up, breaks, load, and whom to ask (see needs of musicians in the explanation)."""
    words = " ".join(practice_text(path(TUNE)).split())
    care = words.split("Take care of your hands")[1].split("What you will learn")[0]
    for said in ("Warm up first", "after 25 minutes at the latest", "much more on one day"):
        assert said in care
    assert "Rest before the hand tires, stop if it hurts; ask a teacher or clinician." in care


def test_what_there_is_no_time_for_is_said() -> None:
    words = " ".join(practice_text(path(TUNE, minutes=10, days=1)).split())
    assert "These days have no time for steps 3, 4, 5, 6, 7, 8 and 9: go on with them" in words


@pytest.mark.parametrize("width", [40, 60, 78, 200])
def test_no_line_is_wider_than_the_page(width: int) -> None:
    for name in ("kiln-lane-shuffle", "ferry-at-the-weir", "tuesday-rag"):
        lines = practice_text(example(name), width).splitlines()
        assert max(map(columns, lines)) <= width


@LESSONS.law(most=12)
def test_no_lesson_breaks_the_page(made: Made) -> None:
    """Neither its width, nor its lines; hidden characters of a lesson are not written."""
    reading = read_through(made.read)
    if not reading.timeline.bars:
        return
    width = made.chance.choice([40, 78, 120])
    text = practice_text(practice_path(reading), width)
    assert max(map(columns, text.splitlines())) <= width
    assert text.endswith("\n")
    assert not any(line != line.rstrip() for line in text.split("\n"))


def test_hostile_words_stay_words() -> None:
    """Titles, steps and names are set as they are, without what is not seen in them."""
    hostile = "<script>alert(1)</script> {title} %s \u202e x{0}" + "w" * 300
    text = TUNE.replace("Two cups", hostile).replace('"Verse"', f'"{hostile}"') + STEPS.replace(
        "Count four.", hostile
    )
    page = practice_text(path(text))
    assert "<script>alert(1)</script> {title} %s" in page
    assert not any(unseen(one) and one != "\n" for one in page)
    assert max(map(columns, page.splitlines())) <= 78


def test_the_export_is_the_same_page() -> None:
    """With its options, and the name of the lesson."""
    options = PracticeOptions(days=3, student="Ada", begin="2026-11-30", level="beginner", width=60)
    [output] = export(loads(TUNE, path="cups.lesson"), "practice", options)
    assert output.name == "cups.practice.txt"
    wish = {"days": 3, "student": "Ada", "begin": date(2026, 11, 30), "level": "beginner"}
    assert output.text == practice_text(path(TUNE, **wish), 60)
    assert evolve(options, level="lesson").wish.level is None
