"""A fault that only follows from another is not reported."""

from __future__ import annotations

import pytest
from expanding import expand

from fretloom.notation.syntax.read import read
from fretloom.source import Source

BODY = """
voicings
  E 022100
  A 002220
patterns
  waltz: p, i, m
  turn: p, m, i
section verse 2 bars using waltz
  E | A
"""


def _found(text: str) -> list[tuple[str, str]]:
    expansion = expand(read(Source("test.lesson", text)))
    return [(one.rule, one.message) for one in expansion.diagnostics]


@pytest.mark.parametrize(
    "heading",
    [
        'lesson "Test"\n  meter\n',
        'lesson "Test"\n  ,meter 3/4\n',
        'lesson "Test"\n  metre 3/4\n',
        'lesson "Test"\npicking\n  meter 3/4\n',
        "  meter 3/4\n",
        'lesson "Test"  meter 3/4\n',
        'lesson meter Test"\n',
        'lesson "Test"\nform\n  meter: 3/4\n',
    ],
)
def test_a_meter_that_was_not_read_decides_nothing(heading: str) -> None:
    """The line is reported where it is read; no pattern is blamed for having three beats."""
    assert read(Source("test.lesson", heading + BODY)).faults
    blamed = [message for _, message in _found(heading + BODY) if "the pattern" in message]
    assert [one for one in blamed if "all patterns" not in one] == []


def test_a_meter_forgotten_is_one_fault() -> None:
    """When all patterns agree on three beats it is the heading that lacks something."""
    ((rule, message),) = _found('lesson "Test"\n' + BODY)
    assert rule == "pattern-beats"
    assert "no meter is given, so 4/4 is assumed, but all patterns have 3 beats" in message


def test_one_short_pattern_is_its_own_fault() -> None:
    """A slip in one of two patterns does not put the meter in doubt."""
    text = 'lesson "Test"\n' + BODY.replace("turn: p, m, i", "turn: p, m, i, m")
    assert [message for _, message in _found(text)] == [
        "the pattern waltz has 3 beats, but 4/4 has 4"
    ]


def test_a_form_without_its_opening_line() -> None:
    """Sections among the bars of the last one: one fault, and its length is not judged."""
    text = 'lesson "Test"\n  meter 3/4\n' + BODY + "\n  verse\n  verse\n"
    ((rule, message),) = _found(text)
    assert rule == "unknown-voicing"
    assert message.startswith("verse is a section")


@pytest.mark.parametrize(
    ("line", "block"), [("hand small", "the heading"), ("show voicing E", "a step")]
)
def test_a_line_of_another_block_among_the_bars(line: str, block: str) -> None:
    """It was read as voicings; what it is gets said once."""
    ((_, message),) = _found('lesson "Test"\n  meter 3/4\n' + BODY + f"  {line}\n")
    assert f"belongs to {block}" in message


def test_a_use_line_that_was_not_read() -> None:
    """What it would have brought in is not called unknown."""
    text = (
        'lesson "Test"\n  meter 3/4\nuse open.lesson\n'
        + BODY
        + "section other using waltz\n  C | G\n"
    )
    assert read(Source("test.lesson", text)).faults
    assert _found(text) == []


def test_a_repeat_line_that_was_not_read() -> None:
    """Its endings and its end are not called homeless."""
    text = 'lesson "Test"\n  meter 3/4\n' + BODY.replace("2 bars ", "")
    text += "  repeat two\n  E\n  ending 1: A\n  ending 2: E\n  end\n"
    assert read(Source("test.lesson", text)).faults
    assert _found(text) == []
