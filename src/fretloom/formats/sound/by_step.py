"""A recording for each step of practice and one of the song, all at one level."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from attrs import evolve

from fretloom.errors import FretloomError
from fretloom.formats.shape import Output, file_name
from fretloom.formats.sound.captions.document import to_captions
from fretloom.formats.sound.choice import chosen_playback
from fretloom.formats.sound.recording.coded import coded, library_for
from fretloom.formats.sound.recording.needed import needed
from fretloom.formats.sound.recording.options import RecordingOptions
from fretloom.formats.sound.recording.wav import recording_of, wav_pieces
from fretloom.performance.playback.play import play
from fretloom.performance.reading import Reading
from fretloom.performance.showing.shown_bars import shown_bars
from fretloom.practising.path import practice_path

if TYPE_CHECKING:
    from fretloom.formats.sound.recording.level import Level

#: The kinds of files that recordings for practice can be.
KINDS = ("ogg", "flac", "wav")


def practice_recordings(
    reading: Reading, options: RecordingOptions, kind: str = KINDS[0], *, captions: bool = False
) -> Iterator[Output]:
    """Yield recordings for practice: of what was chosen, or else of each step and of the song.

    Args:
        reading: the lesson. options: what is heard. kind: one of `KINDS`. captions: whether those of each follow it.

    Raises:
        FretloomError: what sound needs is not installed, the lesson does not have what was chosen, nothing is played
            in it, or a recording would be too long.
    """
    _ready(kind)
    if not reading.timeline.bars:
        raise FretloomError("nothing is played in the lesson, so there is nothing to hear")
    level = _level(reading)
    if (options.section, options.bars, options.step) != (None, None, None):
        name = "part" if options.step is None else f"step-{options.step}"
        yield from _outputs(reading, options, name, level, (kind, captions))
        return
    for step in practice_path(reading).steps:
        if any(shown_bars(reading, part.show) for part in step.parts):
            wanted = evolve(options, step=step.label)
            yield from _outputs(reading, wanted, f"step-{step.label}", level, (kind, captions))
    yield from _outputs(reading, options, "song", level, (kind, captions))


def _ready(kind: str) -> None:
    if kind not in KINDS:
        raise FretloomError(f"a recording is one of {', '.join(KINDS)}, not {kind[:40]!r}")
    needed("numpy", "sound is made with numpy")
    if kind != "wav":
        library_for(kind)


def _level(reading: Reading) -> Level:
    from fretloom.formats.sound.recording.level import level_of

    timeline = reading.timeline
    return level_of(play(timeline.bars, timeline.settings), timeline.settings)


def _outputs(
    reading: Reading, options: RecordingOptions, name: str, level: Level, wanted: tuple[str, bool]
) -> Iterator[Output]:
    """Yield a recording of a kind, and its captions if they are wanted."""
    kind, captions = wanted
    recording = recording_of(reading, options, level)
    named = file_name(reading.lesson, f".{name}.{kind}")
    if kind == "wav":
        yield Output(named, wav_pieces(recording))
    else:
        yield Output(named, coded(recording, kind, library_for(kind)))
    if captions:
        playback = chosen_playback(reading, options)
        text, _ = to_captions(playback, reading.timeline, Fraction(0))
        yield Output(file_name(reading.lesson, f".{name}.vtt"), text)
