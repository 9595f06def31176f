"""What of a lesson is heard, how fast, how often and with what before it: one choice for all that is heard."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from attrs import evolve

from fretloom.errors import FretloomError
from fretloom.formats.options import (
    FormatOptions,
    bar_numbers,
    name,
    number,
    one_of,
    several_numbers,
    step_label,
    switch,
)
from fretloom.formats.sound.clicking import Clicks, clicks_option
from fretloom.limits import LIMITS
from fretloom.performance.events import PlayedBar
from fretloom.performance.playback.joining import Plucking, counted_in, joined, only, silenced
from fretloom.performance.playback.play import play
from fretloom.performance.playback.sounds import Playback
from fretloom.performance.reading import Reading
from fretloom.performance.showing.shown_bars import fullest_playings, shown_bars
from fretloom.practising.path import practice_path
from fretloom.practising.plan import PathStep
from fretloom.practising.tempos import counted_unit
from fretloom.text import counted, listed, nearest, shown_name
from fretloom.values import frozen

#: How much slower or faster than written, in hundredths.
PERCENT = (10, 200)
#: Beats a minute, as for the lesson's own tempo.
TEMPO = (10, 400)
#: How often a passage may be played in a row.
TIMES = (1, 100)
#: What a step shows is played again and again up to so many bars at each tempo.
LEAST_BARS = 8
_LONGEST_NAME = 200


@frozen(kw_only=True)
class SoundOptions(FormatOptions):
    """What is heard.

    Args:
        section: the name of a section; only that is played, as it comes first. None for the song.
        bars: `3` or `3-6`: only these bars, of the section as its bars are numbered, else of the song.
        step: only what the step of this name shows, `3` or `3a` as all pages call it; its tempos are taken unless
            others are given.
        tempos: in beats a minute, one after the other; none for that of the lesson.
        percent: of the written tempo, from 10 to 200, where no tempos are given.
        times: how often it is played at each tempo, from 1 to 100; what a step shows as often as `LEAST_BARS` bars
            take, if that is more.
        count_in: count a bar before each tempo.
        clicks: "count-in" for clicks in bars that are counted in, "always", or "never".
        heard: "both", or the notes of the "thumb" or the "fingers" alone.
        answer: after each time a silence as long, in which the student plays.
    """

    section: str | None = name(
        "only this section, as it comes first", longest=_LONGEST_NAME, wrong=lambda _: ""
    )
    bars: str | None = bar_numbers("only these bars, of the section or else of the song")
    step: str | None = step_label("only what this step shows")
    tempos: tuple[int, ...] = several_numbers(
        "beats a minute, one after the other", least=TEMPO[0], most=TEMPO[1]
    )
    percent: int = number(100, "of the written tempo", least=PERCENT[0], most=PERCENT[1])
    times: int = number(1, "times at each tempo", least=TIMES[0], most=TIMES[1])
    count_in: bool = switch("count a bar before each tempo")
    clicks: Clicks = clicks_option()
    heard: Plucking = one_of(("both", "thumb", "fingers"), "whose notes are heard")
    answer: bool = switch("after each time a silence as long, in which the student plays")


@frozen
class ChosenBars:
    """Bars to be played, at tempos in quarter notes a minute (none: as they are written), `times` times at least."""

    bars: tuple[PlayedBar, ...]
    tempos: tuple[Fraction, ...] = ()
    heard: Plucking = "both"
    times: int = 1


def chosen_playback(reading: Reading, options: SoundOptions) -> Playback:
    """Return what is heard of a lesson.

    Raises:
        FretloomError: the lesson does not have what was chosen, or it would be too long.
    """
    return playback_of(reading, chosen_bars(reading, options), options)


def chosen_bars(
    reading: Reading, options: SoundOptions, steps: Sequence[PathStep] | None = None
) -> tuple[ChosenBars, ...]:
    """Return the bars that are chosen, with their tempos; `steps` are those of the practice path, if they are known.

    Raises:
        FretloomError: the lesson does not have what was chosen.
    """
    if options.tempos and options.percent != 100:
        raise FretloomError("choose tempos or a percentage of the written one, not both")
    unit = counted_unit(reading.timeline.settings)
    given = tuple(one * unit for one in options.tempos)
    return tuple(
        evolve(one, tempos=given or one.tempos, times=max(one.times, options.times))
        for one in _passages(reading, options, steps)
    )


def playback_of(reading: Reading, chosen: Sequence[ChosenBars], options: SoundOptions) -> Playback:
    """Return what is heard of bars, one after the other.

    Raises:
        FretloomError: it would be too long.
    """
    _refuse_too_much(chosen)
    parts = [
        part
        for one in chosen
        for speed in _speeds(one, options.percent)
        for part in _take(reading, one, speed, options)
    ]
    return parts[0] if len(parts) == 1 else joined(parts or [play((), reading.timeline.settings)])


def _refuse_too_much(passages: Sequence[ChosenBars]) -> None:
    """Make sure that what is heard is made in a few seconds."""
    bars = notes = 0
    for one in passages:
        again = max(1, len(one.tempos)) * one.times
        bars += len(one.bars) * again
        notes += sum(len(played.bar.notes) for played in one.bars) * again
    for asked, what, most in (
        (bars, "bar", LIMITS.bars_played),
        (notes, "note", LIMITS.notes_heard),
    ):
        if asked > most:
            words = f"that is {asked:,} {what}s to be heard, and {most:,} is the limit"
            raise FretloomError(f"{words}: choose fewer bars, tempos or times")


def _speeds(passage: ChosenBars, percent: int) -> Iterator[Fraction]:
    if not passage.tempos:
        yield Fraction(percent, 100)
    for tempo in passage.tempos if passage.bars else ():
        yield tempo / passage.bars[0].tempo.quarters_per_minute


def _take(
    reading: Reading, passage: ChosenBars, speed: Fraction, options: SoundOptions
) -> Iterator[Playback]:
    """Yield one tempo: the count before it, and each time."""
    hand = options.heard if passage.heard == "both" else passage.heard
    bars, settings = passage.bars, reading.timeline.settings
    if options.answer:
        once = play(bars, settings, speed)
        times = [only(once, hand), silenced(once)] * passage.times
    else:
        times = [only(play(bars * passage.times, settings, speed), hand)]
    yield counted_in(times[0]) if options.count_in else times[0]
    yield from times[1:]


def _passages(
    reading: Reading, options: SoundOptions, steps: Sequence[PathStep] | None
) -> list[ChosenBars]:
    if options.step is not None:
        if options.section is not None or options.bars is not None:
            raise FretloomError("choose a step, or a section and bars, not both")
        return _of_step(
            reading, options.step, practice_path(reading).steps if steps is None else steps
        )
    bars = reading.timeline.bars
    if options.section is not None:
        bars = _section(reading, options.section)
    if options.bars is not None:
        bars = _numbered(bars, options.bars, options.section)
    return [ChosenBars(bars)]


def _section(reading: Reading, wanted: str) -> tuple[PlayedBar, ...]:
    playings = fullest_playings(reading.timeline.bars)
    if wanted not in playings:
        near = nearest(wanted, playings)
        hint = (
            f"did you mean {near}?"
            if near
            else f"the sections are {listed(list(playings)) or 'none'}"
        )
        raise FretloomError(f"there is no section {shown_name(wanted)} that is played: {hint}")
    return playings[wanted]


def _numbered(bars: Sequence[PlayedBar], wanted: str, section: str | None) -> tuple[PlayedBar, ...]:
    first, _, last = wanted.partition("-")
    low, high = int(first), int(last or first)
    found = tuple(
        one for one in bars if low <= (one.number if section is None else one.place) <= high
    )
    if low > high:
        raise FretloomError(f"bars {wanted}: say the first bar first, {high}-{low}")
    there = {one.number if section is None else one.place for one in bars}
    if low not in there or high not in there:
        whose = f"the section {section}" if section is not None else "the song"
        raise FretloomError(
            f"bars {wanted} are not all there: {whose} has {counted(max(there, default=0), 'bar')}"
        )
    return found


def _of_step(reading: Reading, wanted: str, steps: Sequence[PathStep]) -> list[ChosenBars]:
    """Return what a step of the practice path shows, each with the tempos of its ladder."""
    step = next((one for one in steps if one.label == wanted), None)
    if step is None:
        there = listed([one.label for one in steps])
        raise FretloomError(f"there is no step {wanted}: the steps of practice are {there}")
    slowest = [part.tempos.start * part.tempos.unit for part in step.parts if part.tempos]
    found = []
    for part in step.parts:
        bars = shown_bars(reading, part.show)
        tempos = part.tempos
        if not bars:
            continue
        if tempos is None:  # A shape by itself: twice, as slowly as the step begins.
            found.append(ChosenBars(bars, tuple(slowest[:1]), part.hands, 2))
            continue
        ladder = tuple(one * tempos.unit for one in tempos.ladder)
        found.append(ChosenBars(bars, ladder, part.hands, -(-LEAST_BARS // len(bars))))
    if not found:
        raise FretloomError(f"step {wanted} shows nothing that can be heard")
    return found
