"""Easier picking for the patterns and bars of a lesson that are beyond a level."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from attrs import evolve

from fretloom.arranging.easing.eased import PickingEased
from fretloom.arranging.easing.fewer_plucks import FewerPlucks, with_fewer_plucks
from fretloom.arranging.easing.fits import LevelFit, PickingBeyond
from fretloom.arranging.easing.levels import Reach
from fretloom.arranging.moving.contexts import Written, written_at
from fretloom.notation.model.pattern import Pattern, PatternBar
from fretloom.notation.model.section import Bar
from fretloom.notation.model.walking.walk import every
from fretloom.notation.syntax.writing.words import beats
from fretloom.performance.events import TimedBar
from fretloom.performance.place_words import bar_words
from fretloom.performance.playback.clock import beats_of
from fretloom.performance.reading import Reading
from fretloom.values import frozen

#: A tempo is rather lowered to this share of itself than plucks are removed that are only too fast.
_RATHER_SLOWER = 0.75


@frozen
class EasierPicking:
    """A pattern, or the beats of a bar written out at a place, with fewer plucks, and what is said of it."""

    told: PickingEased
    pattern: Pattern | None = None
    place: Written | None = None
    beats: PatternBar | None = None


@frozen
class _Played:
    """Where a pattern or a bar written out is played fastest: the bar, its name, a quarter note in seconds."""

    bar: TimedBar
    words: str
    beat: float


def easier_picking(
    reading: Reading, fit: LevelFit, reach: Reach, share: float
) -> Iterator[EasierPicking]:
    """Yield easier forms of the picking that is beyond a level.

    `share` is that of the tempo at which the song will be played at most. What a tempo of three
    quarters of it mends keeps its plucks.
    """
    beyond = [one for one in fit.picking if _asks_for_fewer(one, share)]
    mended = [one.share for one in fit.picking if one.share >= _RATHER_SLOWER * share]
    share = min([share, *mended])
    patterns = {one.pattern: one for one in beyond if one.pattern}
    fastest, places = _fastest(reading)
    for name, one in patterns.items():
        written = reading.material.patterns.get(name)
        if written is not None and name in fastest:
            yield from _eased_pattern(written, fastest[name], one, reach, share)
    bars = {one.bar: one for one in beyond if not one.pattern}
    for where, beats_written in _written_out(reading):
        there = places.get(where)
        if there is not None and there.words in bars:
            yield from _eased_bar(where, beats_written, there, bars[there.words], reach, share)


def _asks_for_fewer(one: PickingBeyond, share: float) -> bool:
    return "between" in one.reasons or one.share < _RATHER_SLOWER * share


def _fastest(reading: Reading) -> tuple[Mapping[str, _Played], Mapping[Written, _Played]]:
    """Return where each pattern is played fastest, and each bar that is written out."""
    patterns: dict[str, _Played] = {}
    places: dict[Written, _Played] = {}
    timeline = reading.timeline
    for played, beat in zip(timeline.bars, beats_of(timeline.bars), strict=True):
        here = _Played(played.bar, bar_words(played), beat)
        where = written_at(played.bar.span)
        if played.bar.pattern:
            known = patterns.get(played.bar.pattern)
            if known is None or beat < known.beat:
                patterns[played.bar.pattern] = here
        elif where is not None:
            first = places.setdefault(where, here)
            if beat < first.beat:
                places[where] = evolve(first, beat=beat)
    return patterns, places


def _eased_pattern(
    pattern: Pattern, there: _Played, beyond: PickingBeyond, reach: Reach, share: float
) -> Iterator[EasierPicking]:
    meter = pattern.meter or there.bar.meter
    eased = [with_fewer_plucks(bar, meter, there.beat / share, reach) for bar in pattern.bars]
    if any(one.changed for one in eased):
        new = evolve(pattern, bars=tuple(one.beats for one in eased))
        before, after = _text(pattern.bars), _text(new.bars)
        yield EasierPicking(_told(beyond, before, after, eased), pattern=new)


def _eased_bar(
    where: Written,
    written: PatternBar,
    there: _Played,
    beyond: PickingBeyond,
    reach: Reach,
    share: float,
) -> Iterator[EasierPicking]:
    if there.bar.kind != "full":
        return
    eased = with_fewer_plucks(written, there.bar.meter, there.beat / share, reach)
    if eased.changed:
        before, after = _text((written,)), _text((eased.beats,))
        told = _told(beyond, before, after, [eased])
        yield EasierPicking(told, place=where, beats=eased.beats)


def _told(beyond: PickingBeyond, before: str, after: str, eased: list[FewerPlucks]) -> PickingEased:
    dropped = dict.fromkeys(count for one in eased for count in one.dropped)
    thumb = dict.fromkeys(count for one in eased for count in one.thumb)
    return PickingEased(
        pattern=beyond.pattern,
        bar=beyond.bar,
        before=before,
        after=after,
        dropped=tuple(dropped),
        thumb=tuple(thumb),
        lost=tuple(part for one in eased for part in one.lost),
        load=beyond.load,
    )


def _written_out(reading: Reading) -> Iterator[tuple[Written, PatternBar]]:
    """Yield the bars whose picking is written out in them, with their places."""
    material = reading.material
    for block in (*material.sections.values(), material.form):
        for _, bar in every(block, Bar) if block is not None else ():
            where = written_at(bar.span)
            if bar.beats is not None and where is not None:
                yield where, bar.beats


def _text(bars: tuple[PatternBar, ...]) -> str:
    return " | ".join(map(beats, bars))
