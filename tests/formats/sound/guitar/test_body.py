"""Body and room: one filter, whatever the chunks; even enough that no note booms or is lost."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from fretloom.formats.sound.guitar.body import CHUNK, RINGS, body_response, through
from fretloom.formats.sound.guitar.constants import RATE, table

BODIES = [("wood", 1.0), ("wood", 0.92), ("nylon", 1.0), ("nylon", 1.95), ("board", 1.0)]


def test_chunks_are_filtered_as_one_sound() -> None:
    """The answer to a push at the end of a chunk goes on in the next."""
    pushed = np.zeros((2, 2 * CHUNK), np.float32)
    pushed[0, CHUNK - 3] = 1
    pushed[1, 100] = 1
    chunks = (pushed[:, :CHUNK], pushed[:, CHUNK:])
    heard = np.concatenate(list(through(chunks, "wood", 1.0)), axis=1)
    straight = body_response("wood", 1.0, 0)
    # What the other ear's push and the room add is below a tenth here.
    some = heard[0, CHUNK - 3 : CHUNK + 500]
    assert np.abs(some - straight[: len(some)]).max() < 0.1 * np.abs(straight).max()
    assert np.abs(heard[:, CHUNK - 3 + RINGS + 1 :]).max() < 1e-6
    assert room_and_body() < RINGS


def room_and_body() -> int:
    room = table("room")
    return int((room["time"] + room["length"] + room["late"]) * RATE) + 3


@pytest.mark.parametrize(("body", "size"), BODIES)
def test_a_body_answers_every_note(body: str, size: float) -> None:
    """From 80 Hz to 5 kHz nothing is 9 dB over the middle or lost below it, in bands of a third of a tone."""
    for ear in (0, 1):
        spectrum = np.abs(np.fft.rfft(body_response(body, size, ear), 1 << 16)) ** 2
        edges = (np.geomspace(80, 5000, 108) * (1 << 16) / RATE).astype(int)
        bands = [spectrum[one : max(other, one + 1)].mean() for one, other in pairwise(edges)]
        levels = 10 * np.log10(bands)
        assert np.max(levels) - np.median(levels) < 9
        assert np.median(levels) - np.min(levels) < 20
        assert np.std(levels) < 5


@pytest.mark.parametrize("body", table("bodies"))
def test_low_modes_do_not_ring_as_long_as_notes(body: str) -> None:
    """Below 250 Hz their quality is 20 at most: else a note that meets one swells."""
    assert all(quality <= 20 for hertz, quality, _ in table("bodies")[body]["modes"] if hertz < 250)
