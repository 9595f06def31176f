"""How some bars of a section are played in one playing: another pattern, tempo or loudness."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Literal

from attrs import evolve

from fretloom.notation.model.form import (
    ChangeDynamic,
    ChangePattern,
    ChangeTempo,
    DynamicRun,
    TempoRun,
)
from fretloom.performance.expansion.faults import Faults
from fretloom.performance.expansion.form.paces import parts
from fretloom.performance.expansion.form.plan import Plan
from fretloom.performance.expansion.form.put_in import is_free
from fretloom.performance.expansion.form.slots import EvenChange, Slot
from fretloom.source import Span
from fretloom.trade.music.loudness import Dynamic
from fretloom.trade.music.tempo import Tempo
from fretloom.values import frozen

HowChange = ChangePattern | ChangeTempo | ChangeDynamic | TempoRun | DynamicRun


@frozen(eq=False)
class How:
    """How one bar is played in one playing, where that is not what the section says.

    `using` is a pattern ("": the section's), and `cycle` the bar's place in its run.
    """

    using: str = ""
    using_span: Span | None = None
    cycle: int = 0
    tempo: Tempo | None = None
    tempo_change: EvenChange | None = None
    dynamic: Dynamic | Literal[""] = ""
    swell: EvenChange | None = None


#: What each kind of change is about: two of one kind cannot be for the same bar.
_ABOUT: dict[type, str] = {
    ChangePattern: "using",
    ChangeTempo: "tempo",
    TempoRun: "tempo",
    ChangeDynamic: "dynamic",
    DynamicRun: "dynamic",
}
_Run = tuple[int, int]


class Hows:
    """Gathers the changes of one playing that are for some of its bars."""

    def __init__(self, plan: Plan, faults: Faults) -> None:
        self._plan = plan
        self._faults = faults
        self._runs: dict[str, list[tuple[_Run, HowChange]]] = {}

    def add(self, run: _Run, change: HowChange) -> None:
        """Take a change for the bars from one number to another; one for bars that have theirs is noted."""
        taken = self._runs.setdefault(_ABOUT[type(change)], [])
        if is_free(self._plan, run, [one for one, _ in taken], change, self._faults):
            taken.append((run, change))

    def by_bar(self) -> dict[int, How]:
        """Return how each bar is played that is not as the section says, by its index."""
        hows: dict[int, How] = {}
        for runs in self._runs.values():
            stays: dict[str, Any] = {}
            ordered = sorted(runs, key=lambda one: one[0])
            after = -1
            for (first, last), change in ordered:
                bars = [self._plan.numbered[number] for number in range(first, last + 1)]
                self._stay(hows, stays, after, bars[0].index)
                for slot, fields in zip(bars, _FIELDS[type(change)](change, bars), strict=True):
                    hows[slot.index] = evolve(hows.get(slot.index, How()), **fields)
                stays, after = _stays(change), bars[-1].index
            self._stay(hows, stays, after, len(self._plan.slots))
        return hows

    def _stay(self, hows: dict[int, How], fields: dict[str, Any], after: int, before: int) -> None:
        """Let the bars between two stay as an even change has left them."""
        for index in range(after + 1, before) if fields else ():
            hows[index] = evolve(hows.get(index, How()), **fields)


_Fields = list[dict[str, Any]]


def _patterns(change: ChangePattern, bars: Sequence[Slot]) -> _Fields:
    span = change.using_span or change.span
    return [
        {"using": change.using, "using_span": span, "cycle": cycle} for cycle in range(len(bars))
    ]


def _tempos(change: ChangeTempo, bars: Sequence[Slot]) -> _Fields:
    return [{"tempo": change.tempo}] * len(bars)


def _dynamics(change: ChangeDynamic, bars: Sequence[Slot]) -> _Fields:
    return [{"dynamic": change.dynamic}] * len(bars)


def _tempo_run(change: TempoRun, bars: Sequence[Slot]) -> _Fields:
    lengths = [slot.length for slot in bars]
    return [{"tempo_change": one} for one in parts(change.kind, change.tempo, lengths, change.span)]


def _dynamic_run(change: DynamicRun, bars: Sequence[Slot]) -> _Fields:
    lengths = [slot.length for slot in bars]
    return [{"swell": one} for one in parts(change.kind, change.dynamic, lengths, change.span)]


#: For each kind of change what it makes of the bars of its run.
_FIELDS: dict[type, Callable[[Any, Sequence[Slot]], _Fields]] = {
    ChangePattern: _patterns,
    ChangeTempo: _tempos,
    ChangeDynamic: _dynamics,
    TempoRun: _tempo_run,
    DynamicRun: _dynamic_run,
}


def _stays(change: HowChange) -> dict[str, Any]:
    """Return what stays so after a change, for the rest of the playing."""
    if isinstance(change, TempoRun):
        return {"tempo": change.tempo}
    return {"dynamic": change.dynamic} if isinstance(change, DynamicRun) else {}
