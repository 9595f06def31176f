"""What to practise, with boxes: a plan of days, the two hardest changes against the clock, the usual cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING

from fretloom.characters import nothing_hidden
from fretloom.formats.students.handout.artist import PageArtist
from fretloom.formats.students.handout.templating import filled
from fretloom.practising.days import short_dates
from fretloom.practising.plan import ChangeDrill, PracticePath, SessionItem
from fretloom.trade.music.tempo import number_words
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

if TYPE_CHECKING:
    from markupsafe import Markup


@frozen(kw_only=True)
class PlanRow:
    """A thing to do: a sentence, the place, minutes on each of its days, and a box for each.

    `tempo` leads from that of the first day to that of the last, "" where there is no beat; `days` are dates
    where the plan has them.
    """

    doing: str
    where: str
    minutes: str
    tempo: str
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
        beat=say(
            "practice-page.beat",
            notes=path.unit_words,
            player=say(f"practice-page.{path.level}"),
        ),
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
    dates = {session.day: session.date for session in path.sessions}
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
            tempo=_tempo([item for _, item in met]),
            days=_days(days, path.days, [dates[one] for one in days]),
            boxes=artist.days(len(days)),
        )


def _tempo(items: Sequence[SessionItem]) -> str:
    """Say from which tempo to which the days lead: "60 to 96", "72"."""
    tempos = [
        tempo for one in items for tempo in (one.start, one.goal) if one.start and one.goal and tempo
    ]  # fmt: skip
    if not tempos:
        return ""
    ends = [number_words(one) for one in (min(tempos), max(tempos))]
    return ends[0] if ends[0] == ends[1] else say("practice-part.run", first=ends[0], last=ends[1])


def _days(days: Sequence[int], whole: int, dates: Sequence[date | None]) -> str:
    """Say on which days: "every day", "1 to 3", "2, 4, 6", or "4 to 6 January" where they have dates."""
    if len(days) == whole:
        return say("practice-part.every-day")
    if known := [one for one in dates if one is not None]:
        return short_dates(known)
    if len(days) > 2 and days[-1] - days[0] == len(days) - 1:
        return say("practice-part.run", first=days[0], last=days[-1])
    return ", ".join(map(str, days))


def _span(minutes: Sequence[int]) -> str:
    if len(minutes) == 1:
        return str(minutes[0])
    return say("practice-part.run", first=minutes[0], last=minutes[-1])
