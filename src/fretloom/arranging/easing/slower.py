"""A lesson's own tempos, and those of its steps, taken slower with the song."""

from __future__ import annotations

from fractions import Fraction
from math import floor
from typing import Any, TypeVar

from attrs import evolve

from fretloom.notation.model.details.expression import TempoChange, TempoRamp
from fretloom.notation.model.form import ChangeTempo, Form, FormEntry, TempoRun
from fretloom.notation.model.limits import TEMPOS
from fretloom.notation.model.section import Section
from fretloom.notation.model.step import Show, Step
from fretloom.trade.music.tempo import Tempo

_Block = TypeVar("_Block")
_WITH_TEMPO = (TempoChange, TempoRamp, ChangeTempo, TempoRun)


def slowed_section(section: Section, share: Fraction) -> Section:
    """Return a section whose own tempos are a share of what they were."""
    return _with(section, "lines", tuple(_slowed(line, share) for line in section.lines))


def slowed_form(form: Form, share: Fraction) -> Form:
    """Return a form whose tempos are a share of what they were."""
    entries = tuple(
        _with(entry, "buts", tuple(_slowed(but, share) for but in entry.buts))
        if isinstance(entry, FormEntry)
        else entry
        for entry in form.entries
    )
    return _with(form, "entries", entries)


def slowed_step(step: Step, most: Fraction) -> Step:
    """Return a step that shows nothing faster than `most` quarter notes a minute."""
    lines = tuple(_shown(line, most) if isinstance(line, Show) else line for line in step.lines)
    return _with(step, "lines", lines)


def _shown(show: Show, most: Fraction) -> Show:
    fastest = show.goal or show.start
    if fastest is None or fastest <= most:
        return show
    goal = most if show.goal is not None else None
    start = show.start
    if start is not None and start >= most:
        # A ladder keeps its steepness; what has one tempo is shown at the song's own.
        start = _figure(most * start / fastest) if goal is not None else most
    return evolve(show, start=start, goal=goal)


def _slowed(line: Any, share: Fraction) -> Any:
    if not isinstance(line, _WITH_TEMPO):
        return line
    return evolve(line, tempo=Tempo(_figure(line.tempo.per_minute * share), line.tempo.unit))


def _figure(value: Fraction) -> Fraction:
    return Fraction(max(TEMPOS[0], floor(value)))


def _with(node: _Block, name: str, lines: tuple[Any, ...]) -> _Block:
    """Return a block with other lines, the same one if they are the same."""
    same = all(one is other for one, other in zip(lines, getattr(node, name), strict=True))
    return node if same else evolve(node, **{name: lines})  # type: ignore[misc]
