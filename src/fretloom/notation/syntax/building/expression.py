"""Lines of a section that say how loud and how fast, and what is sung, to the model."""

from __future__ import annotations

from typing import Any, Literal, cast

from fretloom.limits import LIMITS
from fretloom.notation.model.details.expression import (
    BackToTempo,
    DynamicChange,
    DynamicRamp,
    FreeTime,
    TempoChange,
    TempoRamp,
)
from fretloom.notation.model.details.sung import SungBar, WordsLine, syllables
from fretloom.notation.model.margin import Margin
from fretloom.notation.syntax.building.bars import read_count
from fretloom.notation.syntax.building.heading import read_tempo
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.parsing.tree import Token, Tree, text_of, whole
from fretloom.notation.syntax.reader import Reader, token_span, tree_span
from fretloom.text import counted
from fretloom.trade.music.loudness import Dynamic


def _tempo(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> TempoChange | None:
    tempo = read_tempo(reader, line, children)
    return None if tempo is None else TempoChange(tempo=tempo, margin=margin, span=line.span())


def speed_ramp(token: Token) -> Literal["ritardando", "accelerando"]:
    """Return which way a word for slowing or quickening goes."""
    return "accelerando" if token.text.startswith("acc") else "ritardando"


def swell(token: Token) -> Literal["crescendo", "diminuendo"]:
    """Return which way a word for growing or falling goes."""
    return "crescendo" if token.text.startswith("cresc") else "diminuendo"


def _tempo_ramp(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> object:
    tempo = read_tempo(reader, line, children[1:-1])
    bars = _bars(reader, line, children[-1])
    if tempo is None or bars is None:
        return None
    kind = speed_ramp(children[0])
    return TempoRamp(kind=kind, tempo=tempo, bars=bars, margin=margin, span=line.span())


def _bars(reader: Reader, line: Line, token: Token) -> int | None:
    bars = whole(token)
    if bars and bars <= LIMITS.bars_written:
        return bars
    message = f"this goes over a whole number of bars, 1 to {LIMITS.bars_written}"
    reader.fault("bad-count", token_span(line, token), message, "write over 2 bars")
    return None


def _a_tempo(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> BackToTempo:
    return BackToTempo(margin=margin, span=line.span())


def _free_time(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> FreeTime:
    return FreeTime(margin=margin, span=line.span())


def dynamic_of(token: Token) -> Dynamic:
    """Return the degree of loudness that a token names."""
    return cast("Dynamic", token.text)


def _dynamic(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> DynamicChange:
    return DynamicChange(dynamic=dynamic_of(children[0]), margin=margin, span=line.span())


def _dynamic_ramp(
    reader: Reader, line: Line, margin: Margin, children: list[Any]
) -> DynamicRamp | None:
    bars = _bars(reader, line, children[-1])
    if bars is None:
        return None
    kind, dynamic = swell(children[0]), dynamic_of(children[1])
    return DynamicRamp(kind=kind, dynamic=dynamic, bars=bars, margin=margin, span=line.span())


def read_verse(reader: Reader, line: Line, token: Token) -> int | None:
    """Read which time words are for; None after noting a fault."""
    verse = whole(token)
    if verse:
        return verse
    message = "words are numbered by the time they are sung, from 1"
    reader.fault(
        "bad-count", token_span(line, token), message, "write words 2: for the second time"
    )
    return None


def _words(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> WordsLine | None:
    before = reader.count
    verse = None
    if isinstance(children[0], Token):
        verse = read_verse(reader, line, children[0])
        children = children[1:]
    bars = tuple(_sung(reader, line, tree) for tree in children)
    if reader.count == before and not any(bar.text for bar in bars):
        message = "this line has no words"
        hint = 'write the words of each bar in quotes: words: "Lamps are lit" | -'
        reader.fault("not-understood", line.span(), message, hint)
    if reader.count > before:
        return None
    return WordsLine(verse=verse, bars=bars, margin=margin, span=line.span())


def _sung(reader: Reader, line: Line, tree: Tree) -> SungBar:
    """Read the words of one bar."""
    if not tree.children or tree.token(0).kind != "STRING":
        return SungBar()
    text, tokens = text_of(tree.token(0)), list(tree.tokens())[1:]
    span = tree_span(line, tree)
    counts = tuple(count for token in tokens if (count := read_count(reader, line, token)))
    sung = syllables(text)
    if tokens and len(tokens) != len(sung):
        message = f"{counted(len(tokens), 'count')} for {counted(len(sung), 'syllable')}: "
        message += " ".join(sung) or "there are no words"
        hint = 'give each syllable its count; a hyphen divides a word: "a-long the lane" on 1 2 3 4'
        reader.fault("bad-count", span, message, hint)
    return SungBar(text=text, counts=counts, span=span)


EXPRESSION_READERS: dict[str, Any] = {
    "tempo": _tempo,
    "tempo_ramp": _tempo_ramp,
    "a_tempo": _a_tempo,
    "free_time": _free_time,
    "dynamic": _dynamic,
    "dynamic_ramp": _dynamic_ramp,
    "words": _words,
}
