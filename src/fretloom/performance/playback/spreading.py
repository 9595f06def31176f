"""What stands together on paper and takes a little time: rolls, brushes, courses, grace notes.

The first string of a roll or a brush is on the beat, and the others follow: so the thumb keeps the time.
"""

from __future__ import annotations

from fractions import Fraction

from fretloom.performance.events import TimedNote

#: Seconds from one string of a roll to the next, and of a brush (assumptions: 15 to 30 ms are usual).
ROLL, BRUSH = Fraction(25, 1000), Fraction(15, 1000)
#: Both end within this share of the room that the pluck has.
MOST = Fraction(1, 3)
#: Seconds between the two strings of a course (from memory: 8 to 14 ms).
COURSE = Fraction(10, 1000)


def after_the_first(note: TimedNote, last: int, quarter: Fraction) -> Fraction:
    """Return how long after the first of its roll or brush a note is struck, in quarter notes.

    `last` is the place of the last note of that gesture, `quarter` the length of a quarter note in seconds.
    """
    if note.order is None or not note.order:
        return Fraction(0)
    if note.technique.slow:
        return note.length * note.order / (last + 1)
    step = (BRUSH if note.brush else ROLL) / quarter
    return note.order * min(step, note.length * MOST / last)


def grace_steps(note: TimedNote) -> tuple[Fraction, tuple[Fraction, ...]]:
    """Return how far a pluck is moved from its onset, and when its slurs come after that onset, in quarter notes.

    Without grace notes the slurs come when they are written.
    """
    technique, count = note.technique, len(note.slurs)
    if not technique.grace:
        return Fraction(0), tuple(slurred.onset - note.onset for slurred in note.slurs)
    step = technique.grace_length
    first = -step * count if technique.grace == "before" else Fraction(0)
    return first, tuple(first + step * place for place in range(1, count + 1))


def mate_first(note: TimedNote) -> bool:
    """Whether the second string of a course is struck first: by the thumb, which comes from its side."""
    return note.finger == "p"
