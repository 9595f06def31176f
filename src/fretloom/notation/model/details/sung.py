"""The words of the song, under the bars at which they are sung."""

from __future__ import annotations

import re
from collections.abc import Iterable

from attrs import field

from fretloom.characters import nothing_hidden
from fretloom.notation.model.limits import Quoted, Times, WrittenCount
from fretloom.notation.model.margin import BARE, Margin
from fretloom.shapes import shaped
from fretloom.source import Span
from fretloom.values import frozen

#: A hyphen within a word divides its syllables in a lesson; there is no telling it from any other.
_DIVIDED = re.compile(r"(?<=\w)-+ ?(?=\w)")
_SYLLABLE = re.compile(r"[^\s-]+-*|-+")


def syllables(text: str) -> list[str]:
    """Return the syllables of a text: its words, and in a word what a hyphen divides, with the hyphen."""
    return _SYLLABLE.findall(text)


def as_written(texts: Iterable[str]) -> str:
    """Return what is sung in some bars as it is written in a book: syllables are not divided."""
    return _DIVIDED.sub("", " ".join(filter(None, map(nothing_hidden, texts))))


def _wrong_sung(sung: SungBar) -> str:
    found = len(syllables(sung.text))
    if sung.counts and len(sung.counts) != found:
        return f"counts: one for each of the {found} syllables, not {len(sung.counts)}"
    return ""


def _wrong_words(line: WordsLine) -> str:
    if not any(bar.text for bar in line.bars):
        return "bars: some bar has words"
    return ""


@shaped(also=_wrong_sung)
@frozen(kw_only=True)
class SungBar:
    """The words of one bar, "" for none; with `counts`, one for each syllable, where each is sung."""

    text: Quoted = ""
    counts: tuple[WrittenCount, ...] = ()
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_wrong_words)
@frozen(kw_only=True)
class WordsLine:
    """`words: "Lamps are lit" | "along the lane"`: the words of the line of bars above it.

    `verse` says which time the bars come that these are the words of, from 1; None for every time
    that has no words of its own.
    """

    verse: Times | None = None
    bars: tuple[SungBar, ...]
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)
