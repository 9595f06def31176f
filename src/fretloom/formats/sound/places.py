"""Where words and chords stand in what is played: they swing with the notes."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from fretloom.performance.events import PlayedBar, Settings
from fretloom.performance.playback.sounds import BarTime
from fretloom.performance.playback.swinging import SwungBar


class SoundPlaces:
    """Turns onsets in bars into positions of a playback."""

    def __init__(self, settings: Settings) -> None:
        self._swing = settings.swing
        self._known: dict[int, SwungBar] = {}

    def at(self, time: BarTime, played: PlayedBar, onset: Fraction) -> Fraction:
        """Return where something is played that stands at `onset` of a bar, which is played at `time`."""
        if not onset or self._swing is None:
            return time.start + onset
        swing = self._known.get(played.bar.serial)
        if swing is None:
            swing = self._known[played.bar.serial] = SwungBar(played.bar, self._swing)
        return time.start + swing.at(onset)

    def chords(self, time: BarTime, played: PlayedBar) -> Iterator[tuple[Fraction, str]]:
        """Yield the names of a bar's voicings, each where it is taken."""
        for timed in played.bar.voicings:
            yield self.at(time, played, timed.onset), timed.voicing.name

    def words(self, time: BarTime, played: PlayedBar) -> Iterator[tuple[Fraction, str]]:
        """Yield what is sung in a bar: syllables where they are sung, else all of it at its start."""
        sung = played.sung
        if sung is None:
            return
        if not sung.syllables:
            yield time.start, sung.text
        for syllable in sung.syllables:
            yield self.at(time, played, syllable.onset), syllable.text
