"""Fewer plucks in a bar: those between the counts go, the thumb's counts and what names a fret stay."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from attrs import evolve

from fretloom.arranging.easing.levels import Reach
from fretloom.arranging.easing.load import Load, PluckedAt, load, too_close, too_much
from fretloom.notation.model.details.technique import PLAIN
from fretloom.notation.model.pattern import (
    Beat,
    Brush,
    Group,
    Hold,
    Item,
    PatternBar,
    Pluck,
    Roll,
    Slap,
    Stroke,
)
from fretloom.notation.syntax.writing.words import played
from fretloom.trade.music.meter import Count, Meter
from fretloom.values import frozen

_THUMB = "p"
#: Where an item stands: its beat, its place there, and so on in the groups inside.
_Path = tuple[int, ...]


@frozen(kw_only=True)
class FewerPlucks:
    """The beats of a bar with fewer plucks, and what was removed.

    Args:
        beats: of the bar now.
        dropped: the counts on which nothing is plucked any more, between the counts of the beat.
        thumb: the counts on which the thumb no longer plucks.
        lost: plucks that named a fret, or had more asked of them, as they are written.
    """

    beats: PatternBar
    dropped: tuple[Count, ...] = ()
    thumb: tuple[Count, ...] = ()
    lost: tuple[str, ...] = ()

    @property
    def changed(self) -> bool:
        """Whether anything was removed."""
        return bool(self.dropped or self.thumb)


@frozen
class _WrittenStroke:
    """A written stroke: its place in the bar in quarter notes, and where it is written."""

    at: Fraction
    path: _Path
    stroke: Stroke

    @property
    def instant(self) -> PluckedAt | None:
        """Who plucks; None where nobody does."""
        who = {_is_thumb(one) for one in _plucked(self.stroke)}
        return PluckedAt(self.at, True in who, False in who) if who else None


def with_fewer_plucks(bar: PatternBar, meter: Meter, beat: float, reach: Reach) -> FewerPlucks:
    """Return a bar's beats with as few plucks removed as a level asks for, `beat` seconds a quarter note.

    Between the counts the smallest shares go first, and of those the last in the bar, so that the
    hand has more time for the change that follows. What names a fret, is accented or has a
    technique goes only if it is too quick. If there is still too much between the counts, the thumb
    walks at half its pace. Bars of other beats than the meter's stay as they are.
    """
    if len(bar.beats) != len(meter.beats):
        return FewerPlucks(beats=bar)
    return _Thinning(bar, meter, beat, reach).thinned()


class _Thinning:
    """A bar, while plucks are removed from it."""

    def __init__(self, bar: PatternBar, meter: Meter, beat: float, reach: Reach) -> None:
        self.bar, self.meter, self.beat, self.reach = bar, meter, beat, reach
        self.strokes = [one for one in _strokes(bar, meter) if one.instant]
        self.now: dict[_Path, Item] = {}
        self.dropped: list[_WrittenStroke] = []
        self.thumb: list[_WrittenStroke] = []

    def thinned(self) -> FewerPlucks:
        """Return what is left, and what was removed."""
        while (gone := self._next()) is not None:
            self.strokes.remove(gone)
            self.now[gone.path] = Hold()
            self.dropped.append(gone)
        self._give_back()
        self._halve_the_thumb()
        if not self.now:
            return FewerPlucks(beats=self.bar)
        lost = [part for one in self.dropped for part in one.stroke.parts if not _is_plain(part)]
        return FewerPlucks(
            beats=_rewritten(self.bar, self.now),
            dropped=self._counts(self.dropped),
            thumb=self._counts(self.thumb),
            lost=tuple(played(one) for one in lost),
        )

    def _give_back(self) -> None:
        """Put back what need not be gone, now that something else is."""
        for one in reversed(self.dropped[:-1]):
            strokes, before = self.strokes, self._load()
            self.strokes = sorted([*strokes, one], key=lambda struck: struck.at)
            now = self._load()
            close = too_close(now, self.beat, self.reach)
            if (close and now.closest != before.closest) or too_much(now, self.reach):
                self.strokes = strokes
            else:
                self.dropped.remove(one)
                del self.now[one.path]

    def _counts(self, struck: Sequence[_WrittenStroke]) -> tuple[Count, ...]:
        return tuple(self.meter.count_at(one.at) for one in sorted(struck, key=lambda one: one.at))

    def _load(self) -> Load:
        found = [one.instant for one in self.strokes if one.instant]
        return load(found, self.meter, self.meter.length)

    def _next(self) -> _WrittenStroke | None:
        """Return the stroke to remove next; None if enough is gone, or nothing more can go."""
        found = self._load()
        close, much = too_close(found, self.beat, self.reach), too_much(found, self.reach)
        off = [one for one in self.strokes if self.meter.count_at(one.at).part]
        plain = [one for one in off if all(map(_is_plain, one.stroke.parts))]
        if close:
            tight = self._tight(found.closest or Fraction(0))
            for pool in (plain, off):
                if any(one.at in tight for one in pool):
                    return self._smallest([one for one in pool if one.at in tight])
        if much:
            return self._smallest([one for one in plain if one.instant and one.instant.fingers])
        return None

    def _tight(self, least: Fraction) -> set[Fraction]:
        """Return the places of the strokes that are closest to one another."""
        ends = [*(one.at for one in self.strokes[1:]), self.meter.length]
        pairs = [(one.at, end) for one, end in zip(self.strokes, ends, strict=True)]
        return {at for pair in pairs if pair[1] - pair[0] == least for at in pair}

    def _smallest(self, pool: Sequence[_WrittenStroke]) -> _WrittenStroke | None:
        def weight(one: _WrittenStroke) -> tuple[int, Fraction]:
            return self.meter.count_at(one.at).part.denominator, one.at

        return max(pool, key=weight, default=None)

    def _halve_the_thumb(self) -> None:
        """Take the thumb's plain plucks away on every other count, while there is too much between its counts."""
        counts = [one for one in self.strokes if not self.meter.count_at(one.at).part]
        for one in sorted(counts, key=lambda one: self.meter.count_at(one.at).number % 2):
            thumb = [
                part for part in one.stroke.parts if isinstance(part, Pluck) and _is_thumb(part)
            ]
            first = self.meter.count_at(one.at).number == 1
            if first or not thumb or not all(map(_is_plain, thumb)):
                continue
            if not too_much(self._load(), self.reach):
                return
            rest = tuple(part for part in one.stroke.parts if part not in thumb)
            left = evolve(one.stroke, parts=rest) if rest else None
            self.now[one.path] = left or Hold()
            self.thumb.append(one)
            at = self.strokes.index(one)
            kept = [evolve(one, stroke=left)] if left else []
            self.strokes[at : at + 1] = [one for one in kept if one.instant]


def _strokes(bar: PatternBar, meter: Meter) -> Iterator[_WrittenStroke]:
    for number, beat in enumerate(bar.beats):
        start, length = meter.beat_starts[number], meter.beats[number]
        yield from _inside(beat.items, start, length, (number,))


def _inside(
    items: Sequence[Item], start: Fraction, length: Fraction, path: _Path
) -> Iterator[_WrittenStroke]:
    share = length / len(items)
    for place, item in enumerate(items):
        at, here = start + place * share, (*path, place)
        if isinstance(item, Group):
            yield from _inside(item.items, at, share, here)
        elif isinstance(item, Stroke):
            yield _WrittenStroke(at, here, item)


def _plucked(stroke: Stroke) -> Iterator[Pluck | Brush]:
    for part in stroke.parts:
        if isinstance(part, Roll):
            yield from part.parts
        elif not isinstance(part, Slap):
            yield part


def _is_thumb(part: Pluck | Brush) -> bool:
    return part.finger == _THUMB


def _is_plain(part: object) -> bool:
    """Whether a part only plucks what the hand holds: no fret of its own, no accent, nothing asked of it."""
    return (
        isinstance(part, Pluck)
        and part.fret is None
        and not (part.slurs or part.accent or part.harmonic or part.dead)
        and part.technique == PLAIN
    )


def _rewritten(bar: PatternBar, now: Mapping[_Path, Item]) -> PatternBar:
    beats = [
        Beat(items=_tidied(_items(beat.items, (number,), now)))
        for number, beat in enumerate(bar.beats)
    ]
    return PatternBar(beats=tuple(beats))


def _items(items: Sequence[Item], path: _Path, now: Mapping[_Path, Item]) -> Iterator[Item]:
    for place, item in enumerate(items):
        here = (*path, place)
        if here in now:
            yield now[here]
        elif isinstance(item, Group):
            inside = _tidied(_items(item.items, here, now))
            yield inside[0] if len(inside) == 1 else evolve(item, items=inside)
        else:
            yield item


def _tidied(given: Iterator[Item]) -> tuple[Item, ...]:
    """Write items in the fewest shares: `p -` as `p`, `p - m -` as `p m`."""
    items = tuple(given)
    for share in range(len(items), 1, -1):
        rest = [one for at, one in enumerate(items) if at % share]
        if len(items) % share == 0 and all(isinstance(one, Hold) for one in rest):
            return items[::share]
    return items
