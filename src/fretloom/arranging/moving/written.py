"""Voicings as lines of a lesson, and put into one."""

from __future__ import annotations

from collections.abc import Iterable
from typing import cast

from attrs import evolve

from fretloom.notation.editing import with_voicing
from fretloom.notation.model.lesson import Lesson, VoicingBlock
from fretloom.notation.model.margin import BARE
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.trade.guitar.voicing import FrettingFinger, Voicing


def written(voicing: Voicing, entry: VoicingEntry | None = None) -> VoicingEntry:
    """Return a voicing as a line says it, with the comments of the line that it stands for.

    Fingers and bass order are written where a teacher gave them.
    """
    return VoicingEntry(
        name=voicing.name,
        frets=voicing.frets,
        fingers=cast("tuple[FrettingFinger | None, ...]", voicing.fingers)
        if voicing.fingers_given
        else (),
        bass=voicing.bass if voicing.bass_given else (),
        hops=voicing.hops,
        margin=entry.margin if entry else BARE,
    )


def with_suggested(lesson: Lesson, voicing: Voicing) -> Lesson:
    """Return a lesson with a voicing in place of the one of that name, or beside its others."""
    return with_voicing(lesson, written(_given(voicing)))


def suggested_file(voicings: Iterable[Voicing]) -> Lesson:
    """Return a file of voicings of one chord; those after the first have a number as their tag."""
    lines = tuple(
        written(evolve(_given(one), name=one.name if number == 1 else f"{one.name}.shape-{number}"))
        for number, one in enumerate(voicings, 1)
    )
    return Lesson(blocks=(VoicingBlock(lines=lines),))


def _given(voicing: Voicing) -> Voicing:
    """Return a voicing whose fingers and bass order are to be written."""
    held = any(voicing.frets)
    return evolve(voicing, fingers_given=held, bass_given=True)
