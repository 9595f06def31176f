"""A recording for each step of practice and one of the song, all at one level."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from attrs import evolve

from fretloom.characters import nothing_hidden
from fretloom.errors import FretloomError
from fretloom.formats.shape import MadeAnew, Output, file_name
from fretloom.formats.sound.captions.document import to_captions
from fretloom.formats.sound.choice import chosen_playback, step_tempos
from fretloom.formats.sound.recording.coded import coded, library_for
from fretloom.formats.sound.recording.lasting import refuse_too_long
from fretloom.formats.sound.recording.needed import needed
from fretloom.formats.sound.recording.options import RecordingOptions
from fretloom.formats.sound.recording.wav import recording_of, wav_pieces
from fretloom.limits import LIMITS
from fretloom.performance.playback.play import play
from fretloom.performance.playback.sounds import Playback
from fretloom.performance.reading import Reading
from fretloom.performance.showing.shown_bars import shown_bars
from fretloom.practising.path import practice_path
from fretloom.values import frozen

if TYPE_CHECKING:
    from fretloom.formats.sound.recording.level import Level

#: The kinds of files that recordings for practice can be.
KINDS = ("ogg", "flac", "wav")
#: A recording of a step that lasts longer, in minutes, is one for each of its tempos.
_LONG = 10


@frozen
class PlannedRecording:
    """A recording to be made: the middle of its file's name, its title, and what is heard."""

    name: str
    title: str
    options: RecordingOptions


def practice_recordings(
    reading: Reading, options: RecordingOptions, kind: str = KINDS[0], *, captions: bool = False
) -> Iterator[Output]:
    """Yield recordings for practice: of what was chosen, or else of each step and of the song.

    All is planned before the first is made. A step that takes long is a recording for each of its tempos.

    Args:
        reading: the lesson. options: what is heard. kind: one of `KINDS`. captions: whether those of each follow it.

    Raises:
        FretloomError: what sound needs is not installed, the lesson does not have what was chosen, nothing is played
            in it, or a recording, or all together, would be too long.
    """
    _ready(kind)
    if not reading.timeline.bars:
        raise FretloomError("nothing is played in the lesson, so there is nothing to hear")
    planned = list(_planned(reading, options))
    return _made(reading, planned, (kind, captions))


def _made(
    reading: Reading, planned: list[PlannedRecording], wanted: tuple[str, bool]
) -> Iterator[Output]:
    level = _level(reading)
    for number, one in enumerate(planned, start=1):
        yield from _outputs(reading, one, number, level, wanted)


def _planned(reading: Reading, options: RecordingOptions) -> Iterator[PlannedRecording]:
    """Yield what is to be recorded, none of it too long."""
    minutes = Fraction(0)
    for one in _wanted(reading, options):
        for part, playback in _in_parts(reading, one):
            refuse_too_long(playback, part.title)
            minutes += playback.seconds / 60
            if minutes > LIMITS.minutes_of_practice:
                raise FretloomError(
                    f"the recordings would last more than {LIMITS.minutes_of_practice} minutes together, "
                    "which is the limit: choose a step with --step, or a section"
                )
            yield part


def _wanted(reading: Reading, options: RecordingOptions) -> Iterator[PlannedRecording]:
    title = nothing_hidden(reading.timeline.settings.title)
    if (options.section, options.bars, options.step) != (None, None, None):
        yield PlannedRecording(chosen_name(options), title, options)
        return
    steps = practice_path(reading).steps
    width = len(str(len(steps)))
    for step in steps:
        if any(shown_bars(reading, part.show) for part in step.parts):
            number = re.sub(r"^[0-9]+", lambda found: found[0].zfill(width), step.label)
            wanted = evolve(options, step=step.label)
            yield PlannedRecording(f"step-{number}", f"{step.label}. {step.title}", wanted)
    yield PlannedRecording("whole-song", title, options)


def _in_parts(
    reading: Reading, one: PlannedRecording
) -> Iterator[tuple[PlannedRecording, Playback]]:
    """Yield a recording whole, or for each of its tempos where it takes long."""
    playback = chosen_playback(reading, one.options)
    tempos = step_tempos(reading, one.options)
    if playback.seconds <= _LONG * 60 or len(tempos) < 2:
        yield one, playback
        return
    for tempo in tempos:
        options = evolve(one.options, tempos=(tempo,))
        part = PlannedRecording(f"{one.name}.at-{tempo}", f"{one.title}, {tempo}", options)
        yield part, chosen_playback(reading, options)


def chosen_name(options: RecordingOptions) -> str:
    """Return what was chosen as a part of a file's name: `verse-1-4.thumb.60-70`."""
    if options.step is not None:
        place = f"step-{options.step}"
    else:
        place = "-".join(filter(None, (options.section, options.bars)))
    percent = "" if options.percent == 100 else f"{options.percent}-percent"
    heard = "" if options.heard == "both" else options.heard
    parts = (place, heard, "-".join(map(str, options.tempos)), percent)
    return ".".join(re.sub(r"[^\w-]+", "-", part) for part in parts if part)


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
    reading: Reading,
    one: PlannedRecording,
    number: int,
    level: Level,
    wanted: tuple[str, bool],
) -> Iterator[Output]:
    """Yield a recording of a kind, and its captions if they are wanted."""
    kind, captions = wanted
    named = file_name(reading.lesson, f".{one.name}.{kind}")
    if kind == "wav":
        yield Output(named, MadeAnew(lambda: wav_pieces(recording_of(reading, one.options, level))))
    else:
        library = library_for(kind)
        album = nothing_hidden(reading.timeline.settings.title)
        tags = {"title": one.title, "album": album, "tracknumber": str(number)}
        yield Output(
            named,
            MadeAnew(lambda: coded(recording_of(reading, one.options, level), kind, library, tags)),
        )
    if captions:
        playback = chosen_playback(reading, one.options)
        text, chapters = to_captions(playback, reading.timeline, Fraction(0))
        yield Output(file_name(reading.lesson, f".{one.name}.vtt"), text)
        yield Output(file_name(reading.lesson, f".{one.name}.chapters.vtt"), chapters)
