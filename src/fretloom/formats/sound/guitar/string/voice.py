"""One string from its pluck to the end of its sound."""

from __future__ import annotations

from typing import Literal, TypeAlias

import numpy as np

from fretloom.formats.sound.guitar.chance import chances
from fretloom.formats.sound.guitar.constants import RATE, table, value
from fretloom.formats.sound.guitar.knocks import squeak, touch
from fretloom.formats.sound.guitar.string.making import Making, StringMake
from fretloom.formats.sound.guitar.string.modes import (
    SIXTY,
    Modes,
    PluckShape,
    StringStop,
    at_rest,
    plucked,
)
from fretloom.formats.sound.guitar.string.moving import hammered, pulled, turned_by, vibrato, way
from fretloom.formats.sound.guitar.string.waves import (
    Samples,
    gliding,
    partials,
)
from fretloom.values import evolve, frozen

ChangeKind: TypeAlias = Literal["hammer-on", "pull-off", "glide", "vibrato", "damp"]
#: Samples during which a finger pulls at a string before it lets go.
LEAD = int(value("strings", "pull") * RATE)


@frozen(kw_only=True)
class StringChange:
    """What happens to a string that sounds, `at` samples after the first sample of its voice.

    Args:
        stop: where it is stopped from then on. lasts: samples that a glide takes.
        seconds: how fast it dies away from then on, for "damp".
    """

    kind: ChangeKind
    at: int
    stop: StringStop | None = None
    lasts: int = 0
    seconds: float = 0.0
    slides: bool = False


@frozen(kw_only=True)
class StringVoice:
    """What one string plays.

    Args:
        start: the sample before the pluck. late: how much of a sample later the pluck is, 0 to 1.
        string: its make. stop: where it is stopped at the pluck. every: of a harmonic, which partials sound.
        finger: of the picking hand. force: 1 for a usual loud thumb. hard: 0 soft to 1 loud, for the brightness.
        dead: it has no pitch. changes: in order of time, the last one a "damp".
        length: samples in all. seed: of what is left to chance. pan: -1 left to 1 right.
    """

    start: int
    late: float
    string: StringMake
    stop: StringStop
    every: int
    finger: str
    force: float
    hard: float
    dead: bool
    changes: tuple[StringChange, ...]
    length: int
    seed: int
    pan: float
    cents: float = 0.0


def sounded(voice: StringVoice, making: Making) -> Samples:
    """Return the samples of a voice from `LEAD` before its start, as the string pushes at the bridge."""
    out = np.zeros(voice.length, np.float32)
    modes, now, begun = _picked(voice, making), 0, 0
    held = float(modes.amplitudes.real.sum())
    vibrating = False
    for number, change in enumerate((*voice.changes, None)):
        at = voice.length if change is None else min(change.at, voice.length)
        fade = 0 if change is None else _fade(change)
        until = min(at + fade, voice.length)
        wave, after = _stretch(modes, at - now, until - now, vibrating)
        _faded(wave, begun, fade)
        out[now:until] += wave
        if change is None or at >= voice.length:
            break
        if change.kind == "glide" and change.stop is not None:
            rest = (
                voice.length if number + 1 == len(voice.changes) else voice.changes[number + 1].at
            )
            now = min(at + change.lasts, rest, voice.length)
            modes = _glided(voice, making, after, change, out[at:now])
            begun = 0
            continue
        vibrating = change.kind == "vibrato"
        modes, now, begun = _changed(voice, making, after, change), at, fade
    return _begun(out, held, voice)


def _picked(voice: StringVoice, making: Making) -> Modes:
    """Return the string as the finger has let it go, at the first sample of the voice."""
    one, finger = table("strings"), table("fingers").get(voice.finger) or table("fingers")["m"]
    near, loud = chances(voice.seed, 2)
    place = finger["place"] * making.scale / 0.648 * (1 + one["random_place"] * near)
    width = finger["width"] * (1.25 - 0.5 * voice.hard) * min(1.0, making.scale / 0.648 + 0.2)
    time = finger["time"] * (1.8 - 1.3 * voice.hard)
    force = (
        voice.force * finger["way"] * finger["gain"] * 10 ** (one["random_decibels"] * loud / 20)
    )
    rest = _rest(voice, making, voice.stop)
    modes = plucked(rest, PluckShape(place, width, time, force), every=voice.every)
    if voice.dead:
        modes = evolve(modes, rates=modes.rates - SIXTY / one["dead_time"] / RATE)
    return modes.after(-voice.late)


def _rest(voice: StringVoice, making: Making, stop: StringStop) -> Modes:
    tuned = evolve(stop, pitch=stop.pitch * 2.0 ** (voice.cents / 1200))
    return at_rest(voice.string, tuned, making.body, making.size)


def _stretch(modes: Modes, count: int, longer: int, vibrating: bool) -> tuple[Samples, Modes]:
    """Return `longer` samples of a string that is let alone, or vibrates, and its state after `count`."""
    if not vibrating:
        return partials(modes.amplitudes, modes.rates, longer), modes.after(count)
    turned = turned_by(vibrato(longer + 1))
    return gliding(modes.amplitudes, modes.rates, turned[:longer]), _turned(
        modes, turned[min(count, longer)], count
    )


def _turned(modes: Modes, turned: float, samples: int) -> Modes:
    grown = np.exp(modes.rates.real * samples + 1j * modes.rates.imag * turned)
    return evolve(modes, amplitudes=modes.amplitudes * grown)


def _changed(voice: StringVoice, making: Making, modes: Modes, change: StringChange) -> Modes:
    if change.kind == "damp":
        return modes.damped(change.seconds)
    if change.stop is None:
        return modes
    rest = _rest(voice, making, change.stop)
    return (hammered if change.kind == "hammer-on" else pulled)(modes, rest, voice.force)


def _glided(
    voice: StringVoice, making: Making, modes: Modes, change: StringChange, out: Samples
) -> Modes:
    """Write what is heard on the way to another pitch, and return the string that has arrived there."""
    assert change.stop is not None
    rest = _rest(voice, making, change.stop)
    count = min(int((~modes.along).sum()), int((~rest.along).sum()))
    few = min(int(modes.along.sum()), int(rest.along.sum()))
    old = np.concatenate((np.flatnonzero(~modes.along)[:count], np.flatnonzero(modes.along)[:few]))
    new = np.concatenate((np.flatnonzero(~rest.along)[:count], np.flatnonzero(rest.along)[:few]))
    path = way(modes.stop.pitch, change.stop.pitch, max(1, change.lasts), 1)[: len(out) + 1]
    turned = turned_by(path)
    out += gliding(modes.amplitudes[old], modes.rates[old], turned[:-1])
    _let_go(modes, old, out)
    if change.slides:
        out += squeak(voice.string, len(out), voice.seed, voice.force)
        out *= np.linspace(1, value("slurs", "slide_loss"), len(out), dtype=np.float32)
    arrived = _turned(modes, turned[-1], len(out)).amplitudes
    amplitudes = np.zeros(len(rest.numbers), np.complex128)
    amplitudes[new] = arrived[old] * (value("slurs", "slide_loss") if change.slides else 1.0)
    return evolve(rest, amplitudes=amplitudes)


def _let_go(modes: Modes, kept: np.ndarray[tuple[int], np.dtype[np.intp]], out: Samples) -> None:
    """Let partials die away that would be too high to be heard on the way."""
    lost = np.ones(len(modes.numbers), np.bool_)
    lost[kept] = False
    wave = partials(modes.amplitudes[lost], modes.rates[lost], min(len(out), int(0.01 * RATE)))
    out[: len(wave)] += wave * _rise(len(wave))[::-1]


def _fade(change: StringChange) -> int:
    """Return over how many samples what was before fades into what comes."""
    return int(value("slurs", "fade") * RATE) if change.kind in ("hammer-on", "pull-off") else 0


def _faded(wave: Samples, before: int, after: int) -> None:
    if before:
        wave[:before] *= _rise(before)[: len(wave)]
    if after:
        wave[-after:] *= _rise(after)[::-1][-len(wave) :]


def _rise(count: int) -> Samples:
    steps = (np.arange(count) + 0.5) / count
    return ((1 - np.cos(np.pi * steps)) / 2).astype(np.float32)


def _begun(out: Samples, held: float, voice: StringVoice) -> Samples:
    """Return a sound from `LEAD` on, in which the finger pulls at the string, and leaves it with a little noise."""
    noise = touch(voice.seed, voice.force)[: len(out)]
    out[: len(noise)] += noise
    return np.concatenate((_rise(LEAD) * np.float32(held), out))
