"""What holds for the tab of every lesson."""

from __future__ import annotations

import re
from itertools import pairwise

from expanding import expand
from hypothesis import given, settings
from hypothesis import strategies as st
from reading_tab import bar_columns, frets_of, tab_systems
from strategies import lessons

from fretloom.formats.tab.options import TabOptions
from fretloom.formats.tab.page import to_tab
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.performance.events import Timeline
from fretloom.source import Source


def timeline_of(lesson: Lesson) -> Timeline:
    return expand(read(Source("generated.lesson", format_lesson(lesson)))).timeline


@settings(max_examples=60)
@given(lessons(), st.booleans(), st.sampled_from([60, 78, 120]))
def test_lines_of_a_system_are_equally_long_and_their_bar_lines_aligned(
    lesson: Lesson, unrolled: bool, width: int
) -> None:
    """Every system has a line a string, all of one length, with the bar lines one over the other."""
    timeline = timeline_of(lesson)
    strings = timeline.settings.tuning.strings
    for system in tab_systems(to_tab(timeline, TabOptions(width=width, unrolled=unrolled))):
        assert len(system) == strings
        assert len({len(line) for line in system}) == 1
        assert len({tuple(bar_columns(line)) for line in system}) == 1


@settings(max_examples=60)
@given(lessons(), st.sampled_from([60, 78, 120]))
def test_only_a_single_bar_is_wider_than_the_page(lesson: Lesson, width: int) -> None:
    """Lines are broken at bar lines, so only a bar that stands alone can be too wide."""
    for system in tab_systems(to_tab(timeline_of(lesson), TabOptions(width=width))):
        assert len(system[0]) <= width or len(bar_columns(system[0].replace("|:", ":"))) <= 3


@settings(max_examples=60)
@given(lessons())
def test_unrolled_tab_holds_every_fret_that_is_played(lesson: Lesson) -> None:
    """The frets read back from the text are those of the performance, string by string, in order."""
    timeline = timeline_of(lesson)
    systems = tab_systems(to_tab(timeline, TabOptions(unrolled=True)))
    for string in range(1, timeline.settings.tuning.strings + 1):
        assert frets_of(systems, string) == _played(timeline, string)


def _played(timeline: Timeline, string: int) -> list[str]:
    frets: list[str] = []
    for bar in timeline.bars:
        placed = [
            (note.onset, "x" if note.dead else str(note.fret))
            for note in bar.bar.notes
            if note.string == string
        ]
        placed += [
            (slur.onset, str(slur.fret))
            for note in bar.bar.notes
            if note.string == string
            for slur in note.slurs
        ]
        frets += [fret for _, fret in sorted(placed, key=lambda one: one[0])]
    return frets


@settings(max_examples=60)
@given(lessons())
def test_every_system_has_its_count(lesson: Lesson) -> None:
    """Directly over the strings stands a line of counts and nothing else."""
    lines = to_tab(timeline_of(lesson), TabOptions(unrolled=True)).splitlines()
    strings = {line for system in tab_systems("\n".join(lines)) for line in system}
    for above, line in pairwise(lines):
        if line in strings and above not in strings:
            assert re.fullmatch(r"( +(\d+|&|e|a|trip|let|\.|,))+", above)
