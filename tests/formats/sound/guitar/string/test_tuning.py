"""The rendered sound is in tune with equal temperament, A4 = 440 Hz (ISO 16:1975)."""

from __future__ import annotations

import random

import numpy as np
import pytest
from heard import cents_off, heard, hertz_of, playback_of

from fretloom.trade.guitar.tunings import NAMED, parse_tuning

#: What is asked of the ear: a difference of 5 cents can just be heard, in direct comparison (from memory).
MOST_OFF = 0.3
SINGLE = sorted(name for name, notes in NAMED.items() if "+" not in notes)


def notes_of(tuning: str, capo: int, rng: random.Random, count: int) -> list[tuple[int, int]]:
    strings = parse_tuning(tuning).strings
    return [(rng.randint(1, strings), rng.randint(0, 15 if capo < 5 else 12)) for _ in range(count)]


@pytest.mark.parametrize("seed", range(30))
def test_every_note_is_in_tune(seed: int) -> None:
    """Three hundred notes: any string, fret, capo and tuning, in the mix of all strings, body and room."""
    rng = random.Random(seed)
    tuning, capo = rng.choice(SINGLE), rng.choice([0, 0, 1, 2, 3, 4, 5, 7])
    pitches = parse_tuning(tuning)
    notes = notes_of(tuning, capo, rng, 10)
    bars = " | ".join(f"O {{ i{string}@{fret}.damped , - }}" for string, fret in notes)
    playback, settings = playback_of(
        bars,
        f"tuning {pitches}",
        f"capo {capo}",
        "meter 2/4",
        "tempo 60",
        frets="0" * pitches.strings,
    )
    sound = heard(playback, settings).mean(axis=0)
    off = {}
    for number, (string, fret) in enumerate(notes):
        midi = pitches.open_pitch(string).midi + capo + fret
        off[string, fret] = cents_off(sound, hertz_of(midi), 2 * number + 0.02, 0.96)
    assert max(map(abs, off.values())) <= MOST_OFF, (tuning, capo, off)
    assert np.isfinite(sound).all()
