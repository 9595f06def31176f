"""What to practise, with boxes: a plan of days, the two hardest changes against the clock, the usual cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from fretloom.characters import nothing_hidden
from fretloom.formats.students.handout.artist import PageArtist
from fretloom.formats.students.handout.templating import filled
from fretloom.practising.plan import ChangeDrill, PracticePath, SessionItem
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

if TYPE_CHECKING:
    from markupsafe import Markup


@frozen(kw_only=True)
class PlanRow:
    """A thing to do: a sentence, the place, minutes on each of its days, and a box for each."""

    doing: str
    where: str
    minutes: str
    days: str
    boxes: Markup


@frozen
class DrillRow:
    """A change to make as often as one can in a minute, with a box for each day's number."""

    where: str
    boxes: Markup


def practice_part(path: PracticePath, artist: PageArtist) -> Markup:
    """Return the plan as a part of the page."""
    return filled(
        "practice.html",
        student=nothing_hidden(path.student),
        begin=path.sessions[0].date_words if path.sessions and path.begin else "",
        intro=say("practice-part.intro", days=path.days, minutes=path.minutes),
        rows=list(_rows(path, artist)),
        drills=[
            DrillRow(one.where, artist.numbers(days))
            for one in path.drills
            if (days := min(_drilled(path, one), _MOST_NUMBERS))
        ],
        cautions=path.cautions,
    )


#: So many boxes for numbers stand in a row.
_MOST_NUMBERS = 8


def _drilled(path: PracticePath, drill: ChangeDrill) -> int:
    """Return on how many days a change is made against the clock."""
    return len(
        {
            session.day
            for session in path.sessions
            for item in session.items
            if item.kind == "drill" and item.where == drill.where
        }
    )


def _rows(path: PracticePath, artist: PageArtist) -> Iterator[PlanRow]:
    """Yield what is done, each thing once with all the days on which it is."""
    found: dict[tuple[str, str], list[tuple[int, SessionItem]]] = {}
    for session in path.sessions:
        for item in session.items:
            found.setdefault((item.doing, item.where), []).append((session.day, item))
    for (doing, where), met in found.items():
        days = sorted({day for day, _ in met})
        minutes = sorted({item.minutes for _, item in met})
        yield PlanRow(
            doing=doing,
            where=where if where not in doing else "",
            minutes=_span(minutes),
            days=_days(days, path.days),
            boxes=artist.days(len(days)),
        )


def _days(days: Sequence[int], whole: int) -> str:
    """Say on which days: "every day", "1 to 3", "2, 4, 6"."""
    if len(days) == whole:
        return say("practice-part.every-day")
    if len(days) > 2 and days[-1] - days[0] == len(days) - 1:
        return say("practice-part.run", first=days[0], last=days[-1])
    return ", ".join(map(str, days))


def _span(minutes: Sequence[int]) -> str:
    if len(minutes) == 1:
        return str(minutes[0])
    return say("practice-part.run", first=minutes[0], last=minutes[-1])
