"""The ground of a bar: strings as thick as they are low, bar lines, and the letters before a line."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from fretloom.engraving.drawn.drawing import DrawnLine, Letters, Mark
from fretloom.engraving.drawn.neck import string_widths
from fretloom.engraving.drawn.signs import MIDDLE
from fretloom.engraving.drawn.tab.levels import Levels
from fretloom.engraving.drawn.tab.values import LETTERS_WIDTH, SMALL
from fretloom.performance.events import Settings
from fretloom.trade.guitar.tuning import Tuning
from fretloom.trade.harmony.note_names import write_note
from fretloom.trade.wording import with_signs

#: Strings are thinner here than in diagrams, as they lie closer.
_THINNER = 0.72
_BAR_LINE, _END_LINE = 0.3, 1.0
#: The two strings of a course lie so far apart.
_COURSE = 0.62
_STRING_NAME = 2.6


def strings(tuning: Tuning, levels: Levels, width: float) -> Iterator[Mark]:
    """Draw the strings; a course has two."""
    thick = string_widths(tuning)
    for place, line in enumerate(thick):
        string = tuning.strings - place
        y = levels.string(string)
        second = tuning.doubles[place] if tuning.doubles else None
        if second is None:
            yield _line(y, width, _THINNER * line)
            continue
        octave = second.midi != tuning.pitches[place].midi
        both = (0.8 * line, 0.8 * (min(thick) if octave else line))
        for side, one in zip((1, -1), both, strict=True):
            yield _line(y + side * _COURSE / 2, width, _THINNER * one)


def _line(y: float, width: float, thick: float) -> DrawnLine:
    return DrawnLine(points=((0.0, y), (width, y)), width=thick, ink="line")


def bar_lines(
    levels: Levels, width: float, closes: Literal["", "section", "song"]
) -> Iterator[Mark]:
    """Draw the lines at both ends: a second one closes a section, a heavy one the song."""
    for x in (0.0, width):
        yield _upright(x, levels, _BAR_LINE)
    if closes == "section":
        yield _upright(width - 1.0, levels, _BAR_LINE)
    elif closes == "song":
        yield _upright(width - _END_LINE / 2, levels, _END_LINE)


def _upright(x: float, levels: Levels, thick: float) -> DrawnLine:
    return DrawnLine(points=((x, levels.top), (x, levels.bottom)), width=thick, ink="ink")


def string_letters(settings: Settings, levels: Levels, label: str) -> Iterator[Mark]:
    """Write the names of the open strings, and over them a bar's number."""
    middle = LETTERS_WIDTH / 2
    for place, pitch in enumerate(settings.tuning.pitches):
        y = levels.string(settings.tuning.strings - place) + MIDDLE * _STRING_NAME
        text = with_signs(write_note(pitch.name, settings.names))
        yield Letters(at=(middle, y), text=text, size=_STRING_NAME, ink="soft")
    if label:
        yield Letters(at=(middle, levels.top - 2.4), text=label, size=SMALL, ink="soft")
