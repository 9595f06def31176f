"""Where faults are kept while a text is read, and what reading leaves as it was."""

from __future__ import annotations

import gc

import pytest

from fretloom.api import loads
from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.reader import Reader
from fretloom.source import Source, Span

SOURCE = Source("tune.lesson", "one two\n")


def fault(reader: Reader, message: str) -> None:
    """Note a fault with a message of its own."""
    reader.fault("not-understood", Span(SOURCE, 0, 3), message)


def test_faults_of_an_attempt_are_kept_apart() -> None:
    """They count only if they are noted; what was noted before and after stays."""
    reader = Reader(SOURCE)
    fault(reader, "before")
    with reader.attempt() as outer:
        fault(reader, "tried")
        with reader.attempt() as inner:
            fault(reader, "tried inside")
    fault(reader, "after")
    assert outer.failed
    assert [one.message for one in (*outer.faults, *inner.faults)] == ["tried", "tried inside"]
    reader.note(inner.faults)
    assert [one.message for one in reader.faults] == ["before", "after", "tried inside"]
    reader.cut(1)
    assert [one.message for one in reader.faults] == ["before"]


def test_an_attempt_without_a_fault_has_not_failed() -> None:
    """Nothing was noted."""
    with Reader(SOURCE).attempt() as attempt:
        pass
    assert not attempt.failed


@pytest.mark.parametrize(
    ("line", "wrong"),
    [("tempo 9 to 3/8", "9"), ("meter 7/5 in 7", "5"), ("capo 25 on 5 4", "25 on 5 4")],
)
def test_a_bad_value_is_marked_where_it_is_wrong(line: str, wrong: str) -> None:
    """Not more of the line than makes no sense, in the heading and in a section."""
    (found,) = loads(f'lesson "Two cups"\n  {line}\n').faults
    assert found.span.text == wrong
    if not line.startswith("capo"):
        (found,) = loads(f"section tune\n  {line}\n").faults
        assert found.span.text == wrong


def test_a_beat_can_be_too_full_in_braces_as_well() -> None:
    """49 plucks in a beat are a fault, 48 are not."""
    for plucks, faults in ((48, []), (49, ["beat-too-full"])):
        text = f"section tune\n  C {{ {' '.join(['p'] * plucks)}, p }}\n"
        assert [one.rule for one in loads(text).faults] == faults


@pytest.mark.parametrize("collects", [True, False])
def test_reading_leaves_the_collection_of_dead_objects_as_it_was(collects: bool) -> None:
    """It waits while a lesson is read, and goes on afterwards if it did before."""
    was = gc.isenabled()
    try:
        (gc.enable if collects else gc.disable)()
        read(SOURCE)
        assert gc.isenabled() is collects
    finally:
        (gc.enable if was else gc.disable)()
