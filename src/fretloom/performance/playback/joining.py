"""Playbacks put together for practice: counted in, one after another, with the thumb or the fingers alone, silent."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

from attrs import evolve

from fretloom.performance.playback.clock import Clock
from fretloom.performance.playback.counting import SHORT, clicks
from fretloom.performance.playback.sounds import BarTime, Playback, StringSound
from fretloom.trade.music.meter import Meter

#: Whose plucks are heard.
Plucking = Literal["both", "thumb", "fingers"]


def only(playback: Playback, hand: Plucking) -> Playback:
    """Return a playback with the plucks of the thumb alone, or of the fingers alone; slaps go with the fingers.

    Strings stop where they do when all of it is played.
    """
    if hand == "both":
        return playback
    thumb = hand == "thumb"
    sounds = tuple(one for one in playback.sounds if (one.note.finger == "p") == thumb)
    return evolve(playback, sounds=sounds, slaps=() if thumb else playback.slaps)


def silenced(playback: Playback) -> Playback:
    """Return the same bars without a sound: a space in which the student plays."""
    bars = tuple(evolve(bar, answer=True) for bar in playback.bars)
    return evolve(playback, bars=bars, sounds=(), slaps=())


def counted_in(playback: Playback) -> Playback:
    """Put a count before a playback: a bar of its first meter, two where one is shorter than `SHORT` seconds.

    Before a pickup the bar is counted up to it; where that is less than half of it, another one comes before.
    """
    if not playback.bars or playback.bars[0].played is None:
        return playback
    bar = playback.bars[0].played.bar
    meter, quarters = bar.meter, playback.clock.spans[0].quarters
    lengths = [bar.start or meter.length]
    short = meter.length * 60 / quarters < SHORT
    if short or lengths[0] * 2 < meter.length:
        lengths.insert(0, meter.length)
    counted: list[BarTime] = []
    now = Fraction(0)
    for length in lengths:
        counted.append(_counted(meter, now, length))
        now += length
    count = Playback(
        clock=Clock([(Fraction(0), quarters)]), bars=tuple(counted), sounds=(), slaps=(), end=now
    )
    return joined([count, playback])


def _counted(meter: Meter, start: Fraction, length: Fraction) -> BarTime:
    counts = tuple((start + place, strong) for place, strong in clicks(meter) if place < length)
    return BarTime(start=start, end=start + length, counts=counts)


def joined(playbacks: Sequence[Playback]) -> Playback:
    """Put playbacks one after another. A string that rings over the seam ends when it is plucked again behind it."""
    tempos: list[tuple[Fraction, Fraction]] = []
    bars: list[BarTime] = []
    sounds: list[StringSound] = []
    slaps = []
    end = Fraction(0)
    for one in playbacks:
        before = len(bars)
        tempos += [(end + span.start, span.quarters) for span in one.clock.spans]
        bars += [_moved_bar(bar, end) for bar in one.bars]
        sounds += [_moved(sound, end, before) for sound in one.sounds]
        slaps += [evolve(slap, at=slap.at + end, bar=slap.bar + before) for slap in one.slaps]
        end += one.end
    return Playback(
        clock=Clock(tempos),
        bars=tuple(bars),
        sounds=_cut_at_next(sounds),
        slaps=tuple(slaps),
        end=end,
    )


def _moved_bar(bar: BarTime, by: Fraction) -> BarTime:
    if not by:
        return bar
    counts = tuple((at + by, strong) for at, strong in bar.counts)
    return evolve(bar, start=bar.start + by, end=bar.end + by, counts=counts)


def _moved(sound: StringSound, by: Fraction, bars: int) -> StringSound:
    if not by:
        return sound
    moves = tuple(evolve(move, at=move.at + by, until=move.until + by) for move in sound.moves)
    return evolve(
        sound, bar=sound.bar + bars, at=sound.at + by, until=sound.until + by, moves=moves
    )


def _cut_at_next(sounds: Sequence[StringSound]) -> tuple[StringSound, ...]:
    """Return sounds, each up to its string's next pluck at most."""
    following: dict[tuple[int, bool], Fraction] = {}
    found: list[StringSound] = []
    for sound in reversed(sounds):
        key = (sound.string, sound.mate)
        after = following.get(key)
        following[key] = sound.at
        if after is not None and sound.until >= after:
            moves = tuple(move for move in sound.moves if move.at < after)
            found.append(evolve(sound, until=after, ends="again", moves=moves))
        else:
            found.append(sound)
    return tuple(reversed(found))
