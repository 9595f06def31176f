"""How fast and how loud the bars of a section are to be played, while its lines are read."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from attrs import evolve

from fretloom.notation.model.details.expression import (
    BackToTempo,
    DynamicChange,
    DynamicRamp,
    FreeTime,
    TempoChange,
    TempoRamp,
)
from fretloom.performance.expansion.form.slots import AskedPace, EvenChange, Slot
from fretloom.source import Span
from fretloom.trade.music.loudness import Dynamic
from fretloom.trade.music.tempo import Tempo

Expression = TempoChange | TempoRamp | BackToTempo | FreeTime | DynamicChange | DynamicRamp


class Pacing:
    """What is in force while the lines of a section are read, and the changes that are under way.

    `cut` are the changes that did not get as many bars as they ask for, with how many they got.
    """

    def __init__(self) -> None:
        self._now = AskedPace()
        #: For each kind of change the line that asks for it, and the indices of its bars so far.
        self._open: dict[type, tuple[TempoRamp | DynamicRamp, list[int]]] = {}
        self._done: list[tuple[TempoRamp | DynamicRamp, list[int]]] = []

    @property
    def now(self) -> AskedPace:
        """What the next bar begins with."""
        return self._now

    def line(self, line: Expression) -> None:
        """Take a line that says how loud or how fast."""
        if isinstance(line, DynamicChange | DynamicRamp):
            self._close(DynamicRamp)
        else:
            self._close(TempoRamp)
        match line:
            case TempoChange():
                self._now = evolve(self._now, tempo=line.tempo, free=False)
            case BackToTempo():
                self._now = evolve(self._now, tempo=None, free=False)
            case FreeTime():
                self._now = evolve(self._now, free=True)
            case DynamicChange():
                self._now = evolve(self._now, dynamic=line.dynamic)
            case TempoRamp() | DynamicRamp():
                self._open[type(line)] = (line, [])

    def bar(self, index: int) -> None:
        """Take a bar: changes under way go on in it, and end with it when it is their last."""
        for kind, (line, bars) in list(self._open.items()):
            bars.append(index)
            if len(bars) == line.bars:
                self._close(kind)

    def _close(self, kind: type) -> None:
        if kind not in self._open:
            return
        line, bars = self._open.pop(kind)
        self._done.append((line, bars))
        if isinstance(line, TempoRamp):
            self._now = evolve(self._now, tempo=line.tempo)
        else:
            self._now = evolve(self._now, dynamic=line.dynamic)

    def cut(self) -> list[tuple[TempoRamp | DynamicRamp, int]]:
        """End what is under way; return the changes that got fewer bars than they ask for."""
        for kind in list(self._open):
            self._close(kind)
        return [(line, len(bars)) for line, bars in self._done if len(bars) < line.bars]

    def applied(self, slots: Sequence[Slot]) -> list[Slot]:
        """Return the bars with their parts of the changes."""
        paced = list(slots)
        for line, bars in self._done:
            to = line.tempo if isinstance(line, TempoRamp) else line.dynamic
            lengths = [paced[index].length for index in bars]
            for index, part in zip(bars, parts(line.kind, to, lengths, line.span), strict=True):
                pace = paced[index].pace
                slow = isinstance(line, TempoRamp)
                pace = evolve(pace, tempo_change=part) if slow else evolve(pace, swell=part)
                paced[index] = evolve(paced[index], pace=pace)
        return paced


def parts(
    kind: str, to: Tempo | Dynamic, lengths: Sequence[Fraction], span: Span | None
) -> list[EvenChange]:
    """Return the parts of an even change over bars of some lengths."""
    total, at = sum(lengths, Fraction(0)), Fraction(0)
    found: list[EvenChange] = []
    for length in lengths:
        found.append(EvenChange(kind, to, at / total, (at + length) / total, span))
        at += length
    return found
