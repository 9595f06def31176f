"""How a song uses each voicing: which of its strings are plucked, and when the thumb plays which."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from fretloom.performance.events import TimedBar, TimedNote, Timeline
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.meter import Count
from fretloom.values import frozen

_THUMB = "p"


@frozen
class ShapeUse:
    """What is done with a voicing while it is held.

    Args:
        plucked: the strings that are plucked where the voicing stops them or leaves them open.
        thumb: for each string that the thumb plays, the counts on which it does, in order.
        hops: for each string that a finger hops to, the counts on which it is plucked.
        back: for each of these strings, the counts on which the finger is next needed at its own place,
            while the voicing is still held.
        at_times: those of these strings to which the finger does not hop on all their counts in every bar.
    """

    plucked: frozenset[int] = frozenset()
    thumb: tuple[tuple[int, tuple[Count, ...]], ...] = ()
    hops: tuple[tuple[int, tuple[Count, ...]], ...] = ()
    back: tuple[tuple[int, tuple[Count, ...]], ...] = ()
    at_times: frozenset[int] = frozenset()

    def thumb_on(self, string: int) -> tuple[Count, ...]:
        """Return the counts on which the thumb plays a string, () if it never does."""
        return dict(self.thumb).get(string, ())


class _Gathered:
    """The uses of a voicing, while they are gathered."""

    def __init__(self) -> None:
        self.plucked: set[int] = set()
        self.thumb: dict[int, set[Count]] = {}
        self.hops: dict[int, set[Count]] = {}
        self.back: dict[int, set[Count]] = {}
        #: The counts of the hops of each bar, by string.
        self.bars: list[dict[int, set[Count]]] = []

    def add(self, note: TimedNote, voicing: Voicing, count: Count) -> None:
        hopped = (note.string, note.fret) in {(hop.string, hop.fret) for hop in voicing.hops}
        if voicing.fret(note.string) == note.fret:
            self.plucked.add(note.string)
        elif hopped:
            self.hops.setdefault(note.string, set()).add(count)
            self.bars[-1].setdefault(note.string, set()).add(count)
        if note.finger == _THUMB and (hopped or voicing.fret(note.string) == note.fret):
            self.thumb.setdefault(note.string, set()).add(count)

    def use(self) -> ShapeUse:
        at_times = (
            string for string, counts in self.hops.items()
            if any(bar.get(string) != counts for bar in self.bars)
        )  # fmt: skip
        return ShapeUse(
            frozenset(self.plucked), _in_order(self.thumb), _in_order(self.hops),
            _in_order(self.back), frozenset(at_times),
        )  # fmt: skip


def shape_uses(timeline: Timeline) -> dict[str, ShapeUse]:
    """Return the use of each voicing that is taken in a performance, by name, in order of appearance."""
    found: dict[str, _Gathered] = {}
    for _, bar in timeline.distinct_bars():
        for taken in bar.voicings:
            found.setdefault(taken.voicing.name, _Gathered()).bars.append({})
        for note in bar.notes:
            held = voicing_at(bar, note.onset)
            if held is not None:
                found[held.name].add(note, held, bar.meter.count_at(bar.start + note.onset))
    if any(gathered.hops for gathered in found.values()):
        _gather_returns(timeline, found)
    return {name: gathered.use() for name, gathered in found.items()}


def _gather_returns(timeline: Timeline, found: Mapping[str, _Gathered]) -> None:
    """Find when fingers that have hopped are needed at their own places again."""
    held, away = "", dict[str, int]()
    for played in timeline.bars:
        bar = played.bar
        for note in bar.notes:
            voicing = voicing_at(bar, note.onset)
            if voicing is None or voicing.name != held:
                held, away = voicing.name if voicing is not None else "", {}
            if voicing is None or not voicing.hops:
                continue
            hop = next(
                (one for one in voicing.hops if (one.string, one.fret) == (note.string, note.fret)),
                None,
            )
            if hop is not None and voicing.fret(note.string) != note.fret:
                away[hop.finger] = hop.string
            finger = voicing.finger(note.string)
            if finger in away and voicing.fret(note.string) == note.fret:
                count = bar.meter.count_at(bar.start + note.onset)
                found[held].back.setdefault(away.pop(finger), set()).add(count)


def voicing_at(bar: TimedBar, onset: Fraction) -> Voicing | None:
    """Return the voicing that is held at a place of a bar, None before the first one."""
    held = None
    for taken in bar.voicings:
        if not taken.onset or taken.onset <= onset:
            held = taken.voicing
    return held


def _in_order(counts: Mapping[int, set[Count]]) -> tuple[tuple[int, tuple[Count, ...]], ...]:
    return tuple(
        (string, tuple(sorted(counts[string], key=lambda one: (one.number, one.part))))
        for string in sorted(counts, reverse=True)
    )
