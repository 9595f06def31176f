"""What is asked of a bar beyond its notes: how loud, how fast, in which meter, where that changes."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.formats.students.telling.head import tempo_fact
from fretloom.performance.events import PlayedBar, Timeline
from fretloom.trade.phrases.table import say


def asked(
    before: PlayedBar | None, played: PlayedBar, timeline: Timeline | None = None
) -> Iterator[str]:
    """Yield what is new in a bar against the one before; at the start, against the head of the lesson."""
    yield from _meter(before, played, timeline)
    yield from _loudness(before, played)
    yield from _pace(before, played, timeline)


def _meter(before: PlayedBar | None, played: PlayedBar, timeline: Timeline | None) -> Iterator[str]:
    usual = timeline.settings.meter if timeline is not None else played.bar.meter
    meter = played.bar.meter
    if meter != (before.bar.meter if before is not None else usual):
        yield say("words.meter", beats=meter.count_total, meter=meter)
    if played.bar.length != meter.length and played.bar.kind != "pickup":
        yield say("words.short-bar")


def _loudness(before: PlayedBar | None, played: PlayedBar) -> Iterator[str]:
    now, then = played.manner, before.manner if before is not None else None
    if now.swell:
        if then is None or then.swell != now.swell:
            yield say(f"words.{now.swell}")
    elif now.dynamic and (then is None or then.dynamic != now.dynamic or then.swell):
        yield say(f"words.loud-{now.dynamic}")


def _pace(before: PlayedBar | None, played: PlayedBar, timeline: Timeline | None) -> Iterator[str]:
    now, then = played.manner, before.manner if before is not None else None
    if now.free != (then.free if then is not None else False):
        yield say("words.free" if now.free else "words.steady")
    if now.tempo_change:
        if then is None or then.tempo_change != now.tempo_change:
            change = say(f"words.{now.tempo_change}")
            goal = _goal(played, timeline)
            yield say("words.to-tempo", change=change, tempo=goal) if goal else change
        return
    usual = timeline.settings.tempo if timeline is not None else played.tempo
    if then is not None and before is not None:
        usual = then.tempo_to or before.tempo
    if played.tempo != usual and not now.free:
        yield say("words.at-tempo", tempo=tempo_fact(played.tempo).spoken)


def _goal(played: PlayedBar, timeline: Timeline | None) -> str:
    """Say the tempo that a change of tempo ends at, "" if that is not said."""
    if timeline is None:
        return ""
    for one in timeline.bars[played.index - 1 :]:
        if one.manner.tempo_change != played.manner.tempo_change:
            return ""
        following = timeline.bars[one.index] if one.index < len(timeline.bars) else None
        ends = following is None or following.manner.tempo_change != one.manner.tempo_change
        if ends:
            goal = one.manner.tempo_to
            return tempo_fact(goal).spoken if goal is not None else ""
    return ""
