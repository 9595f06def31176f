"""Any lesson as MIDI: the rules of the file, and every note where the playback has it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from lesson_pool import LESSONS, Made
from midi_read import read_midi

from fretloom.formats.sound.midi.document import to_midi
from fretloom.performance.playback.play import play
from fretloom.performance.playback.sounds import Playback, StringSound
from fretloom.trade.guitar.instruments import INSTRUMENTS

TICKS = 10_080


def nearest(position: Fraction) -> int:
    """Return the tick of a position, the later one of two that are as near."""
    return int((position * TICKS + Fraction(1, 2)) // 1)


def key(midi: Fraction) -> int:
    """Return the nearest key, the lower one of two: a string is bent up."""
    return ceil(midi - Fraction(1, 2))


def begun(sound: StringSound) -> Iterator[tuple[int, int]]:
    """Yield (tick, key) of all notes of a sound: the pluck, and what the fretting hand strikes or slides to."""
    found = [(nearest(sound.at), key(sound.midi))]
    until = sound.until
    for move in sound.moves:
        if move.kind in ("hammer-on", "pull-off") or (move.kind == "slide" and move.until < until):
            found.append((nearest(move.until), key(move.midi)))
    yield from (one for one in found if 0 <= one[1] <= 127)


def slow(playback: Playback) -> bool:
    """Whether a tempo is slower than MIDI can say, in 24 bits of microseconds for a quarter note."""
    return any(60_000_000 / one.quarters > 0xFFFFFF for one in playback.clock.spans)


@LESSONS.law(most=64)
def test_every_note_has_its_tick_and_key_and_the_file_keeps_the_rules(made: Made) -> None:
    """`read_midi` and `notes` look at the rules."""
    timeline = made.timeline
    playback = play(timeline.bars, timeline.settings)
    data, left_out = to_midi(playback, timeline.settings, INSTRUMENTS[0])
    read = read_midi(data)
    written = Counter((one.start, one.key) for one in read.notes() if one.channel != 10)
    heard = Counter(one for sound in playback.sounds for one in begun(sound))
    missing = heard - written
    assert not written - heard
    if not any("more strings at once" in one.what for one in left_out):
        assert not missing
    slaps = {(one.start, one.key) for one in read.notes() if one.channel == 10}
    assert slaps == {
        (nearest(one.at), 37 if one.slap.place == "strings" else 64) for one in playback.slaps
    }


@LESSONS.law(most=24)
def test_ticks_come_when_the_playback_says(made: Made) -> None:
    """To half a tick, and half a microsecond for each quarter note, which is how exactly MIDI says a tempo."""
    timeline = made.timeline
    playback = play(timeline.bars, timeline.settings)
    read = read_midi(to_midi(playback, timeline.settings, INSTRUMENTS[0])[0])
    if slow(playback):
        return
    for position in {sound.at for sound in playback.sounds} | {playback.end}:
        quarter = 60 / min(one.quarters for one in playback.clock.spans)
        off = abs(read.seconds(nearest(position)) - playback.clock.seconds(position))
        assert off <= quarter / TICKS + (position + 1) / 2_000_000


@LESSONS.law(most=24)
def test_the_same_lesson_gives_the_same_bytes(made: Made) -> None:
    timeline = made.timeline
    one, other = (
        to_midi(play(timeline.bars, timeline.settings), timeline.settings, INSTRUMENTS[0])
        for _ in range(2)
    )
    assert one == other


@LESSONS.law(most=24)
def test_bars_can_be_counted_by_the_meters(made: Made) -> None:
    """Each bar begins where a reader expects it, from the last meter said, or has a meter of its own."""
    timeline = made.timeline
    playback = play(timeline.bars, timeline.settings)
    read = read_midi(to_midi(playback, timeline.settings, INSTRUMENTS[0])[0])
    meters = dict(read.metas(0x58, 0))
    bar = Fraction(0)
    before = Fraction(0)
    for time in playback.bars:
        said = meters.get(nearest(time.start))
        if said is None:
            assert time.start - before == bar
        else:
            bar = Fraction(4 * said[0], 2 ** said[1])
        before = time.start
