"""What a score says about speed and loudness at each bar: only where something changes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from fretloom.performance.events import PlayedBar
from fretloom.trade.music.loudness import Dynamic
from fretloom.trade.music.tempo import Tempo
from fretloom.values import frozen

#: The words for a tempo that changes evenly.
CHANGES = ("rit.", "accel.")


@frozen(kw_only=True)
class BarPace:
    """What stands at a bar.

    Args:
        back: whether the section's own tempo comes back. tempo: a tempo that is shown. heard: one that
            is only heard, in the course of a ritardando or accelerando. words: behind the tempo.
        line, line_ends: whether dashes begin there, or end with the bar, that show how long the tempo
            changes.
        dynamic: a degree of loudness at the start. swell: "crescendo" or "diminuendo" if one begins
            there. swell_ends: whether one ends with the bar. dynamic_after: a degree at its end.
    """

    back: bool = False
    tempo: Tempo | None = None
    words: tuple[str, ...] = ()
    heard: Tempo | None = None
    line: bool = False
    line_ends: bool = False
    dynamic: Dynamic | Literal[""] = ""
    swell: Literal["", "crescendo", "diminuendo"] = ""
    swell_ends: bool = False
    dynamic_after: Dynamic | Literal[""] = ""


def paces(bars: Sequence[PlayedBar]) -> Iterator[BarPace]:
    """Yield what stands at each bar of a performance."""
    before: PlayedBar | None = None
    #: The tempo with which the section's playing began.
    own: Tempo | None = None
    for place, played in enumerate(bars):
        after = bars[place + 1] if place + 1 < len(bars) else None
        if before is None or played.first:
            own = played.tempo
        goes_on = changes_on(before, played)
        further = changes_on(played, after)
        tempo = None if goes_on else _shown(played, before)
        yield BarPace(
            back=bool(tempo) and before is not None and _back(before, played, own),
            tempo=tempo,
            words=() if goes_on else tuple(_words(played, before)),
            heard=played.tempo if goes_on else None,
            line=further and not goes_on,
            line_ends=goes_on and not further,
            dynamic=_dynamic(played, before),
            swell="" if swells_on(before, played) else played.manner.swell,
            swell_ends=bool(played.manner.swell) and not swells_on(played, after),
            dynamic_after=_dynamic_after(played, after),
        )
        before = played


def _back(before: PlayedBar, played: PlayedBar, own: Tempo | None) -> bool:
    """Whether a tempo is one that comes back: after free time, or that of the section."""
    in_time = before.manner.free and not played.manner.free
    return in_time or (not played.first and played.tempo == own)


def _shown(played: PlayedBar, before: PlayedBar | None) -> Tempo | None:
    """Return the tempo of a bar if it is not the one that is in force."""
    if before is None or (before.manner.free and not played.manner.free):
        return played.tempo
    changed = before.manner.tempo_to is not None or before.tempo != played.tempo
    return played.tempo if changed else None


def _words(played: PlayedBar, before: PlayedBar | None) -> Iterator[str]:
    if played.manner.free and (before is None or not before.manner.free):
        yield "free time"
    changing = _changes(played)
    if changing:
        yield changing
    loud = before is not None and (before.manner.dynamic_to or before.manner.dynamic)
    if loud and not played.manner.dynamic:
        yield "loudness as before"


def changes_on(played: PlayedBar | None, after: PlayedBar | None) -> bool:
    """Whether the tempo goes on changing from one bar to the next."""
    if played is None or after is None or after.first:
        return False
    changing = _changes(played)
    return bool(changing) and changing == _changes(after) and played.manner.tempo_to == after.tempo


def _changes(played: PlayedBar) -> Literal["", "rit.", "accel."]:
    """Return how the tempo changes in the course of a bar."""
    change = played.manner.tempo_change
    return "" if not change else "rit." if change == "ritardando" else "accel."


def _dynamic(played: PlayedBar, before: PlayedBar | None) -> Dynamic | Literal[""]:
    if before is None or (before.manner.swell and not swells_on(before, played)):
        return played.manner.dynamic
    return played.manner.dynamic if before.manner.dynamic != played.manner.dynamic else ""


def _dynamic_after(played: PlayedBar, after: PlayedBar | None) -> Dynamic | Literal[""]:
    """Return the degree that a swell ends with, unless the next bar says it."""
    said = after is not None and after.manner.dynamic == played.manner.dynamic_to
    return "" if said else played.manner.dynamic_to


def all_paces(times: Sequence[BarPace]) -> BarPace:
    """Return what stands at a measure that is several bars: what stands at any of them."""
    if len(times) == 1:
        return times[0]
    tempo = next((one.tempo for one in times if one.tempo is not None), None)
    heard = next((one.heard for one in times if one.heard is not None), None)
    return BarPace(
        back=any(one.back for one in times),
        tempo=tempo,
        words=tuple(dict.fromkeys(words for one in times for words in one.words)),
        heard=heard if tempo is None else None,
        line=any(one.line for one in times),
        line_ends=any(one.line_ends for one in times),
        dynamic=next((one.dynamic for one in times if one.dynamic), ""),
        swell=next((one.swell for one in times if one.swell), ""),
        swell_ends=any(one.swell_ends for one in times),
        dynamic_after=next((one.dynamic_after for one in times if one.dynamic_after), ""),
    )


def swells_on(played: PlayedBar | None, after: PlayedBar | None) -> bool:
    """Whether a crescendo or diminuendo of one bar goes on in the next."""
    if played is None or after is None or after.first or played.manner.dynamic_to:
        return False
    return bool(played.manner.swell) and played.manner.swell == after.manner.swell
