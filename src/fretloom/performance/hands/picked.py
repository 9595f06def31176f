"""The picking hand in a bar and on into the next one: what comes too fast or too crossed for its fingers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fretloom.performance.events import TimedBar, TimedNote
from fretloom.performance.playback.swinging import SwungBar
from fretloom.trade.playability.picking import PickingVerdict, Plucked, judge_picking

#: Found elsewhere, where the plucks are written or laid out.
_FOUND_ELSEWHERE = frozenset({"pick-two-strings", "pick-brush", "pick-same-string", "strum-gap"})
#: So many instants of the next bar are looked at with a bar.
_AHEAD = 2


def picked(
    bar: TimedBar,
    beat: float,
    after: TimedBar | None,
    later_beat: float,
    level: str,
    swing: tuple[int, int] | None,
) -> Iterator[PickingVerdict]:
    """Yield what is too fast or too crossed for a level among the plucks that begin in a bar.

    `beat` is a quarter note of the bar in seconds, `later_beat` one of the bar after it, if there is one; `swing`
    that of the lesson.
    """
    own = plucked(bar.notes, SwungBar(bar, swing), beat, 0.0)
    later: list[Plucked] = []
    if after is not None and after.notes:
        onsets = list(dict.fromkeys(note.onset for note in after.notes))[:_AHEAD]
        first = [note for note in after.notes if note.onset <= onsets[-1]]
        later = plucked(first, SwungBar(after, swing), later_beat, float(bar.length) * beat)
    judged = [
        one for one in judge_picking((*own, *later), level) if one.rule not in _FOUND_ELSEWHERE
    ]
    # Where the whole is too fast, each finger's own pace needs no word, unless it is worse.
    whole = {one.severity for one in judged if one.rule == "pick-rate-all"}
    for verdict in judged:
        begins = any(verdict.notes[0] is note for note in own)
        said = "error" in whole or verdict.severity in whole
        if begins and not (said and verdict.rule in ("pick-repeat", "pick-rate")):
            yield verdict


def plucked(
    notes: Sequence[TimedNote], swing: SwungBar, beat: float, start: float
) -> list[Plucked]:
    """Return notes of a bar as they are plucked, `start` seconds after its own start, a quarter note of `beat`."""
    return [
        Plucked(
            start + swing.beat(note.onset) * beat,
            note.finger,
            note.string,
            note.gesture,
            note.brush != 0,
            note.order or 0,
            note,
        )
        for note in notes
    ]
