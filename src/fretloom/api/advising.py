"""What a lesson's voicings sound, what the hands have to do, and what would be easier.

The answers are values; the functions called `..._as_text` and `..._as_json` put them into words and
into JSON.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from fretloom.api.checking import without_errors
from fretloom.api.reading import Examined, examine
from fretloom.notation.model.lesson import Lesson

if TYPE_CHECKING:
    from fretloom.arranging.find_capos import CapoChoice
    from fretloom.arranging.find_voicings import FoundVoicing
    from fretloom.performance.hands.hardest import Hands
    from fretloom.performance.sounding.names import Sounds


def sounds(lesson: Lesson | Examined) -> Sounds:
    """Return what every voicing of the lesson sounds: notes, degrees, names, and the key of it all."""
    from fretloom.performance.sounding.names import sounds_of

    return sounds_of(examine(lesson).timeline)


def sounds_as_text(lesson: Lesson | Examined) -> str:
    """Return what the voicings sound and where the capo could be, for a reader."""
    from fretloom.arranging.capo_places import capo_places
    from fretloom.report.advice.sounds_text import as_text

    found = examine(lesson)
    return as_text(sounds(found), capo_places(found.timeline))


def sounds_as_json(lesson: Lesson | Examined) -> str:
    """Return the same facts as `sounds_as_text` as JSON."""
    from fretloom.arranging.capo_places import capo_places
    from fretloom.report.advice.sounds_json import as_json

    found = examine(lesson)
    return as_json(sounds(found), capo_places(found.timeline))


def hands(lesson: Lesson | Examined) -> Hands:
    """Return voicings and changes from hard to easy, and why."""
    from fretloom.performance.hands.hardest import hands as run

    return run(examine(lesson).timeline)


def hands_as_text(found: Hands) -> str:
    """Return the answer of `hands` for a reader, as a teacher would put it."""
    from fretloom.report.advice.hands_text import as_text

    return as_text(found)


def hands_as_json(found: Hands) -> str:
    """Return the answer of `hands` as JSON; millimetres and seconds are rounded to a hundredth."""
    from fretloom.report.advice.hands_json import as_json

    return as_json(found)


def suggest_voicings(
    chord: str,
    lesson: Lesson | Examined | None = None,
    *,
    sounding: tuple[int, ...] = (),
    thumb: bool = False,
    limit: int = 8,
) -> tuple[FoundVoicing, ...]:
    """Return playable voicings of a chord, best first.

    Args:
        chord: its symbol, as the hand thinks of it (without a full capo).
        lesson: the lesson whose tuning, capo, instrument, hand and picking fingers are taken;
            without it, those of a guitar.
        sounding: strings that have to sound.
        thumb: whether the thumb may fret over the neck.
        limit: how many at most.

    Raises:
        SymbolError: the chord symbol cannot be read.
    """
    from fretloom.arranging.find_voicings import find_voicings
    from fretloom.performance.settings import picking_plan

    reading = examine(lesson or Lesson()).reading
    settings = reading.timeline.settings
    plan = picking_plan(reading.material, settings.tuning)
    return find_voicings(
        chord, settings, plan=plan, needed=frozenset(sounding), thumb=thumb, limit=limit
    )


def voicings_as_text(chord: str, found: Sequence[FoundVoicing]) -> str:
    """Return suggested voicings as lines for the `voicings` block of a lesson."""
    from fretloom.report.advice.suggestions import voicings_text

    return voicings_text(chord, found)


def voicings_as_json(chord: str, found: Sequence[FoundVoicing]) -> str:
    """Return suggested voicings as JSON."""
    from fretloom.report.advice.suggestions import voicings_json

    return voicings_json(chord, found)


def suggest_capos(
    lesson: Lesson | Examined, *, sounds: str | None = None
) -> tuple[CapoChoice, ...]:
    """Return capos and shapes that give the sounding key, easiest first.

    Args:
        lesson: one without errors that says its key.
        sounds: the key to reach; without it the lesson sounds as before.

    Raises:
        LessonFaulty: the lesson has errors.
        FretloomError: the lesson does not say its key, is based on another, or has a partial capo.
    """
    from fretloom.arranging.find_capos import find_capos
    from fretloom.trade.music.key import parse_key

    return find_capos(without_errors(lesson).reading, parse_key(sounds) if sounds else None)


def capos_as_text(choices: Sequence[CapoChoice]) -> str:
    """Return suggested capos for a reader, easiest first."""
    from fretloom.report.advice.suggestions import capos_text

    return capos_text(choices)


def capos_as_json(choices: Sequence[CapoChoice]) -> str:
    """Return suggested capos as JSON."""
    from fretloom.report.advice.suggestions import capos_json

    return capos_json(choices)
