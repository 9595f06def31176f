"""For which level a lesson is, and an easier one based on it."""

from __future__ import annotations

from pathlib import PurePath
from typing import TYPE_CHECKING

from attrs import evolve

from fretloom.api.arguments import text_given
from fretloom.api.checking import without_errors
from fretloom.api.reading import Examined, examine, with_text
from fretloom.api.soundness import new_findings
from fretloom.diagnostics import Diagnostic, LessonFaulty
from fretloom.errors import FretloomError
from fretloom.notation.model.lesson import Lesson
from fretloom.rule_facts import Severity
from fretloom.text import counted, listed

if TYPE_CHECKING:
    from fretloom.arranging.easing.eased import Eased
    from fretloom.arranging.easing.fits import Levels


def levels(lesson: Lesson | Examined) -> Levels:
    """Return for each level which voicings, changes and picking of a lesson are beyond it, and the tempo that helps.

    Figures are estimates, not a verdict on a person. What a faulty lesson leaves open is missing
    from it.
    """
    from fretloom.arranging.easing.fits import levels_of

    return levels_of(examine(lesson).timeline)


def ease(
    lesson: Lesson | Examined,
    *,
    level: str = "beginner",
    based_on: str | None = None,
    despite_findings: bool = False,
) -> Eased:
    """Return an easier lesson, `based on` this one, and what is different and heard otherwise in it.

    Shapes beyond the level get easier ones of the same chord, or of a near one; patterns get fewer
    plucks; the tempo is lowered as far as changes and strokes need. What cannot be easier is left,
    and listed. Bars and form stay.

    Args:
        lesson: one without errors.
        level: "beginner", "intermediate" or "advanced".
        based_on: the path of this lesson as the new one is to name it; without it the name of its
            file, so that the new one belongs in the same folder.
        despite_findings: also return a lesson with errors or warnings that neither this one has nor
            would have at that level.

    Raises:
        LessonFaulty: the lesson has errors, or the new one would have such findings (it carries them).
        FretloomError: there is no such level, or the lesson was not read from a file and `based_on`
            is not given.
    """
    from fretloom.arranging.easing.ease import ease as eased
    from fretloom.arranging.easing.levels import LEVELS

    if text_given("level", level) not in LEVELS:
        raise FretloomError(f"level is {listed(LEVELS, 'or')}, not {level!r:.40}")
    before = without_errors(lesson)
    path = _path_of(before, based_on)
    at_level = _at_level(before, level)
    title = _title(before.timeline.settings.title, level)

    def faults(new: Lesson) -> frozenset[str]:
        return frozenset(one.rule for one in new_findings(before, with_text(new)))

    found = eased(before.reading, level, path, title, faults)
    if found.lesson is None:
        return found
    new = with_text(found.lesson)
    worse = _worse(before, at_level, new, despite_findings)
    if worse:
        finds = counted(len(worse), "finding")
        raise LessonFaulty(
            f"the easier lesson would have {finds} that this one does not have", worse
        )
    return evolve(found, lesson=new)


def _worse(
    before: Examined, at_level: Examined, new: Lesson, despite_findings: bool
) -> tuple[Diagnostic, ...]:
    """Return errors of a new lesson, and warnings that neither the first one has nor would have at that level."""
    found = examine(new)
    known = {one.rule for one in new_findings(at_level, found.lesson)}
    worse = tuple(
        one
        for one in new_findings(before, found.lesson)
        if one.rule in known or one.severity is Severity.ERROR
    )
    return tuple(one for one in worse if one.music_undefined) if despite_findings else worse


def _at_level(before: Examined, level: str) -> Examined:
    """Return the first lesson as one for the new level."""
    from fretloom.notation.editing import with_setting
    from fretloom.notation.model.heading import Setting

    if before.lesson.heading is None:
        return before
    return examine(with_setting(before.lesson, Setting(name="level", value=level)))


def _path_of(before: Examined, based_on: str | None) -> str:
    """Return the path by which the new lesson is to name the first one."""
    from fretloom.notation.model.words import one_line

    if based_on is None:
        source = before.lesson.source
        name = PurePath(source.name).name if source else ""
        if not name.endswith(".lesson"):
            raise FretloomError(
                "the lesson was not read from a file: name the one it will be in, "
                'based_on="first.lesson"'
            )
        return name
    problem = one_line(text_given("based_on", based_on))
    if problem or not based_on.endswith(".lesson"):
        why = problem or 'a lesson file ends in ".lesson"'
        raise FretloomError(f"based_on is the path of a lesson file: {why}")
    return based_on


def _title(title: str, level: str) -> str:
    from fretloom.trade.phrases.table import say

    return say(f"ease.{level}", title=title) if title else say(f"ease.untitled-{level}")
