"""What of a bar a student sees on paper, so that bars that look alike are known to be."""

from __future__ import annotations

from collections.abc import Hashable

from fretloom.performance.events import TimedBar, TimedNote


class BarLooks:
    """Gives each bar a key; two bars with equal keys look alike. How long notes ring does not count."""

    def __init__(self) -> None:
        self._known: dict[int, Hashable] = {}  # By the bar's serial.
        self._numbers: dict[Hashable, int] = {}

    def of(self, bar: TimedBar) -> Hashable:
        """Return the key of a bar: small, and equal only for bars that look alike."""
        known = self._known.get(bar.serial)
        if known is None:
            look = _look(bar)
            # A number is quicker to compare than what it stands for.
            known = self._known[bar.serial] = self._numbers.setdefault(look, len(self._numbers))
        return known


def _look(bar: TimedBar) -> Hashable:
    return (
        tuple(map(_note, bar.notes)),
        tuple((one.onset, one.voicing.name) for one in bar.voicings),
        tuple((one.onset, one.length, one.place, one.accent) for one in bar.slaps),
        (bar.meter, bar.length, bar.start, bar.release, bar.stop, bar.fermata, bar.rest),
    )


def _note(note: TimedNote) -> Hashable:
    return (
        (note.onset, note.length, note.string, note.fret, note.finger, note.fretting),
        (note.accent, note.harmonic, note.dead, note.order, note.gesture, note.brush),
        (note.slurs, note.technique),
    )
