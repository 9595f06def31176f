"""The guitar of a page against that of recordings: the same strings, body and room, by node."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from heard import RATE, cents_off, hertz_of, playback_of, played_file, voices
from places import EXAMPLES
from web_sound import in_node, needs_node, page_of_sound, waves_in_node

from fretloom.formats.sound.guitar.body import _room, body_response
from fretloom.formats.sound.guitar.constants import table
from fretloom.formats.sound.guitar.knocks import click, slap
from fretloom.formats.sound.guitar.scoring import Guitarist
from fretloom.formats.sound.guitar.string.making import making_of, struck_as
from fretloom.formats.sound.guitar.string.voice import StringVoice
from fretloom.performance.events import Settings
from fretloom.performance.playback.sounds import Playback, StringSound

pytestmark = needs_node
_KINDS = {"hammer-on": "h", "pull-off": "p", "slide": "s", "bend": "b", "release": "b"}


def _asked(
    sound: StringSound, voice: StringVoice, page: dict[str, Any], settings: Settings
) -> dict[str, Any]:
    """Return what the script is asked for, with the recording's chance."""
    every, fret, midi = struck_as(sound, settings)
    moves, changes = iter(sound.moves), []
    for one in voice.changes:
        made: dict[str, Any] = {"kind": one.kind[0], "at": one.at, "seconds": one.seconds}
        if one.stop is not None:
            move = next(moves)
            made |= {
                "kind": _KINDS[move.kind],
                "lasts": one.lasts,
                "fret": move.fret,
                "midi": float(move.midi),
            }
        changes.append(made)
    return {
        "make": page["guitar"]["makes"][sound.string * 2 + sound.mate], "midi": midi, "fret": fret,
        "capo": page["guitar"]["capo"][sound.string], "mate": sound.mate, "string": sound.string, "changes": changes,
        "seed": voice.seed, "late": voice.late, "finger": sound.note.finger, "loud": sound.loudness, "every": every,
        "dead": sound.note.dead,
    }  # fmt: skip


def _both(
    playback: Playback, settings: Settings, step: int = 1
) -> list[tuple[np.ndarray, np.ndarray]]:
    """Return each string as the recording has it and as the page has it."""
    made = list(zip(playback.sounds, voices(playback, settings), strict=True))[::step]
    page = page_of_sound(playback, settings)
    waves = waves_in_node(
        page, [_asked(sound, voice, page, settings) for sound, (voice, _) in made]
    )
    return [(wave, ours) for (_, (_, wave)), ours in zip(made, waves, strict=True)]


def _decibels_off(one: np.ndarray, other: np.ndarray) -> float:
    assert len(one) == len(other)
    return float(10 * np.log10(((one - other) ** 2).mean() / (one**2).mean() + 1e-12))


@pytest.mark.parametrize(
    ("bars", "most"),
    [
        ("O { p6 m1 , i3@4 , p4 , a2@7 }", -60),
        ("O { i3@2h4 , - , a1@5p3 , - }", -60),
        ("O { a3@12* , - , a2@3.harmonic-15 , - }", -50),
        ("O { i3@2s4 , - , - , - }", -35),
        ("O { m2@3.vibrato , - , - , - }", -35),
        ("O { m2@3.bend-full , - , m2@3.prebend-full-release , - }", -30),
        ("O { p5x , - , i3x , - }", -60),
    ],
)
def test_a_string_is_that_of_recordings(bars: str, most: float) -> None:
    """The difference is far below the sound; a little more where all partials move and a wave is read between samples."""
    playback, settings = playback_of(bars, "tempo 90")
    both = _both(playback, settings)
    assert len(both) >= 1
    for wave, ours in both:
        assert _decibels_off(wave, ours) < most


@pytest.mark.parametrize(
    "name", ["twelve-panes", "teapot-two-step", "lock-keepers-lamp", "slow-kettle-blues"]
)
def test_instruments_and_techniques_of_examples(name: str) -> None:
    """Courses, ukulele, nylon, bends: the level every 50 ms within a decibel, as long as there is something to hear."""
    playback, settings = played_file(EXAMPLES / f"{name}.lesson")
    for wave, ours in _both(playback, settings, step=max(1, len(playback.sounds) // 12)):
        levels = [
            np.sqrt((one[: len(one) // 2205 * 2205].reshape(-1, 2205) ** 2).mean(axis=1))
            for one in (wave, ours)
        ]
        loud = levels[0] > levels[0].max() * 1e-2
        assert np.abs(20 * np.log10(levels[1][loud] / levels[0][loud])).max() < 1


@pytest.mark.parametrize("fields", [(), ("capo 4",), ("tuning D A D G A D",)])
def test_it_is_in_tune(fields: tuple[str, ...]) -> None:
    """Within a cent of equal temperament with A4 = 440 Hz (ISO 16:1975), read from the samples alone."""
    bars = "O { p6@3 , - , - , i3@5 | - , - , - , m1@9 | - , - , - , - }".replace("| ", "} | O { ")
    playback, settings = playback_of(bars, "tempo 60", *fields)
    for (_, ours), sound in zip(_both(playback, settings), playback.sounds, strict=True):
        assert abs(cents_off(ours, hertz_of(float(sound.midi)), 0.05, 1.2)) < 1


def test_a_string_begins_at_its_sample() -> None:
    """Its first millisecond is there within a millisecond of the pluck."""
    playback, settings = playback_of("O { p6 , i3 , m2 , a1 }", "tempo 100")
    for wave, ours in _both(playback, settings):
        begins = [int(np.argmax(np.abs(one) > np.abs(one).max() / 10)) for one in (wave, ours)]
        assert abs(begins[0] - begins[1]) <= RATE // 1000


@pytest.mark.parametrize("instrument", ["steel string", "classical", "electric"])
def test_body_and_room_are_those_of_recordings(instrument: str) -> None:
    playback, settings = playback_of("O { p6 , - , - , - }", f"instrument {instrument}")
    page, making = page_of_sound(playback, settings), making_of(settings)
    inside = "((one) => [one.bodyAnswer(), one.roomAnswer()].map((ears) => ears.map((ear) => Array.from(ear))))(guitarOf(given.guitar, 44100))"
    body, room = in_node(inside, page)
    for ear in (0, 1):
        theirs = body_response(making.body, making.size, ear)
        assert np.abs(np.array(body[ear]) - theirs).max() < 1e-5 * np.abs(theirs).max()
        theirs = _room(table("room"), ear)
        assert np.abs(np.array(room[ear]) - theirs).max() < 1e-5 * np.abs(theirs).max()


def test_clicks_and_slaps_are_those_of_recordings() -> None:
    page = page_of_sound(*playback_of("O { p6 , - , - , - }"))
    inside = "((one) => [[0, 1, 2].map((it) => Array.from(one.click(it))), [1, 0].map((it) => Array.from(one.slap(it, 5, 1)))])(guitarOf(given.guitar, 44100))"
    clicks, slaps = in_node(inside, page)
    for strength in (0, 1, 2):
        assert _decibels_off(click(strength, 0.0), np.array(clicks[strength])) < -80
    for place, ours in zip(("strings", "body"), slaps, strict=True):
        assert _decibels_off(slap(place, 5, 1.0), np.array(ours)) < -80


def test_the_strings_of_a_page_are_those_of_the_recording() -> None:
    """The table of a page says of each string what the recording takes."""
    for path in sorted(EXAMPLES.glob("*.lesson"))[:4]:
        playback, settings = played_file(path)
        making = Guitarist(playback, settings).making
        makes = page_of_sound(playback, settings)["guitar"]["makes"]
        for (number, mate), one in making.strings.items():
            row = [one.length, one.weight, one.stiffness, *one.decay, one.share]
            assert makes[number * 2 + mate] == pytest.approx(row, rel=1e-5)
