"""Captions of a lesson, and its sections as chapters: two files of WebVTT."""

from __future__ import annotations

from fractions import Fraction

from fretloom.formats.beside import Held, beside_the_music
from fretloom.formats.shape import Output, file_name
from fretloom.formats.sound.captions.bars import BarCaptions
from fretloom.formats.sound.captions.chapters import chapter_cues
from fretloom.formats.sound.captions.options import CaptionOptions
from fretloom.formats.sound.captions.vtt import webvtt
from fretloom.formats.sound.choice import chosen_playback
from fretloom.performance.events import Timeline
from fretloom.performance.playback.sounds import Playback
from fretloom.performance.reading import Reading


def write(reading: Reading, options: CaptionOptions) -> tuple[Output, ...]:
    """Write the captions of the song, and its chapters."""
    timeline = reading.timeline
    playback = chosen_playback(reading, options)
    captions, chapters = to_captions(playback, timeline, Fraction(options.offset))
    shown: tuple[Held, ...] = ("titles of sections",)
    held = tuple(beside_the_music(reading, "captions", shown))
    lesson = reading.lesson
    return (
        Output(file_name(lesson, ".vtt"), captions, held),
        Output(file_name(lesson, ".chapters.vtt"), chapters),
    )


def to_captions(playback: Playback, timeline: Timeline, offset: Fraction) -> tuple[str, str]:
    """Return the captions of a playback that begins `offset` seconds into a recording, and its chapters."""
    cues = BarCaptions(playback, timeline, offset).cues()
    title = timeline.settings.title
    return webvtt(title, cues), webvtt(title, chapter_cues(playback, timeline, offset))
