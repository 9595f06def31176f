"""Rules about the picking hand at the lesson's tempo, on what is really played."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.diagnostics import Diagnostic
from fretloom.performance.events import PlayedBar, TimedNote
from fretloom.performance.hands.picked import picked
from fretloom.performance.place_words import bar_words
from fretloom.performance.playback.clock import beats_of
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.text import told_apart
from fretloom.trade.playability.picking import PickingVerdict
from fretloom.trade.wording import fingers_words, strings_words

#: What is said of a run of plucks as a whole, whichever fingers it is.
_PACE = frozenset({"pick-rate", "pick-rate-all"})
#: What depends on the player's level.
_PACED = _PACE | {"pick-repeat"}


def picking(reading: Reading) -> Iterator[Diagnostic]:
    """Find plucks that come too fast or too crossed for the fingers that are to play them."""
    if not reading.sound:
        return
    done: set[tuple[int, int | None, float, float]] = set()
    said: set[tuple[object, ...]] = set()
    settings = reading.timeline.settings
    bars, beats = reading.timeline.bars, beats_of(reading.timeline.bars)
    following: list[PlayedBar | None] = [*bars[1:], None]
    for played, beat, after, later in zip(bars, beats, following, [*beats[1:], 0.0], strict=False):
        key = (played.bar.serial, after.bar.serial if after else None, beat, later)
        if key in done:
            continue
        done.add(key)
        for verdict in picked(
            played.bar,
            beat,
            after.bar if after else None,
            later,
            settings.level,
            settings.swing,
        ):
            found = _finding(verdict, played, settings.level)
            mark = _mark(verdict, played)
            if found is not None and mark not in said:
                said.add(mark)
                yield found


def _mark(verdict: PickingVerdict, played: PlayedBar) -> tuple[object, ...]:
    """Return what findings share that are one to the teacher: a fault of some fingers in a pattern."""
    where = played.bar.pattern or (verdict.notes[0].key.pluck_span)  # type: ignore[attr-defined]
    if verdict.rule in _PACE:
        return (verdict.rule, where)
    fingers = tuple(note.finger for note in verdict.notes)
    return (verdict.rule, fingers, verdict.severity, where)


def _finding(verdict: PickingVerdict, played: PlayedBar, level: str) -> Diagnostic | None:
    note = verdict.notes[0].key
    assert isinstance(note, TimedNote)
    span = note.pluck_span or note.bar_span
    if span is None:
        return None
    message, hint = _said(verdict, played)
    if verdict.rule in _PACED and verdict.severity == "warning":
        message += f" ({level})"
    return Diagnostic(
        rule=verdict.rule,
        severity=Severity(verdict.severity),
        message=f"{bar_words(played)}: {message}",
        span=span,
        hint=hint,
    )


def _said(verdict: PickingVerdict, played: PlayedBar) -> tuple[str, str]:
    one, other = verdict.notes[0], verdict.notes[-1]
    fingers = fingers_words([one.finger, other.finger])
    strings = strings_words([one.string, other.string])
    value, limit = told_apart(
        verdict.value, verdict.limit, 3 if verdict.rule == "pick-rate-all" else 2
    )
    slower = ""
    if verdict.value and verdict.limit > verdict.value:
        slower = str(int(float(played.tempo.per_minute) * verdict.value / verdict.limit))
    match verdict.rule:
        case "pick-repeat":
            message = f"finger {one.finger} plucks twice within {value} s; it needs {limit} s"
            hint = f"give one of the two to another finger, or slow down to {slower} or less"
        case "pick-rate":
            message = (
                f"{fingers_words([one.finger, verdict.notes[1].finger])} take turns every "
                f"{value} s; two fingers need {limit} s"
            )
            hint = f"share the notes among three fingers, or slow down to {slower} or less"
        case "pick-rate-all":
            message = (
                f"plucks come every {value} s; fingers need at least {limit} s from one to the next"
            )
            hint = f"write a roll in ( ), or slow down to {slower} or less"
        case "pick-crossed":
            message = (
                f"{one.finger} plucks string {one.string} and {other.finger} string "
                f"{other.string}: the fingers cross"
            )
            hint = "let i, m and a keep their order from the lower strings to string 1"
        case "thumb-above":
            message = (
                f"the thumb plucks string {one.string}, above {other.finger} on {other.string}"
            )
            hint = "let the thumb take the lower of the two strings"
        case _:
            message = f"{fingers} pluck {strings}, which are far apart"
            hint = "let a neighbouring finger take one of them"
    return message, hint
