"""Days: their minutes in runs with breaks between, and what they are called.

A run without a break ends after 25 minutes at the latest: advice to musicians, common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from fretloom.trade.phrases.table import say

#: A run of minutes without a break, and the break behind it.
LONGEST, PAUSE = 25, 5
_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def runs(minutes: int) -> list[int]:
    """Return the minutes of a day as runs of 25 at the most, as even as they can be."""
    count = -(-minutes // LONGEST)
    return [minutes // count + (at < minutes % count) for at in range(count)]


def short_dates(days: Sequence[date]) -> str:
    """Return days in order, in short: "4, 6 January, 2 February"; three or more in a row as "4 to 6 January"."""
    found, spans = list[str](), _in_a_row(days)
    for at, (first, last) in enumerate(spans):
        after = spans[at + 1][0] if at + 1 < len(spans) else None
        month = _month(last) if after is None or _month(after) != _month(last) else ""
        begin = f"{first.day}" if _month(first) == _month(last) else f"{first.day} {_month(first)}"
        end = f"{last.day} {month}".rstrip()
        found.append(end if first == last else say("practice-part.run", first=begin, last=end))
    return ", ".join(found)


def _in_a_row(days: Sequence[date]) -> list[tuple[date, date]]:
    """Return the first and last of days in a row, those of two apart."""
    rows = list[list[date]]()
    for day in days:
        if rows and (day - rows[-1][-1]).days == 1:
            rows[-1].append(day)
        else:
            rows.append([day])
    return [
        pair for row in rows
        for pair in ([(row[0], row[-1])] if len(row) > 2 else [(one, one) for one in row])
    ]  # fmt: skip


def _month(day: date) -> str:
    return say(f"practice.month-{day.month}")


def date_words(day: date) -> str:
    """Return a day in words: `Monday 30 November 2026`."""
    return say(
        "practice.date",
        weekday=say(f"practice.{_WEEKDAYS[day.weekday()]}"),
        day=day.day,
        month=say(f"practice.month-{day.month}"),
        year=day.year,
    )
