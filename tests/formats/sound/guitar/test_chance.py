"""Numbers by chance are the same everywhere, and look like chance."""

from __future__ import annotations

import numpy as np

from fretloom.formats.sound.guitar.chance import chances, seed_of


def test_the_numbers_are_those_of_the_generator() -> None:
    """x' = 1664525 x + 1013904223 modulo 2**32 (Press and others, "Numerical Recipes"), one after another."""
    expected, state = [], 12345
    for _ in range(1000):
        state = (1664525 * state + 1013904223) % 2**32
        expected.append(state / 2**31 - 1)
    assert np.allclose(chances(12345, 1000), expected, atol=1e-15)
    assert chances(1, 0).shape == (0,)


def test_they_have_no_weight_on_one_side() -> None:
    """Mean, spread and neighbours of even noise."""
    drawn = chances(seed_of(3, 1, 4), 20_000)
    assert abs(drawn.mean()) < 0.02
    assert abs(drawn.std() - 3**-0.5) < 0.01
    assert abs(np.corrcoef(drawn[1:], drawn[:-1])[0, 1]) < 0.03


def test_seeds_that_name_other_notes_differ() -> None:
    """Two thousand places, two thousand seeds; the order of the parts counts, and they may be negative."""
    seeds = {
        seed_of(bar, string, onset)
        for bar in range(40)
        for string in range(1, 7)
        for onset in range(8)
    }
    assert len(seeds) == 40 * 6 * 8
    assert seed_of(1, 2) != seed_of(2, 1)
    assert 0 <= seed_of(-1) < 2**32
