"""Findings are held against errors in steps that grow with their number, and not with its square."""

from __future__ import annotations

import sys
from types import FrameType
from typing import Any

import pytest

import fretloom
from fretloom.performance.reading import read_through
from fretloom.rules import causes, consequences, definitions
from fretloom.rules.consequences import without_consequences

_FILES = {causes.__file__, consequences.__file__, definitions.__file__}
_HEAD = 'lesson "T"\nvoicings\n  C  x32010\n'

#: Lessons with so many faults of one kind, which thousands of lines could have.
MANY = {
    "voicings that are not there": lambda n: (
        _HEAD + "section tune\n" + "".join(f"  C{at} {{ p, p, p, p }}\n" for at in range(n))
    ),
    "voicings like others that are not there": lambda n: (
        _HEAD + "".join(f"  C.a{at}  like Q{at}\n" for at in range(n))
    ),
    "voicings like one another, the first of them wrong": lambda n: (
        'lesson "T"\nvoicings\n  C.a0  022100\n'
        + "".join(f"  C.a{at + 1}  like C.a{at}\n" for at in range(n))
    ),
    "sections that are not there": lambda n: (
        'lesson "T"\nform\n' + "".join(f"  a{at}\n" for at in range(n))
    ),
    "chords that do not sound": lambda n: (
        'lesson "T"\nvoicings\n'
        + "".join(f"  G.a{at}  022{at % 10}00  fingers 1234..\n" for at in range(n))
    ),
}


def steps(text: str) -> int:
    """Count the instructions that leaving consequences out takes."""
    lesson = fretloom.loads(text)
    reading, found = read_through(lesson), [*lesson.faults]
    found += [*reading.expansion.diagnostics, *fretloom.check(lesson)]
    count = 0

    def trace(frame: FrameType, event: str, arg: object) -> Any:
        nonlocal count
        inside = frame.f_code.co_filename in _FILES
        frame.f_trace_opcodes = inside
        count += inside and event == "opcode"
        return trace if inside else None

    before = sys.gettrace()
    sys.settrace(trace)
    try:
        without_consequences(reading, found)
    finally:
        sys.settrace(before)
    return count


@pytest.mark.parametrize("kind", MANY)
def test_twice_as_many_faults_take_twice_the_steps(kind: str) -> None:
    """With a loop in a loop they would take four times as many."""
    few, many = (steps(MANY[kind](number)) for number in (150, 300))
    assert 0 < many < 2.5 * few


def test_voicings_in_a_circle_come_to_an_end() -> None:
    """One of them is wrong: all others lean on it."""
    text = 'lesson "T"\nvoicings\n  C.a  like C.b\n  C.b  like C.c\n  C.c  like C.a\n'
    assert [one.rule for one in fretloom.check(fretloom.loads(text))].count("like-cycle") == 1
