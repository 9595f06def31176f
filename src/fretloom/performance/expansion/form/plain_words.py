"""What is different in a playing, as a teacher says it to a student."""

from __future__ import annotations

from fretloom.notation.model.form import (
    LAST,
    But,
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
from fretloom.notation.syntax.writing.statements import bars_named
from fretloom.text import ordinal
from fretloom.trade.music.loudness import loudness_words
from fretloom.trade.music.tempo import in_notes

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
