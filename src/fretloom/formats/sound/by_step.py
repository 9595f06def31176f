"""A recording for each step of practice and one of the song, all at one level."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from attrs import evolve

from fretloom.characters import nothing_hidden
from fretloom.errors import FretloomError
from fretloom.formats.shape import Content, MadeAnew, Output, file_name
from fretloom.formats.sound.captions.document import to_captions
from fretloom.formats.sound.choice import ChosenBars, chosen_bars, playback_of
from fretloom.formats.sound.recording.coded import coded, library_for
from fretloom.formats.sound.recording.lasting import refuse_too_long
from fretloom.formats.sound.recording.needed import needed
from fretloom.formats.sound.recording.options import RecordingOptions
from fretloom.formats.sound.recording.wav import recordings_of, wav_pieces
from fretloom.limits import LIMITS
from fretloom.performance.playback.play import play
from fretloom.performance.playback.sounds import Playback
from fretloom.performance.reading import Reading
from fretloom.performance.showing.shown_bars import shown_bars
from fretloom.practising.path import practice_path
from fretloom.practising.tempos import counted_unit
from fretloom.trade.music.tempo import number_words
from fretloom.values import frozen

if TYPE_CHECKING:
    from fretloom.formats.sound.recording.recorded import Recording

#: The kinds of files that recordings for practice can be.
KINDS = ("ogg", "flac", "wav")
#: A recording of a step that lasts longer, in minutes, is one for each of its tempos.
_LONG = 10


@frozen
class PlannedRecording:
    """A recording to be made: the middle of its file's name, its title, and the bars that are heard."""

    name: str
    title: str
    bars: tuple[ChosenBars, ...]


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
    return _Maker(reading, options, kind, captions).outputs(list(_planned(reading, options)))


def _planned(reading: Reading, options: RecordingOptions) -> Iterator[PlannedRecording]:
    """Yield what is to be recorded, none of it too long."""
    minutes = Fraction(0)
    for one in _wanted(reading, options):
        for part, playback in _in_parts(reading, one, options):
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
        yield PlannedRecording(chosen_name(options), title, chosen_bars(reading, options))
        return
    steps = practice_path(reading).steps
    width = len(str(len(steps)))
    for step in steps:
        if any(shown_bars(reading, part.show) for part in step.parts):
            number = re.sub(r"^[0-9]+", lambda found: found[0].zfill(width), step.label)
            bars = chosen_bars(reading, evolve(options, step=step.label), steps)
            yield PlannedRecording(f"step-{number}", f"{step.label}. {step.title}", bars)
    yield PlannedRecording("whole-song", title, chosen_bars(reading, options))


def _in_parts(
    reading: Reading, one: PlannedRecording, options: RecordingOptions
) -> Iterator[tuple[PlannedRecording, Playback]]:
    """Yield a recording whole, or for each of its tempos where it takes long."""
    playback = playback_of(reading, one.bars, options)
    unit = counted_unit(reading.timeline.settings)
    tempos = sorted({tempo for bars in one.bars for tempo in bars.tempos})
    if playback.seconds <= _LONG * 60 or len(tempos) < 2:
        yield one, playback
        return
    for tempo in tempos:
        beats = number_words(tempo / unit)
        name = f"{one.name}.at-{_for_a_name(beats)}"
        bars = tuple(evolve(each, tempos=(tempo,)) for each in one.bars)
        part = PlannedRecording(name, f"{one.title}, {beats}", bars)
        yield part, playback_of(reading, bars, options)


def chosen_name(options: RecordingOptions) -> str:
    """Return what was chosen as a part of a file's name: `verse-1-4.thumb.60-70`."""
    if options.step is not None:
        place = f"step-{options.step}"
    else:
        place = "-".join(filter(None, (options.section, options.bars)))
    percent = "" if options.percent == 100 else f"{options.percent}-percent"
    heard = "" if options.heard == "both" else options.heard
    parts = (place, heard, "-".join(map(str, options.tempos)), percent)
    return ".".join(_for_a_name(part) for part in parts if part)


def _for_a_name(part: str) -> str:
    """Return words as a part of a file's name on any system."""
    return re.sub(r"[^\w-]+", "-", part)


def _ready(kind: str) -> None:
    if kind not in KINDS:
        raise FretloomError(f"a recording is one of {', '.join(KINDS)}, not {kind[:40]!r}")
    needed("numpy", "sound is made with numpy")
    if kind != "wav":
        library_for(kind)


class _Maker:
    """Makes what is planned, all at the level of the lesson."""

    def __init__(
        self, reading: Reading, options: RecordingOptions, kind: str, captions: bool
    ) -> None:
        self._reading, self._options = reading, options
        self._kind, self._captions = kind, captions

    def outputs(self, planned: Sequence[PlannedRecording]) -> Iterator[Output]:
        """Yield the recordings, each with its captions behind it if they are wanted."""
        from fretloom.formats.sound.recording.level import level_of

        timeline = self._reading.timeline
        level = level_of(play(timeline.bars, timeline.settings), timeline.settings)
        for number, one in enumerate(planned, start=1):
            playback = playback_of(self._reading, one.bars, self._options)
            made = recordings_of(playback, self._reading, self._options, level)
            yield self._output(one, self._kind, MadeAnew(self._pieces(made, one.title, number)))
            if self._captions:
                text, chapters = to_captions(playback, timeline, Fraction(0))
                yield self._output(one, "vtt", text)
                yield self._output(one, "chapters.vtt", chapters)

    def _output(self, one: PlannedRecording, ending: str, content: Content) -> Output:
        return Output(file_name(self._reading.lesson, f".{one.name}.{ending}"), content)

    def _pieces(
        self, made: Callable[[], Recording], title: str, number: int
    ) -> Callable[[], Iterator[bytes]]:
        if self._kind == "wav":
            return lambda: wav_pieces(made())
        album = nothing_hidden(self._reading.timeline.settings.title)
        tags = {"title": title, "album": album, "tracknumber": str(number)}
        return lambda: coded(made(), self._kind, library_for(self._kind), tags)
