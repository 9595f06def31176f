"""Words that no playing sings."""

from __future__ import annotations

import pytest

import fretloom

HEAD = """\
lesson "Two cups"

voicings
  C  x32010  fingers .32.1.

patterns
  plain  p , p m , p i , p m

section tune  using plain
"""


@pytest.mark.parametrize(
    ("body", "messages"),
    [
        ('  C\n  words 1: "a"\n  words 2: "b"\nform\n  tune x2\n', []),
        (
            '  C\n  words 1: "a"\n  words 3: "b"\nform\n  tune x2\n',
            ["the words for time 3 are never sung: these bars come 2 times in the song"],
        ),
        (
            '  repeat 2\n  C\n  words 2: "a"\n  end\n  C\n  words 2: "b"\nform\n  tune\n',
            ["the words for time 2 are never sung: these bars come 1 time in the song"],
        ),
        (
            '  C\n  words 1: "a"\n  words: "b"\nform\n  tune\n',
            ["these words are never sung: these bars come 1 time in the song, and each time has words of its own"],
        ),
        ('  C\n  words 1: "a"\nform\n  tune\n  tune\n    but words 2\n', ["tune has no words 2"]),
        ('  C\n  words 1: "a"\n  words 3: "b"\nform\n  tune\n  tune\n    but words 3\n', []),
        ('  C\nsection other  using plain\n  C\n  words 2: "a"\nform\n  tune\n', []),
        ('  C | C\n  words 5: "a" | "b"\n', ["the words for time 5 are never sung: these bars come 1 time in the song"]),
    ],
)  # fmt: skip
def test_words_for_a_time_that_never_comes(body: str, messages: list[str]) -> None:
    """Each line of words once, and each playing that asks for what is not there."""
    found = fretloom.check(fretloom.loads(HEAD + body))
    assert [one.message for one in found if one.rule == "words-never-sung"] == messages
