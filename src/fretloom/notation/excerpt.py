"""A part of a lesson: the bars of one section alone, as a lesson of its own."""

from __future__ import annotations

from fretloom.notation.editing import with_form
from fretloom.notation.model.form import Form, FormEntry, KeepBars
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.step import Step
from fretloom.values import evolve


def excerpt(lesson: Lesson, section: str, bars: tuple[int, int] | None = None) -> Lesson:
    """Return the lesson with a form that plays one section, or some bars of it, once; steps are left out.

    Args:
        lesson: any lesson.
        section: the name of a section; a check of the result says so if there is none.
        bars: the first and the last bar, from 1 on as a player counts in the section; None for all.

    Raises:
        ModelError: the name could not be one, or the bars are none.
    """
    buts = () if bars is None else (KeepBars(first=bars[0], last=bars[1]),)
    form = Form(entries=(FormEntry(section=section, buts=buts),))
    played = with_form(lesson, form)
    kept = tuple(block for block in played.blocks if not isinstance(block, Step))
    return evolve(played, blocks=kept)
