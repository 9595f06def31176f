"""Options of the practice page."""

from __future__ import annotations

from fretloom.formats.options import number
from fretloom.formats.students.plan_options import PlanOptions
from fretloom.values import frozen


@frozen(kw_only=True)
class PracticeOptions(PlanOptions):
    """What is asked of a practice path, and how wide its page is.

    Args:
        minutes: of practice a day, from 10 to 120; more than 25 have breaks between.
        days: how many days, from 1 to 60.
        ladder: tempos from start to goal, from 3 to 5.
        student: whom the page is for, None for nobody.
        begin: the first day as `YYYY-MM-DD`, None for days without dates.
        level: "beginner", "intermediate" or "advanced"; "lesson" for that of the lesson.
        width: columns of the page, from 40 to 10000.
    """

    width: int = number(78, "columns of the page", least=40, most=10_000)
