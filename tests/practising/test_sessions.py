"""Sessions: minutes exactly as asked, breaks in time, old and new mixed, one step of a ladder a day."""

from __future__ import annotations

from collections import Counter
from datetime import date

import pytest
from practice_lessons import STEPS, TUNE, example, path

from fretloom.practising.days import LONGEST, date_words, runs


@pytest.mark.parametrize(
    ("minutes", "found"),
    [(10, [10]), (25, [25]), (26, [13, 13]), (50, [25, 25]), (60, [20, 20, 20]), (51, [17, 17, 17]),
     (120, [24, 24, 24, 24, 24])],
)  # fmt: skip
def test_a_day_is_divided_evenly(minutes: int, found: list[int]) -> None:
    """No run is longer than 25 minutes (a break at the latest then: advice to musicians, common practice)."""
    assert runs(minutes) == found


def test_every_length_of_a_day_is_kept_to() -> None:
    for minutes in range(10, 121):
        parts = runs(minutes)
        assert sum(parts) == minutes
        assert max(parts) <= LONGEST
        assert min(parts) >= 10
        assert max(parts) - min(parts) <= 1


def test_long_days_have_breaks() -> None:
    """Behind every session of a day but the last."""
    found = path(TUNE, minutes=60, days=2).sessions
    assert [(one.day, one.pause) for one in found] == [
        (1, 5), (1, 5), (1, 0), (2, 5), (2, 5), (2, 0),
    ]  # fmt: skip


def test_new_things_come_first_and_mix_with_the_known_ones_later() -> None:
    """A piece is new once, in the order of the steps; on the days after it takes turns with others."""
    found = path(TUNE).sessions
    new = [item.where for one in found for item in one.items if item.kind == "new"]
    assert len(new) == len(set(new))
    kinds = [[item.kind for item in one.items] for one in found]
    assert all(one[0] == "warm-up" for one in kinds)
    assert "new" not in kinds[-1]
    mixed = [item.where for item in found[-1].items if item.kind in ("again", "drill", "song")]
    assert len(set(mixed)) == len(mixed) >= 4


def test_a_piece_climbs_one_step_a_day() -> None:
    """Its start is where the day before ended, until it has arrived."""
    found = path(TUNE, minutes=60)
    steps = {part.where: part.tempos for step in found.steps for part in step.parts}
    seen: dict[str, dict[int, set[tuple[object, object]]]] = {}
    for session in found.sessions:
        for item in session.items:
            if item.start is not None:
                days = seen.setdefault(item.where, {})
                days.setdefault(session.day, set()).add((item.start, item.goal))
    assert len(seen) > 8
    for where, days in seen.items():
        ladder = steps[where].ladder  # type: ignore[union-attr]
        for at, tempos in enumerate(days.values()):
            top = len(ladder) - 1
            assert tempos == {(ladder[min(at, max(0, top - 1))], ladder[min(at + 1, top)])}


def test_the_song_is_played_at_the_end_of_a_session_once_it_is_known() -> None:
    found = path(TUNE).sessions
    ends = [one.items[-1].where for one in found]
    first = ends.index("The whole song")
    assert all(one == "The whole song" for one in ends[first:])


def test_what_tires_the_hand_is_short() -> None:
    """Three minutes of nothing but a whole barre at the most, and then rest."""
    found = [
        item
        for session in path(TUNE, minutes=25).sessions
        for item in session.items
        if item.rest and item.show and item.show.kind in ("voicing", "change", "pattern")
    ]
    assert found
    assert max(item.minutes for item in found) <= 3


def test_no_item_fills_a_session() -> None:
    """With two pieces to learn on the first day, they take turns."""
    items = example("clay-and-water").sessions[0].items
    assert Counter(item.where for item in items if item.where).most_common(1)[0][1] == 2
    assert max(item.minutes for item in items) <= 5


def test_what_there_is_no_time_for_is_named() -> None:
    """Ten minutes on one day are too little for all steps; their numbers are kept."""
    found = path(TUNE, minutes=10, days=1)
    done = {item.step for one in found.sessions for item in one.items} - {0}
    assert found.later
    assert {*found.later} | done == {step.number for step in found.steps}
    assert [step.minutes for step in found.steps if step.number in found.later][-1] == 0


def test_each_step_knows_its_minutes_and_days() -> None:
    found = path(TUNE + STEPS)
    for step in found.steps:
        items = [
            (one.day, item)
            for one in found.sessions
            for item in one.items
            if item.step == step.number
        ]
        assert step.minutes == sum(item.minutes for _, item in items)
        assert step.days == tuple(dict.fromkeys(day for day, _ in items))


def test_an_assignment_has_its_dates() -> None:
    """In ISO and in words; 30 November 2026 is a Monday (from a calendar)."""
    found = path(TUNE, begin=date(2026, 11, 30), days=3, student="Ada")
    assert [one.date for one in found.sessions] == [
        date(2026, 11, 30), date(2026, 12, 1), date(2026, 12, 2),
    ]  # fmt: skip
    assert found.sessions[0].date_words == "Monday 30 November 2026"
    assert found.sessions[1].date_words == "Tuesday 1 December 2026"
    assert found.student == "Ada"
    assert path(TUNE).sessions[0].date is None
    assert path(TUNE).sessions[0].date_words == ""


def test_every_month_and_weekday_has_its_word() -> None:
    words = {date_words(date(2026, month, day)) for month in range(1, 13) for day in range(1, 8)}
    assert len({one.split()[0] for one in words}) == 7
    assert len({one.split()[2] for one in words}) == 12


def test_new_things_leave_time_for_the_known_ones() -> None:
    """Also where the days are few: a third of a session at the least."""
    second = path(TUNE, days=2).sessions[1].items
    known = sum(item.minutes for item in second if item.kind in ("again", "drill", "song"))
    assert known >= 5
    assert any(item.kind == "new" for item in second)


def test_what_stands_in_a_known_section_gives_way() -> None:
    """On the last days the sections and the song are played, not their pieces."""
    last = [item.where for item in path(TUNE).sessions[-1].items if item.kind in ("again", "song")]
    assert {"Verse", "Close", "The whole song"} <= set(last)


def test_a_change_is_drilled_or_repeated_but_not_both() -> None:
    """And the two drills take turns where there is time for one."""
    found = path(TUNE, days=21, minutes=10).sessions
    for session in found:
        drilled = {
            frozenset(item.where.split(" to ")) for item in session.items if item.kind == "drill"
        }
        again = {
            frozenset(item.where.split(" to ")) for item in session.items if item.kind == "again"
        }
        assert not drilled & again
    times = Counter(item.where for one in found for item in one.items if item.kind == "drill")
    assert len(times) == 2
    assert max(times.values()) - min(times.values()) <= 2  # One is known earlier.
