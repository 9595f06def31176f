"""What is different in a playing, as a teacher says it to a student."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import evolve

from fretloom.notation.model.form import (
    LAST,
    But,
    ChangeBars,
    ChangeDynamic,
    ChangePattern,
    ChangeTempo,
    ChangeWords,
    DropBars,
    DynamicRun,
    KeepBars,
    TempoRun,
    WithoutRepeats,
)
from fretloom.notation.model.section import Bar
from fretloom.notation.syntax.writing.statements import bars_named
from fretloom.performance.expansion.form.plan import Plan
from fretloom.text import listed, ordinal, times
from fretloom.trade.music.loudness import loudness_words
from fretloom.trade.music.tempo import in_notes

#: So many bars are compared with what is put in for them; of more nobody wants to read.
_MOST_COMPARED = 32
_GROWING = {"crescendo": "growing louder", "diminuendo": "growing softer"}
_CHANGING = {"ritardando": "slowing down", "accelerando": "getting faster"}


def in_plain_words(but: But) -> str:
    """Say a difference, to follow the section's name and "but"; "" for bars that are put in."""
    match but:
        case DropBars():
            return f"without {_place(but.first, but.last)}"
        case KeepBars():
            return f"only {_place(but.first, but.last)}"
        case WithoutRepeats():
            return "without repeats"
        case ChangeWords():
            return f"with the words of the {ordinal(but.verse)} time"
        case ChangePattern():
            return f"{_run(but)}with the pattern {but.using}"
        case ChangeTempo():
            return f"{_run(but)}at tempo {in_notes(but.tempo)}"
        case ChangeDynamic():
            return f"{_run(but)}{loudness_words(but.dynamic)}"
        case TempoRun():
            over = _place(but.first, but.last)
            return f"{_CHANGING[but.kind]} to {in_notes(but.tempo)} over {over}"
        case DynamicRun():
            over = _place(but.first, but.last)
            return f"{_GROWING[but.kind]} over {over}, to {loudness_words(but.dynamic)}"
    return ""


def in_place_words(but: ChangeBars, plan: Plan) -> str:
    """Say which bars are put in where: "the last bar twice", "C, then G in place of bar 3"."""
    old, where = _replaced(but, plan), _place(but.first, but.last)
    played = sum(bar.times for bar in but.bars)
    chords = [(_chords(bar), bar.times) for bar in but.bars]
    if all(bar.kind == "unread" for bar in but.bars):
        return f"others in place of {where}"
    if len(old) == 1 and all(_is_it(bar, old[0]) for bar in but.bars):
        return f"{where} {times(played)}"
    if played == len(old) < _MOST_COMPARED and all(
        bar.kind == "written" or _chords(bar) == _chords(its)
        for bar, its in zip(_each(but.bars), old, strict=True)
    ):
        return f"{where} picked in another way"
    what = listed([_so_often(*one) for one in _joined(chords)], "and then")
    if but.open_end:
        return f"{what} {where}"
    return f"{what} {'in' if played == len(old) < _MOST_COMPARED else 'in place of'} {where}"


def _replaced(but: ChangeBars, plan: Plan) -> list[Bar]:
    """Return the bars of the section that others are put in for, the first of many."""
    first, last = (plan.counted + 1 + one if one < 0 else one for one in (but.first, but.last))
    last = min(last, first + _MOST_COMPARED - 1)
    return [plan.numbered[one].bar for one in range(first, last + 1) if one in plan.numbered]


def _each(bars: Sequence[Bar]) -> Iterator[Bar]:
    for bar in bars:
        yield from (bar,) * bar.times


def _is_it(bar: Bar, old: Bar) -> bool:
    """Whether a bar is put in that is the one it is put in for."""
    if bar.kind == "written":
        return bar == Bar(kind="written", times=bar.times)
    return evolve(bar, times=1, cue="") == evolve(old, times=1, cue="")


def _chords(bar: Bar) -> str:
    """Say what is held in a bar; "" if it is what a bar before or the section has."""
    if bar.kind == "rest":
        return "a bar of rest"
    return " with ".join(dict.fromkeys(part.voicing for part in bar.parts))


def _joined(chords: Sequence[tuple[str, int]]) -> list[tuple[str, int]]:
    """Put bars together that have the same chords one after the other."""
    found: list[tuple[str, int]] = []
    for words, often in chords:
        if found and words in ("", found[-1][0]):
            found[-1] = (found[-1][0], found[-1][1] + often)
        else:
            found.append((words or "the bar as it is", often))
    return found


def _so_often(words: str, often: int) -> str:
    return words if often == 1 else f"{words} {times(often)}"


def _run(but: ChangePattern | ChangeTempo | ChangeDynamic) -> str:
    if but.first is None or but.last is None:
        return ""
    return _place(but.first, but.last) + " "


def _place(first: int, last: int) -> str:
    """Say a run of bars as a lesson writes it, in a sentence."""
    named = bars_named(first, last)
    if first < 0:
        return f"the {named}"
    return f"{named} on" if last == LAST else named
