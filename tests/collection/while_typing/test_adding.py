"""Where the line of a new voicing goes."""

from __future__ import annotations

import pytest

from fretloom import apply_edits
from fretloom.collection.while_typing.adding import added
from fretloom.source import Source


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("", "\nvoicings\n  C  x\n"),
        ('lesson "A"', 'lesson "A"\n\nvoicings\n  C  x\n'),
        ("voicings\n", "voicings\n  C  x\n"),
        ("voicings\n\tD  y  # here\n\nsection a\n  D\n", "voicings\n\tD  y  # here\n\tC  x\n\nsection a\n  D\n"),
        ("# why\nsection a\r\n  D\r\n", "voicings\r\n  C  x\r\n\r\n# why\nsection a\r\n  D\r\n"),
        ('lesson "A"\n\nuse "b.lesson"\n\nform\n  a\n', 'lesson "A"\n\nuse "b.lesson"\n\nvoicings\n  C  x\n\nform\n  a\n'),
    ],
)  # fmt: skip
def test_it_goes_where_a_teacher_would_write_it(before: str, after: str) -> None:
    """Below the last voicing, as far in as that, or in a block of its own before what uses it."""
    assert apply_edits(before, [added(Source("", before), "C  x")]) == after
