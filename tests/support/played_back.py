"""Short ways to play a lesson and to look at what is heard."""

from __future__ import annotations

from fractions import Fraction

from timeline_lessons import expanded, messages

from fretloom.performance.playback.play import play
from fretloom.performance.playback.sounds import Playback, StringSound


def heard(body: str, *fields: str, speed: int | Fraction = 1) -> Playback:
    """Play a whole lesson; there must be no fault in it. Without a line `tempo` a beat takes one second."""
    if not any(field.startswith("tempo") for field in fields):
        fields = (*fields, "tempo 60")
    expansion = expanded(body, *fields)
    assert messages(expansion) == []
    timeline = expansion.timeline
    return play(timeline.bars, timeline.settings, Fraction(speed))


def one_bar(beats: str, *fields: str, chord: str = "E", after: str = "") -> Playback:
    """Play one bar over a chord."""
    return heard(f"section verse\n  {chord} {{ {beats} }}{after}\n", *fields)


def starts(playback: Playback) -> list[Fraction]:
    """Return when each string is plucked, in seconds."""
    return [playback.clock.seconds(sound.at) for sound in playback.sounds]


def found(playback: Playback, string: int) -> StringSound:
    """Return the only sound of a string."""
    (one,) = (sound for sound in playback.sounds if sound.string == string)
    return one
