"""Days: their minutes in runs with breaks between, and what they are called.

A run without a break ends after 25 minutes at the latest: advice to musicians, common practice, no source.
"""

from __future__ import annotations

from datetime import date

from fretloom.trade.phrases.table import say

#: A run of minutes without a break, and the break behind it.
LONGEST, PAUSE = 25, 5
_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def runs(minutes: int) -> list[int]:
    """Return the minutes of a day as runs of 25 at the most, as even as they can be."""
    count = -(-minutes // LONGEST)
    return [minutes // count + (at < minutes % count) for at in range(count)]


def date_words(day: date) -> str:
    """Return a day in words: `Monday 30 November 2026`."""
    return say(
        "practice.date",
        weekday=say(f"practice.{_WEEKDAYS[day.weekday()]}"),
        day=day.day,
        month=say(f"practice.month-{day.month}"),
        year=day.year,
    )
