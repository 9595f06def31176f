"""The bounds of what can be asked of a practice path, and the words for a wish beyond them."""

from __future__ import annotations

from datetime import date, timedelta

from fretloom.characters import unseen
from fretloom.errors import FretloomError
from fretloom.practising.plan import PracticeWish
from fretloom.trade.playability.moving.skills import SKILLS

#: Minutes a day, days, steps of a ladder: the least and the most. Below ten minutes there is no room for a warm-up
#: and something new; more than two hours a day is not for a plan that knows nothing of the student (assumptions).
MINUTES, DAYS, STEPS = (10, 120), (1, 60), (3, 5)
#: Letters of a student's name at the most.
NAME = 60
_FAR = 10**12
_BRACKETS = frozenset("<>{}[]")


def checked(wish: PracticeWish) -> PracticeWish:
    """Return a wish whose values are all possible; the name without spaces around it.

    Raises:
        FretloomError: one is not.
    """
    _number("minutes", wish.minutes, *MINUTES)
    _number("days", wish.days, *DAYS)
    _number("ladder", wish.ladder, *STEPS)
    if wish.level is not None and wish.level not in SKILLS:
        raise FretloomError(f"level is one of {', '.join(SKILLS)}, not {_shown(wish.level)}")
    _name(wish.student)
    if wish.begin is not None:
        _day(wish.begin, wish.days)
    return wish


def _number(name: str, value: object, least: int, most: int) -> None:
    if type(value) is not int or not least <= value <= most:
        raise FretloomError(f"{name} is a whole number from {least} to {most}, not {_shown(value)}")


def wrong_name(student: str) -> str:
    """Say what is wrong with a student's name, "" if nothing is: it is set on pages as it stands."""
    if len(student) > NAME:
        return f"a name of at most {NAME} letters, not {len(student)}"
    odd = next((one for one in student if unseen(one) or one in _BRACKETS), None)
    if odd is None:
        return ""
    what = f"the sign {odd}" if odd in _BRACKETS else "a sign that is not seen"
    return f"a name in letters, and this one has {what}"


def _name(student: object) -> None:
    wrong = wrong_name(student) if isinstance(student, str) else f"a name, not {_shown(student)}"
    if wrong:
        raise FretloomError(f"student is {wrong}")


def _day(begin: object, days: int) -> None:
    if type(begin) is not date:
        raise FretloomError(f"begin is a day (datetime.date), not {_shown(begin)}")
    try:
        begin + timedelta(days=days)
    except OverflowError:
        raise FretloomError(
            f"{days} days from {begin} on go beyond the calendar: begin earlier"
        ) from None


def _shown(value: object) -> str:
    if isinstance(value, int) and abs(value) > _FAR:
        return "a number as large as this"
    text = repr(value) if isinstance(value, int | float | str) else type(value).__name__
    return text if len(text) <= 40 else f"{text[:40]}..."
