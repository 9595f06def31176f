"""Lessons in another key, with another capo, or easier; and for which level one is."""

from __future__ import annotations

from pathlib import PurePath
from typing import TYPE_CHECKING

from attrs import evolve

from fretloom.api.advising import suggest_capos
from fretloom.api.arguments import key_named, text_given, whole_number
from fretloom.api.checking import without_errors
from fretloom.api.reading import Examined, examine, naming_of, with_text
from fretloom.api.soundness import need_sound, new_findings
from fretloom.diagnostics import Diagnostic, LessonFaulty
from fretloom.errors import FretloomError
from fretloom.notation.model.lesson import Lesson
from fretloom.rule_facts import Severity
from fretloom.text import counted, listed

if TYPE_CHECKING:
    from fretloom.arranging.easing.eased import Eased
    from fretloom.arranging.easing.fits import LevelFits
    from fretloom.arranging.find_voicings import FoundVoicings
    from fretloom.arranging.new_key import Transposed


def transpose(
    lesson: Lesson | Examined,
    *,
    plays: str | None = None,
    capo: int | None = None,
    despite_findings: bool = False,
) -> Transposed:
    """Return the lesson in another key, and remarks on what to look at.

    Args:
        lesson: one without errors.
        plays: the key whose shapes the hand is to play, such as "G" or "Am"; without `capo` the
            lesson sounds as before.
        capo: the fret of the capo, 0 for none; without `plays` the shapes stay the same and it
            sounds in another key.
        despite_findings: also return a lesson with errors or warnings that this one does not have.

    Raises:
        LessonFaulty: the lesson has errors, or the new one would have errors or warnings that this
            one does not have (it carries them).
        FretloomError: neither was given, the capo does not fit on the neck, or the lesson does not
            say its key.
        SymbolError: `plays` is not a key.
    """
    from fretloom.arranging.new_key import with_capo, with_shapes_of

    key = key_named("plays", plays, naming_of(lesson))
    fret = whole_number("capo", capo, least=0)
    if key is None and fret is None:
        raise FretloomError("say what to change: plays, capo, or both")
    before = without_errors(lesson)
    reading = before.reading
    if key is None:
        return _sound(before, with_capo(reading, fret or 0), despite_findings)
    refused: LessonFaulty | None = None
    # A bass order, a pluck or a hop that moved may be the one that no hand can play there.
    for plucks, thumb_only in ((True, False), (True, True), (False, True)):
        moved = with_shapes_of(reading, key, fret, plucks=plucks, thumb_only=thumb_only)
        try:
            return _sound(before, moved, despite_findings)
        except LessonFaulty as error:
            refused = refused or error
    assert refused is not None
    raise refused


def _sound(before: Examined, moved: Transposed, despite_findings: bool) -> Transposed:
    """Return a lesson that was moved with its text, if it is found fault with no more than before."""
    new = with_text(moved.lesson)
    need_sound(before, new, despite_findings)
    return evolve(moved, lesson=new)


def with_easiest_capo(
    lesson: Lesson | Examined,
    *,
    sounds: str | None = None,
    capo: int | None = None,
    open_only: bool = False,
    highest: int | None = None,
    despite_findings: bool = False,
) -> Lesson:
    """Return the lesson with the easiest capo and its shapes, or with the one named.

    `open_only` and `highest` are those of `suggest_capos`. A capo whose lesson would have findings
    that this one does not have is passed over, if none is named.

    Raises:
        LessonFaulty: as `transpose`.
        FretloomError: there are no such shapes.
    """
    before = examine(lesson)
    refused: LessonFaulty | None = None
    found = suggest_capos(before, sounds=sounds, open_only=open_only, highest=highest)
    for choice in found.choices:
        if capo not in (None, choice.capo):
            continue
        try:
            need_sound(before, choice.lesson, despite_findings)
        except LessonFaulty as error:
            refused = refused or error
        else:
            return choice.lesson
    if refused is not None:
        raise refused
    where = "" if capo is None else f" for a capo at fret {capo}"
    raise FretloomError(f"no shapes were found{where}")


def with_suggestion(
    found: FoundVoicings,
    lesson: Lesson | Examined | None = None,
    *,
    number: int | None = None,
    despite_findings: bool = False,
) -> Lesson:
    """Return the lesson with a voicing that was suggested, in place of its own of that name.

    Args:
        found: what `suggest_voicings` returned.
        lesson: without it the voicings become a file of voicings, each under a name of its own.
        number: which of them, from 1; without it the first, and without a lesson all.
        despite_findings: as in `transpose`.

    Raises:
        LessonFaulty: the lesson has errors, or the new one would have errors or warnings that this
            one does not have.
        FretloomError: there is no such suggestion.
    """
    from fretloom.arranging.moving.written import suggested_file, with_suggested

    which = whole_number("number", number, least=1)
    if not found.voicings or (which or 1) > len(found.voicings):
        are = len(found.voicings)
        raise FretloomError(
            f"there is no suggestion {which or 1} for {found.chord}: there are {are}"
        )
    if lesson is None:
        chosen = found.voicings if which is None else found.voicings[which - 1 : which]
        return suggested_file(one.voicing for one in chosen)
    before = without_errors(lesson)
    voicing = found.voicings[(which or 1) - 1].voicing
    new = with_text(with_suggested(before.lesson, voicing))
    # Whoever asks for a voicing has a use for it.
    need_sound(before, new, despite_findings, expected=("unused-voicing",))
    return new


def levels(lesson: Lesson | Examined) -> LevelFits:
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
        lesson: one without errors, save such as a slower tempo mends: it is what easing is for.
        level: "beginner", "intermediate" or "advanced".
        based_on: the path of this lesson as the new one is to name it; without it the name of its
            file, so that the new one belongs in the same folder.
        despite_findings: also return a lesson with errors or warnings that neither this one has nor
            would have at that level. That a change or a stroke stays too fast does not count: it is
            listed as still beyond the level.

    Raises:
        LessonFaulty: the lesson has other errors, or the new one would have such findings (it carries them).
        FretloomError: there is no such level, or the lesson was not read from a file and `based_on`
            is not given.
    """
    from fretloom.arranging.easing.ease import ease as eased
    from fretloom.arranging.easing.levels import LEVELS

    if text_given("level", level) not in LEVELS:
        raise FretloomError(f"level is {listed(LEVELS, 'or')}, not {level!r:.40}")
    before = _but_for_tempo(lesson)
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


def _but_for_tempo(lesson: Lesson | Examined) -> Examined:
    """Return an examined lesson without errors, or with such only as a slower tempo mends."""
    from fretloom.arranging.easing.ease import MENDED

    found = examine(lesson)
    errors = {one.rule for one in found.findings if one.severity is Severity.ERROR}
    return found if errors <= MENDED else without_errors(found)


def _worse(
    before: Examined, at_level: Examined, new: Lesson, despite_findings: bool
) -> tuple[Diagnostic, ...]:
    """Return errors of a new lesson, and warnings that neither the first one has nor would have at that level."""
    from fretloom.arranging.easing.ease import MENDED

    found = examine(new)
    known = {one.rule for one in new_findings(at_level, found.lesson)}
    worse = tuple(
        one
        for one in new_findings(before, found.lesson)
        if one.rule not in MENDED and (one.rule in known or one.severity is Severity.ERROR)
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
