"""A practice path as values: steps and what they show, drills, and sessions laid over days.

Words of a lesson in them stand on one line and hold no hidden characters; they may look like markup.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Literal

from fretloom.notation.model.step import Show
from fretloom.performance.reading import Reading
from fretloom.practising.elements import Hands
from fretloom.practising.novelty import NewThing
from fretloom.practising.tempos import PracticeTempos
from fretloom.values import frozen

#: What an item of a session is for.
ItemKind = Literal["warm-up", "new", "again", "drill", "song"]


@frozen(kw_only=True)
class PracticeWish:
    """What a student or teacher asks of a practice path.

    Args:
        minutes: a day, from 10 to 120.
        days: how many, from 1 to 60.
        ladder: steps of tempo from start to goal, 3 to 5.
        student: a name; "" for none.
        begin: the first day; None for days without dates.
        level: whose hands, if not those of the lesson's level: beginner, intermediate or advanced.
        known: other lessons that the student can play; what they ask for is not new.
    """

    minutes: int = 20
    days: int = 7
    ladder: int = 4
    student: str = ""
    begin: date | None = None
    level: str | None = None
    known: tuple[Reading, ...] = ()


@frozen(kw_only=True)
class PathPart:
    """What is practised in a step.

    Args:
        show: what it is, as the teacher's own steps say it; its tempos are those of `tempos`.
        hands: both, or the notes of the thumb alone, or of the fingers alone.
        where: the place in words: `Verse, bars 5 to 8`.
        doing: what to do with it, in a sentence.
        tempos: how fast; None for what is only looked at and held.
        ready: how one knows that it is learned, in a sentence.
        rest: whether it tires the hand, and is practised in short turns.
        asks: all it asks for, whether new or not.
    """

    show: Show
    hands: Hands = "both"
    where: str
    doing: str
    tempos: PracticeTempos | None = None
    ready: str
    rest: bool = False
    asks: tuple[NewThing, ...] = ()


@frozen(kw_only=True)
class PathStep:
    """A step of the path.

    Args:
        number: its place in the path, from 1.
        label: what every page calls it: the teacher's steps are counted, and one that is added behind the third
            is "3a"; where there are none of the teacher's, all are counted.
        title: as the teacher wrote it, or found. sentences: what to know and do.
        parts: what is shown and practised.
        new: what no earlier step has asked for.
        written: whether it is the teacher's own.
        minutes: in all sessions together; days: those on which it is practised.
    """

    number: int
    label: str
    title: str
    sentences: tuple[str, ...]
    parts: tuple[PathPart, ...]
    new: tuple[NewThing, ...] = ()
    written: bool = False
    minutes: int = 0
    days: tuple[int, ...] = ()

    @property
    def shows(self) -> tuple[Show, ...]:
        """What it shows, in order."""
        return tuple(part.show for part in self.parts)


@frozen(kw_only=True)
class ChangeDrill:
    """One of the two hardest changes, there and back for a minute: how many?

    `level` is 1 to 5 as in the report on hands; `breaks` the tempo in beats a minute from which on the song leaves
    no time for it, None where it is never in a hurry. `asks` is the change itself.
    """

    show: Show
    where: str
    doing: str
    level: int
    breaks: int | None = None
    rest: bool = False
    asks: tuple[NewThing, ...] = ()


@frozen(kw_only=True)
class SessionItem:
    """Something to do in a session.

    Args:
        kind: warming up, something new, something again, a drill, or the song.
        doing: the sentence that says what. where: the place in words.
        step: the number of its step; 0 for none. show, hands: what is practised, None for the warm-up.
        minutes: how long.
        start, goal: the tempos of this day in beats a minute; None where there is no beat.
        ready: how one knows that it is right, "" where that does not matter.
        rest: the hand rests afterwards.
    """

    kind: ItemKind
    doing: str
    where: str
    step: int
    minutes: int
    start: Fraction | None = None
    goal: Fraction | None = None
    ready: str = ""
    rest: bool = False
    show: Show | None = None
    hands: Hands = "both"


@frozen(kw_only=True)
class PracticeSession:
    """A run of minutes without a break, 25 at the most.

    Args:
        day: from 1. date: the day's date, if the path has one; date_words: the same in words.
        items: what is done, the warm-up first.
        pause: minutes of rest after it, 0 if it is the last of its day.
    """

    day: int
    date: date | None
    date_words: str
    items: tuple[SessionItem, ...]
    pause: int = 0

    @property
    def minutes(self) -> int:
        """How long it is, without the pause."""
        return sum(one.minutes for one in self.items)


@frozen(kw_only=True)
class PracticePath:
    """What a student does with a lesson, in which order, how fast, for how long.

    Args:
        title: the lesson's. student, begin, minutes, days: as they were asked for.
        level: whose hands the tempos are for. unit: the beat of all tempos, in quarter notes; unit_words says it.
        steps: the teacher's, or found. drills: for the two hardest changes.
        sessions: laid over the days. later: numbers of the steps that they have no time for.
        new: all that the lesson adds to what is known. cautions: what keeps practice from doing harm.
    """

    title: str
    student: str
    begin: date | None
    minutes: int
    days: int
    level: str
    unit: Fraction
    unit_words: str
    new: tuple[NewThing, ...]
    steps: tuple[PathStep, ...]
    drills: tuple[ChangeDrill, ...]
    sessions: tuple[PracticeSession, ...]
    later: tuple[int, ...]
    cautions: tuple[str, ...]
