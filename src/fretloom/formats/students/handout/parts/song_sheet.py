"""The song sheet: chords over the words, bar by bar, for those who know how it is played."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import TYPE_CHECKING

from fretloom.formats.students.handout.templating import filled
from fretloom.formats.students.telling.road import RoadBlock, chords_of
from fretloom.notation.model.details.sung import as_written
from fretloom.performance.events import PlayedBar
from fretloom.performance.reading import Reading
from fretloom.performance.showing.shape_names import signed_names
from fretloom.values import frozen

if TYPE_CHECKING:
    from markupsafe import Markup


@frozen
class WordsBar:
    """A bar of the song sheet: its chords and what is sung over them."""

    chords: tuple[str, ...]
    words: str


@frozen
class SungSection:
    """A section as it is played; without bars it is as before, `size` says how long."""

    title: str
    size: str
    hints: tuple[str, ...]
    bars: tuple[WordsBar, ...]


def words_part(reading: Reading, road: Sequence[RoadBlock]) -> Markup:
    """Return the song with chords over words; a section without new words or chords is only named."""
    playings = [
        tuple(group)
        for _, group in groupby(reading.timeline.bars, lambda one: (one.entry, one.playing))
    ]
    names = signed_names(reading.timeline)
    sections, at = [], 0
    for block in road:
        sections.append(_section(block, playings[at], names))
        at += block.times
    return filled("words.html", sections=sections)


def _section(block: RoadBlock, bars: Sequence[PlayedBar], names: Mapping[str, str]) -> SungSection:
    sung = any(one.sung is not None for one in bars)
    as_before = all(cell.as_before for cell in block.cells)
    shown = () if as_before and not sung else tuple(_bar(one, names) for one in bars)
    return SungSection(block.title, block.size, block.hints, shown)


def _bar(played: PlayedBar, names: Mapping[str, str]) -> WordsBar:
    words = as_written([played.sung.text]) if played.sung is not None else ""
    return WordsBar(tuple(name for name, _ in chords_of(played.bar, names)), words)
