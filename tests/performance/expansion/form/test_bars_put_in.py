"""What a bar takes from the one it stands for, and where it is in its section's pattern."""

from __future__ import annotations

import pytest
from expanding import expand
from timeline_lessons import HEAD, bars_of

from fretloom.notation.syntax.read import read
from fretloom.source import Source

TWO_BARS = """patterns
  answer  p , p , p , p | p , - , p , -
section verse using answer
  E | A | E | A
form
  verse
"""


def test_a_repeated_bar_is_not_early_again() -> None:
    """The hand is there early for the bar that says so; the `%` after it is taken on its first beat."""
    bars = bars_of("section verse using bassline\n  C | A E early on 4& | %\n")
    taken = [[(one.voicing.name, str(one.onset)) for one in bar.voicings] for bar in bars]
    assert taken == [
        [("C", "0"), ("A", "7/2")],
        [("A", "0"), ("E", "2")],
        [("A", "0"), ("E", "2")],
    ]


@pytest.mark.parametrize(
    ("but", "plucks"),
    [
        ("bars 2-3: B7 | C", [4, 2, 4, 2]),
        ("bar 3: B7 | C", [4, 2, 4, 2, 2]),
        ("bars 2-4: B7", [4, 2]),
        ("bar 2: B7 | C | D", [4, 2, 4, 2, 4, 2]),
        ("last bar: B7 x2", [4, 2, 4, 2, 4]),
    ],
)
def test_bars_put_in_go_on_with_the_pattern(but: str, plucks: list[int]) -> None:
    """The first of them has the place of the bar it is played for, the others follow on."""
    bars = bars_of(f"{TWO_BARS}    but {but}\n")
    assert [len(bar.notes) for bar in bars] == plucks


def test_each_bar_played_as_written_is_the_one_in_its_place() -> None:
    """`same x2` for bars 1 and 2 keeps their two voicings, and changes only the pattern."""
    bars = bars_of(f"{TWO_BARS}    but bars 1-2: same x2 using bassline\n")
    assert [bar.voicings[0].voicing.name for bar in bars] == ["E", "A", "E", "A"]
    assert [bar.pattern for bar in bars] == ["bassline", "bassline", "answer", "answer"]


def test_nothing_is_said_of_a_bar_like_one_that_could_not_be_read() -> None:
    """What `%` stands for is not known, so it is silent, and no second fault is found."""
    text = HEAD.format(fields="") + "section verse using bassline\n  E | A:: | %\n"
    lesson = read(Source("test.lesson", text))
    expansion = expand(lesson)
    assert lesson.faults
    assert expansion.diagnostics == ()
    assert [len(played.bar.notes) for played in expansion.timeline.bars] == [4, 0, 0]
