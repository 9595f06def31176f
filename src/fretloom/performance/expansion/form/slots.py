"""Written bars, one by one: a section's bars with `x2` written out and `%` filled in."""

from __future__ import annotations

from fractions import Fraction

from attrs import evolve

from fretloom.notation.model.section import Bar, With, Without
from fretloom.trade.music.meter import Meter
from fretloom.trade.music.tempo import Tempo


class Slot:
    """One written bar.

    Args:
        bar: what is written, `%` and `same` filled in from the bar they stand for.
        number: 1-based within the section, 0 for a pickup; index: 0-based, pickups included.
        start, length: which part of a full bar it is, in quarter notes.
        kind: "full", "pickup" or "last".
        tempo: the tempo that the section set by then, None if it set none.
        cycle: place in the cycle of the section's pattern; run: in the run of its own `using`.
        cue: words at this bar (a bar played twice has them the first time).
        inherited: how many of the bar's patches a `%` or `same` took from the bar it stands for.
        where: what to call it in a message.
        placed: whether the section has it; False for one that a `but` put in.
    """

    __slots__ = (
        "bar",
        "cue",
        "cycle",
        "index",
        "inherited",
        "kind",
        "length",
        "meter",
        "number",
        "placed",
        "run",
        "start",
        "tempo",
        "where",
    )

    def __init__(self, bar: Bar, meter: Meter, where: str) -> None:
        self.bar = bar
        self.meter = meter
        self.where = where
        self.number = self.index = self.cycle = self.run = 0
        self.start = Fraction(0)
        self.length = meter.length
        self.kind = "full"
        self.tempo: Tempo | None = None
        self.cue = bar.cue
        self.placed = True
        self.inherited = 0

    def like(self, bar: Bar, where: str) -> Slot:
        """Return a slot for another bar at the same place of the section."""
        slot = Slot(bar, self.meter, where)
        slot.number, slot.index, slot.cycle = self.number, self.index, self.cycle
        slot.tempo = self.tempo
        slot.placed = False
        return slot

    def shaped(self, other: Slot) -> Slot:
        """Take another slot's length, as an incomplete last bar is replaced by another."""
        self.start, self.length, self.kind = other.start, other.length, other.kind
        return self


def filled_in(bar: Bar, model: Bar, keep_cue: bool) -> Bar:
    """Return a `%` or `same` bar with what it leaves unsaid taken from the bar it stands for.

    `%` takes neither cue nor `early` (`keep_cue` False), `same` takes both. What was added to or
    left out of a pattern goes with it: a bar with a pattern of its own takes none of that.
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


def count_runs(slots: list[Slot]) -> None:
    """Number the bars in each run of one `using`; pickups do not count."""
    using, run = "", 0
    for slot in slots:
        own = slot.bar.using
        if slot.kind == "pickup":
            continue
        run = run + 1 if own and own == using else 0
        slot.run, using = run, own
