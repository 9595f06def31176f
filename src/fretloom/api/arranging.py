"""Lessons in another key, or with another capo."""

from __future__ import annotations

from typing import TYPE_CHECKING

from attrs import evolve

from fretloom.api.advising import suggest_capos
from fretloom.api.arguments import key_named, whole_number
from fretloom.api.checking import without_errors
from fretloom.api.reading import Examined, examine, naming_of, with_text
from fretloom.api.soundness import need_sound
from fretloom.diagnostics import LessonFaulty
from fretloom.errors import FretloomError
from fretloom.notation.model.lesson import Lesson

if TYPE_CHECKING:
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
