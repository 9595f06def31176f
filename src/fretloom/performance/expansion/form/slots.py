"""Written bars, one by one: a section's bars with `x2` written out and `%` filled in."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import count

from attrs import evolve

from fretloom.notation.model.section import Bar, With, Without
from fretloom.trade.music.meter import Meter
from fretloom.trade.music.tempo import Tempo
from fretloom.values import frozen

#: Numbers that tell written bars apart; equal bars at different places have different ones.
next_written = count().__next__


@frozen(eq=False, kw_only=True)
class Slot:
    """One written bar.

    Args:
        bar: what is written, `%` and `same` filled in from the bar they stand for.
        written: a number that bars written as one (`x2`) share, and no other bar has.
        number: 1-based within the section, 0 for a pickup; index: 0-based, pickups included.
        start, length: which part of a full bar it is, in quarter notes.
        kind: "full", "pickup" or "last".
        tempo: the tempo that the section has set by then, None if it has not.
        cycle: place in the cycle of the section's pattern; run: in the run of its own `using`.
        cue: words at this bar (a bar played twice has them the first time).
        inherited: how many of the bar's patches a `%` or `same` took from the bar it stands for.
        where: what messages call it.
        placed: whether the section has it; False for one that a `but` put in.
    """

    bar: Bar
    written: int
    meter: Meter
    where: str
    number: int = 0
    index: int = 0
    start: Fraction = Fraction(0)
    length: Fraction
    kind: str = "full"
    tempo: Tempo | None = None
    cycle: int = 0
    run: int = 0
    cue: str = ""
    inherited: int = 0
    placed: bool = True


def filled_in(bar: Bar, model: Bar, keep_cue: bool) -> Bar:
    """Return a `%` or `same` bar with the rest taken from the bar it stands for.

    `%` takes neither cue nor `early` (`keep_cue` False), `same` takes both. What was added to or
    left out of a pattern goes with it: a bar with a pattern of its own does not take them.
    """
    if model.kind == "unread":
        return evolve(model, times=bar.times, span=bar.span)
    own_pattern = bool(bar.using) or bar.beats is not None
    return evolve(
        bar,
        kind=model.kind,
        parts=bar.parts or model.parts,
        cue=bar.cue or (model.cue if keep_cue else ""),
        using=bar.using if own_pattern else model.using,
        using_span=bar.using_span if own_pattern else model.using_span,
        beats=bar.beats if own_pattern else model.beats,
        patches=_patches(bar, model, own_pattern),
        early=bar.early or (model.early if keep_cue else None),
        release=bar.release or model.release,
        release_span=bar.release_span or model.release_span,
        stop=bar.stop or model.stop,
        stop_span=bar.stop_span or model.stop_span,
    )


def _patches(bar: Bar, model: Bar, own_pattern: bool) -> tuple[With | Without, ...]:
    """Return the patches taken over, then the bar's own; equal ones are one."""
    if own_pattern or not model.patches:
        return bar.patches
    if not bar.patches:
        return model.patches
    return tuple(one for one in model.patches if one not in bar.patches) + bar.patches


def with_runs(slots: Sequence[Slot]) -> list[Slot]:
    """Number the bars in each run of one `using`; pickups do not count."""
    using, run = "", 0
    numbered: list[Slot] = []
    for slot in slots:
        own = slot.bar.using
        if slot.kind != "pickup":
            run = run + 1 if own and own == using else 0
            using = own
        numbered.append(evolve(slot, run=run) if run and slot.kind != "pickup" else slot)
    return numbered
