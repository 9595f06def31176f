"""Places in a lesson, in words: bars for a teacher's message, places for a student to find.

A finding counts bars through the whole performance, as a player does who counts aloud. A student
looks for a section, which playing of it, and a bar within that; there bars count as they are
played, and pickups do not.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from fretloom.performance.events import PlayedBar, Settings
from fretloom.text import ordinal
from fretloom.trade.harmony.note_names import write_note


def bar_words(played: PlayedBar) -> str:
    """Name a bar as findings do: `bar 4 (verse)`; a pickup at the very start has no number."""
    bar = f"bar {played.number}" if played.number else "the pickup"
    return f"{bar} ({played.section})"


class Whereabouts:
    """The bars of a performance in a student's words."""

    def __init__(self, bars: Sequence[PlayedBar]) -> None:
        playings = dict.fromkeys((one.section, one.entry, one.playing) for one in bars)
        self._often = Counter(section for section, _, _ in playings)
        self._playing: dict[tuple[int, int], int] = {}
        met: Counter[str] = Counter()
        for section, entry, playing in playings:
            met[section] += 1
            self._playing[entry, playing] = met[section]
        self._bar: dict[int, int] = {}
        self._bars: Counter[tuple[int, int]] = Counter()
        for one in bars:
            self._bars[one.entry, one.playing] += one.bar.kind != "pickup"
            self._bar[one.index] = self._bars[one.entry, one.playing]

    def section(self, played: PlayedBar) -> str:
        """Name the playing a bar belongs to: `Chorus`, or `Verse 2` where it is played several times.

        By the title, or the name with a capital. After a title that ends in a number the playing is
        written in words: `Take 5, 2nd time`.
        """
        title = played.title or played.section[:1].upper() + played.section[1:]
        if self._often[played.section] < 2:
            return title
        playing = self._playing[played.entry, played.playing]
        if title[-1].isdigit():
            return f"{title}, {ordinal(playing)} time"
        return f"{title} {playing}"

    def bar(self, played: PlayedBar) -> str:
        """Name a bar: `Verse 2, bar 3`, `Verse 2, last bar`, `Chorus, pickup`.

        A playing of a single bar is named without it.
        """
        section = self.section(played)
        number, bars = self._bar[played.index], self._bars[played.entry, played.playing]
        if played.bar.kind == "pickup":
            return f"{section}, pickup"
        if bars < 2:
            return section
        return f"{section}, {'last bar' if number == bars else f'bar {number}'}"


def string_words(settings: Settings, string: int) -> str:
    """Name a string by the note it sounds open without capo: `G`, and `low E`, `high E` of two.

    Three or more strings of one name, and two of one pitch, are named with their numbers:
    `D (string 4)`.
    """
    pitch = settings.tuning.open_pitch(string)
    name = write_note(pitch.name, settings.names)
    alike = [
        other
        for other in settings.tuning.pitches
        if other.name.pitch_class == pitch.name.pitch_class
    ]
    if len(alike) == 1:
        return name
    heights = sorted({other.midi for other in alike})
    if len(alike) > 2 or len(heights) < 2:
        return f"{name} (string {string})"
    return f"{'low' if pitch.midi == heights[0] else 'high'} {name}"


def fretted_words(settings: Settings, string: int, fret: int) -> str:
    """Name a place of the fretboard, frets counted from the capo: `G, 3rd fret`, `low E, open`."""
    where = f"{ordinal(fret)} fret" if fret else "open"
    return f"{string_words(settings, string)}, {where}"
