"""Swing: where in its bar something is played that is written straight."""

from __future__ import annotations

from bisect import bisect_right
from fractions import Fraction

from fretloom.performance.events import TimedBar
from fretloom.trade.music.swing import swung_notes


class SwungBar:
    """The swing of a bar: the first half of a beat takes `long` parts of it, the second `short`.

    A beat in which something stands elsewhere than at halves, quarters or smaller even parts (a triplet) is played
    as it is written: its own notes say how it is shared.
    """

    def __init__(self, bar: TimedBar, ratio: tuple[int, int] | None) -> None:
        self._bar = bar
        self._spans: list[tuple[Fraction, Fraction]] = []
        if ratio is None:
            return
        long, short = ratio
        self._share = Fraction(long, long + short)
        self._spans = list(self._swinging())
        self._starts = [start for start, _ in self._spans]

    @property
    def straight(self) -> bool:
        """Whether everything is played where it is written."""
        return not self._spans

    def _swinging(self) -> list[tuple[Fraction, Fraction]]:
        """Return the beats that swing: start and length, from the bar's start."""
        meter, halves = self._bar.meter, swung_notes(self._bar.meter)
        onsets = sorted(_onsets(self._bar))
        spans = []
        for start, beat in zip(meter.beat_starts, meter.beats, strict=False):
            here = start - self._bar.start
            if beat / 2 not in halves:
                continue
            inside = onsets[bisect_right(onsets, here) : bisect_right(onsets, here + beat)]
            if all(_even((onset - here) / beat) for onset in inside):
                spans.append((here, beat))
        return spans

    def at(self, onset: Fraction) -> Fraction:
        """Return where something is played that is written at `onset`, both from the bar's start."""
        if not self._spans:
            return onset
        place = bisect_right(self._starts, onset) - 1
        if place < 0:
            return onset
        start, beat = self._spans[place]
        inside = onset - start
        if inside >= beat:
            return onset
        half, share = beat / 2, self._share
        if inside <= half:
            return start + inside * 2 * share
        return start + beat * share + (inside - half) * 2 * (1 - share)

    def beat(self, onset: Fraction) -> float:
        """Return the same as a float, without the detour by which `float` makes one."""
        played = self.at(onset)
        return played.numerator / played.denominator


def _onsets(bar: TimedBar) -> set[Fraction]:
    found = {note.onset for note in bar.notes} | {slap.onset for slap in bar.slaps}
    found.update(slurred.onset for note in bar.notes for slurred in note.slurs)
    return found


def _even(share: Fraction) -> bool:
    return share.denominator & (share.denominator - 1) == 0
