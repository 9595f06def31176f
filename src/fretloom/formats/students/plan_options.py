"""Options that all pages with a plan of practice have."""

from __future__ import annotations

from datetime import date as day_of
from typing import Any

from fretloom.formats.options import FormatOptions, date, name, number, one_of
from fretloom.practising.plan import PracticeWish
from fretloom.practising.wishes import DAYS, MINUTES, NAME, STEPS, wrong_name
from fretloom.trade.playability.moving.skills import SKILLS
from fretloom.values import frozen

_OF_LESSON = "lesson"


def level_option() -> Any:
    """Declare whose hands the tempos are for."""
    return one_of(
        (_OF_LESSON, *SKILLS), "whose hands the tempos are for: the lesson's, or of a level"
    )


@frozen(kw_only=True)
class PlanOptions(FormatOptions):
    """What is asked of a practice path.

    Args:
        minutes: of practice a day, from 10 to 120; more than 25 have breaks between.
        days: how many days, from 1 to 60.
        ladder: tempos from start to goal, from 3 to 5.
        student: whom the page is for, None for nobody.
        begin: the first day as `YYYY-MM-DD`, None for days without dates.
        level: "beginner", "intermediate" or "advanced"; "lesson" for that of the lesson.
    """

    minutes: int = number(20, "minutes of practice a day", least=MINUTES[0], most=MINUTES[1])
    days: int = number(7, "days of practice", least=DAYS[0], most=DAYS[1])
    ladder: int = number(4, "tempos from start to goal", least=STEPS[0], most=STEPS[1])
    student: str | None = name("whom the page is for", longest=NAME, wrong=wrong_name)
    begin: str | None = date("the first day of practice")
    level: str = level_option()

    @property
    def wish(self) -> PracticeWish:
        """What is asked of the path."""
        return PracticeWish(
            minutes=self.minutes,
            days=self.days,
            ladder=self.ladder,
            student=self.student or "",
            begin=day_of.fromisoformat(self.begin) if self.begin else None,
            level=None if self.level == _OF_LESSON else self.level,
        )
