"""The whole lesson in words, as Markdown, as plain text, or to be heard."""

from __future__ import annotations

from collections.abc import Iterator
from typing import cast

from fretloom.formats.shape import Output, file_name
from fretloom.formats.students.prose.blocks import ProseBlock
from fretloom.formats.students.prose.markdown import markdown
from fretloom.formats.students.prose.plain import linear, plain
from fretloom.formats.students.telling.listener import FingersBy, StringsBy, listener_of
from fretloom.formats.students.words.left_out import left_out
from fretloom.formats.students.words.options import WordsOptions
from fretloom.formats.students.words.parts import (
    changes,
    ending,
    head,
    patterns,
    road,
    shapes,
    steps,
)
from fretloom.formats.students.words.song import song
from fretloom.formats.students.words.teller import Teller
from fretloom.performance.reading import Reading

_ENDINGS = {"markdown": ".words.md", "plain": ".words.txt", "spoken": ".spoken.txt"}
_WRITERS = {"markdown": markdown, "plain": plain, "spoken": linear}


def write(reading: Reading, options: WordsOptions) -> tuple[Output, ...]:
    """Put a lesson into words."""
    teller = Teller(
        reading,
        listener_of(
            reading.timeline.settings,
            strings=cast(StringsBy, options.strings),
            fingers=cast(FingersBy, options.finger_words),
            mirrored=options.mirrored,
        ),
        spoken=options.wording == "spoken",
    )
    text = _WRITERS[options.wording](blocks(teller))
    name = file_name(reading.lesson, _ENDINGS[options.wording])
    return (Output(name, text, left_out(reading)),)


def blocks(teller: Teller) -> Iterator[ProseBlock]:
    """Yield all that a lesson says, in the order in which a student needs it."""
    for part in (head, road, shapes, patterns, changes, steps, song, ending):
        yield from part(teller)
