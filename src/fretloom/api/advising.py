"""What a lesson's voicings sound, what the hands have to do, and what would be easier.

The answers are values; `saying` puts them into words and into JSON.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import TYPE_CHECKING

from fretloom.api.arguments import (
    day_given,
    integer,
    key_named,
    strings_named,
    text_given,
    whole_number,
)
from fretloom.api.checking import without_errors
from fretloom.api.reading import Examined, examine, naming_of
from fretloom.errors import FretloomError
from fretloom.notation.model.lesson import Lesson

if TYPE_CHECKING:
    from fretloom.arranging.find_capos import CapoChoices
    from fretloom.arranging.find_voicings import FoundVoicings
    from fretloom.arranging.sounds import Sounds
    from fretloom.performance.hands.hardest import Hands
    from fretloom.practising.plan import PracticePath


def sounds(lesson: Lesson | Examined) -> Sounds:
    """Return the notes, degrees and names of every voicing, the key of it all, and capos that keep it.

    What a faulty lesson leaves open is missing from it.
    """
    from fretloom.arranging.sounds import sounds_of

    return sounds_of(examine(lesson).timeline)


def hands(lesson: Lesson | Examined) -> Hands:
    """Return voicings and changes from hard to easy, and why.

    Figures are estimates for a hand of the lesson's size, in millimetres and seconds, not a verdict
    on a person. What a faulty lesson leaves open is missing from it.
    """
    from fretloom.performance.hands.hardest import hands as run

    return run(examine(lesson).timeline)


def suggest_voicings(
    chord: str,
    lesson: Lesson | Examined | None = None,
    *,
    sounding: Iterable[int] = (),
    thumb: bool = False,
    limit: int = 8,
) -> FoundVoicings:
    """Return playable voicings of a chord, best first.

    Args:
        chord: its symbol, as the hand thinks of it (without a full capo).
        lesson: the lesson whose tuning, capo, instrument, hand, level and picking fingers are taken;
            without it, those of a guitar.
        sounding: strings that have to sound, 1 the highest.
        thumb: whether the thumb may fret over the neck.
        limit: how many at most, from 1.

    Raises:
        SymbolError: the chord symbol cannot be read.
        FretloomError: there is no such string, or the limit is less than 1.
    """
    from fretloom.arranging.find_voicings import find_voicings
    from fretloom.performance.settings import picking_plan
    from fretloom.performance.sounding.strings import name_shifts

    if not isinstance(chord, str):
        raise TypeError(f'chord is a chord symbol, such as "Am7", not {type(chord).__name__}')
    needed = strings_named("sounding", sounding)
    most = whole_number("limit", limit, least=1)
    reading = examine(Lesson() if lesson is None else lesson).reading
    settings = reading.timeline.settings
    shifts = name_shifts(reading.timeline.voicings.values(), settings)
    for string in sorted(needed):
        if not 1 <= string <= settings.tuning.strings:
            raise FretloomError(f"there is no string {string} on this instrument")
    plan = picking_plan(reading.material, settings.tuning)
    return find_voicings(
        chord, settings, plan=plan, needed=needed, thumb=bool(thumb), limit=most or 1, shifts=shifts
    )


def suggest_capos(
    lesson: Lesson | Examined,
    *,
    sounds: str | None = None,
    open_only: bool = False,
    highest: int | None = None,
) -> CapoChoices:
    """Return capos and shapes that give the sounding key, easiest first.

    Args:
        lesson: one without errors that says its key.
        sounds: the key to reach; without it the lesson sounds as before.
        open_only: leave out what needs a chord without an open string.
        highest: fret that the capo may stand at, at most, 0 to 9; without it 7.

    Raises:
        LessonFaulty: the lesson has errors.
        FretloomError: the lesson does not say its key, is based on another, or has a partial capo;
            or no capo fits on the neck at the highest fret.
    """
    from fretloom.arranging.capo_places import HIGHEST
    from fretloom.arranging.find_capos import find_capos
    from fretloom.arranging.new_key import HIGHEST_CAPO

    key = key_named("sounds", sounds, naming_of(lesson))
    most = whole_number("highest", highest, least=0)
    if most is not None and most > HIGHEST_CAPO:
        raise FretloomError(f"the capo can stand at fret {HIGHEST_CAPO} at most, not at {most}")
    return find_capos(
        without_errors(lesson).reading,
        key,
        open_only=bool(open_only),
        highest=HIGHEST if most is None else most,
    )


def practice(
    lesson: Lesson | Examined,
    *,
    minutes: int = 20,
    days: int = 7,
    ladder: int = 4,
    student: str = "",
    begin: date | str | None = None,
    level: str | None = None,
    known: Iterable[Lesson | Examined] = (),
    despite_errors: bool = False,
) -> PracticePath:
    """Return what to practise: the teacher's steps or those found, with tempos, drills, and sessions day by day.

    Tempos are estimates, not a verdict on a person: rest before the hand tires, stop if it hurts; ask a teacher
    or clinician.

    Args:
        lesson: what to practise.
        minutes: a day, from 10 to 120; more than 25 are divided by breaks.
        days: how many, from 1 to 60.
        ladder: tempos from start to goal, 3 to 5.
        student: a name, at most 60 letters.
        begin: the first day, as a date or as `YYYY-MM-DD`; without it the days have numbers only.
        level: "beginner", "intermediate" or "advanced"; without it that of the lesson.
        known: other lessons that the student can play; what they ask for is not new.
        despite_errors: also for a lesson with errors, unless they make it unclear what is played.

    Raises:
        LessonFaulty: the lesson has errors (with `despite_errors`: errors that leave the music undefined).
        FretloomError: a wish is out of its bounds, or nothing is played in the lesson.
        TypeError: an argument is of another kind.
    """
    from fretloom.practising.path import practice_path
    from fretloom.practising.plan import PracticeWish

    if isinstance(known, str | Lesson | Examined) or not isinstance(known, Iterable):
        raise TypeError(f"known is a tuple of lessons, not {type(known).__name__}")
    wish = PracticeWish(
        minutes=integer("minutes", minutes),
        days=integer("days", days),
        ladder=integer("ladder", ladder),
        student=text_given("student", student),
        begin=day_given("begin", begin),
        level=None if level is None else text_given("level", level),
        known=tuple(examine(one).reading for one in known),
    )
    return practice_path(without_errors(lesson, bool(despite_errors)).reading, wish)


def practice_page(path: PracticePath, width: int) -> str:
    """Return a practice path as text for people, with lines of at most `width` columns.

    Raises:
        FretloomError: the width is not one that a page can have.
    """
    from fretloom.formats.students.practice.options import PracticeOptions
    from fretloom.formats.students.practice.page import practice_text

    return practice_text(path, PracticeOptions(width=width).width)
