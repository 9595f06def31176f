"""Written bars, one by one: a section's bars with `x2` written out and `%` filled in."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import count
from typing import Literal

from fretloom.notation.model.section import Bar, ShortBar, With, Without
from fretloom.performance.manner import Sung
from fretloom.source import Span
from fretloom.trade.music.loudness import Dynamic
from fretloom.trade.music.meter import Meter
from fretloom.trade.music.tempo import Tempo
from fretloom.values import evolve, frozen

#: Numbers that tell written bars apart; equal bars at different places have different ones.
next_written = count().__next__


@frozen(eq=False)
class EvenChange:
    """The part of an even change that falls into one bar: from `begins` to `ends` of it, 0 to 1.

    `to` is what it leads to, `kind` the word for it; it began from what was in force before it.
    """

    kind: str
    to: Tempo | Dynamic
    begins: Fraction
    ends: Fraction
    span: Span | None


@frozen(eq=False, kw_only=True)
class AskedPace:
    """How fast and how loud a bar is to be played, as far as lines have said it by then.

    Where a change goes on in the bar, `tempo` and `dynamic` are those from which it began.
    """

    tempo: Tempo | None = None
    tempo_change: EvenChange | None = None
    free: bool = False
    dynamic: Dynamic | Literal[""] = ""
    swell: EvenChange | None = None


@frozen(eq=False, kw_only=True)
class Slot:
    """One written bar.

    Args:
        bar: what is written, `%` and `same` filled in from the bar they stand for.
        written: a number that bars written as one (`x2`) share, and no other bar has.
        number: 1-based within the section, 0 for a pickup; index: 0-based, pickups included.
        start, length: which part of a full bar it is, in quarter notes.
        kind: "full", "pickup" or "last".
        cycle: place in the cycle of the section's pattern; run: in the run of its own `using`.
        cue: words at this bar (a bar played twice has them the first time).
        inherited: how many of the bar's patches a `%` or `same` took from the bar it stands for.
        where: what messages call it.
        placed: whether the section has it; False for one that a `but` put in.
        using: the pattern that a line of the section has set by then, "" if none has.
        pace: how loud and fast the section wants it. sung: its words, by the time they are for.
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
    cycle: int = 0
    run: int = 0
    cue: str = ""
    inherited: int = 0
    placed: bool = True
    using: str = ""
    using_span: Span | None = None
    pace: AskedPace = AskedPace()
    sung: tuple[Sung, ...] = ()


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
        fermata=bar.fermata or (model.fermata if keep_cue else None),
        fermata_span=bar.fermata_span or model.fermata_span,
    )


def _patches(bar: Bar, model: Bar, own_pattern: bool) -> tuple[With | Without, ...]:
    """Return the patches taken over, then the bar's own; equal ones are one."""
    if own_pattern or not model.patches:
        return bar.patches
    if not bar.patches:
        return model.patches
    return tuple(one for one in model.patches if one not in bar.patches) + bar.patches


def end_of_last(line: ShortBar, meter: Meter) -> Fraction | None:
    """Return where a last bar ends that goes up to a count or to before one."""
    if line.before is not None:
        return meter.position(line.before)
    return None if line.through is None else meter.end_of(line.through)


def where_in(number: int, section: str) -> str:
    """Return what messages call a bar; 0 is a pickup."""
    return f"bar {number} of {section}" if number else f"the pickup of {section}"


def waiting_last(bar: Bar, written: int, time: int) -> tuple[Bar, int]:
    """Return a bar as it is played the `time`-th time of several in a row, and its number.

    The beat waits in the last of them.
    """
    if bar.fermata is None or time + 1 == bar.times:
        return bar, written if bar.fermata is None or bar.times == 1 else next_written()
    return evolve(bar, fermata=None), written


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
