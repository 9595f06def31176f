"""The tracks beside the strings: words that are sung, slaps, and clicks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import zip_longest

from fretloom.formats.sound.clicking import Clicks, clicked_bar
from fretloom.formats.sound.midi.programs import FIRST, ON_BODY, ON_STRINGS, OTHER, PERCUSSION
from fretloom.formats.sound.midi.smf import LYRIC, OFF, ON, Event, note_off, note_on, text
from fretloom.formats.sound.places import SoundPlaces
from fretloom.formats.sound.ticks import tick
from fretloom.performance.events import Settings
from fretloom.performance.playback.sounds import Playback

#: How long a knock is written, in ticks: a sixteenth. Instruments of percussion end of themselves.
_KNOCK = 2520
#: Key and loudness of a click on the first of a bar, on one that begins a group, on any other.
_CLICKS = ((FIRST, 112), (FIRST, 84), (OTHER, 84))


def sung(playback: Playback, settings: Settings) -> Iterator[Event]:
    """Yield the words as lyrics: a syllable that ends a word has a blank behind it."""
    places = SoundPlaces(settings)
    for time in playback.bars:
        if time.played is not None:
            for position, words in places.words(time, time.played):
                yield tick(position), ON, text(LYRIC, words if words.endswith("-") else f"{words} ")


def slapped(playback: Playback) -> Iterator[Event]:
    """Yield the slaps."""
    yield from _knocked(
        (tick(one.at), ON_STRINGS if one.slap.place == "strings" else ON_BODY, one.loudness)
        for one in playback.slaps
    )


def clicked(playback: Playback, clicks: Clicks) -> Iterator[Event]:
    """Yield the clicks of bars that are counted in, of all bars, or of none."""
    yield from _knocked(
        (tick(position), *_CLICKS[strength])
        for time in playback.bars
        if clicked_bar(clicks, time)
        for position, strength in time.counts
    )


def _knocked(knocks: Iterable[tuple[int, int, int]]) -> Iterator[Event]:
    """Yield knocks, given as tick, key and loudness in order of time: each ends before the next of its key begins.

    Of two at one tick there is one, the louder.
    """
    found: dict[int, dict[int, int]] = {}
    for at, key, velocity in knocks:
        same = found.setdefault(key, {})
        same[at] = max(velocity, same.get(at, 0))
    for key, same in found.items():
        starts = sorted(same)
        for start, following in zip_longest(starts, starts[1:]):
            end = start + _KNOCK if following is None else min(start + _KNOCK, following)
            yield start, ON, note_on(PERCUSSION, key, same[start])
            yield end, OFF, note_off(PERCUSSION, key)
