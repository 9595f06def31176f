"""The words of the song as a book has them."""

from __future__ import annotations

import pytest

from fretloom.notation.model.details.sung import as_written


@pytest.mark.parametrize(
    ("bars", "read"),
    [
        (["Keep it burn-ing"], "Keep it burning"),
        (["door a-", "jar"], "door ajar"),
        (["", "low -", "low"], "low - low"),
        (["tea-pot\u202e"], "teapot"),
        ([], ""),
    ],
)
def test_syllables_are_not_divided(bars: list[str], read: str) -> None:
    assert as_written(bars) == read
