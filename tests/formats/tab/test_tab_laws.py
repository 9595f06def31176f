"""What holds for the tab of every lesson."""

from __future__ import annotations

import re
from itertools import pairwise

from lesson_pool import LESSONS, Made
from reading_tab import bar_columns, frets_of, tab_systems

from fretloom.formats.tab.options import TabOptions
from fretloom.formats.tab.page import to_tab
from fretloom.performance.events import Timeline

WIDTHS = (60, 78, 120)


@LESSONS.law()
def test_lines_of_a_system_are_equally_long_and_their_bar_lines_aligned(
    made: Made,
) -> None:
    """Every system has a line a string, all of one length, with the bar lines one over the other."""
    timeline, chance = made.timeline, made.chance
    strings = timeline.settings.tuning.strings
    width, unrolled = chance.choice(WIDTHS), chance.choice([False, True])
    for system in tab_systems(to_tab(timeline, TabOptions(width=width, unrolled=unrolled))):
        assert len(system) == strings
        assert len({len(line) for line in system}) == 1
        assert len({tuple(bar_columns(line)) for line in system}) == 1


@LESSONS.law()
def test_only_a_single_bar_is_wider_than_the_page(made: Made) -> None:
    """Lines are broken at bar lines, so only a bar that stands alone can be too wide."""
    width = made.chance.choice(WIDTHS)
    for system in tab_systems(to_tab(made.timeline, TabOptions(width=width))):
        assert len(system[0]) <= width or len(bar_columns(system[0].replace("|:", ":"))) <= 3


@LESSONS.law()
def test_unrolled_tab_holds_every_fret_that_is_played(made: Made) -> None:
    """The frets read back from the text are those of the performance, string by string, in order."""
    timeline = made.timeline
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


@LESSONS.law()
def test_every_system_has_its_count(made: Made) -> None:
    """Directly over the strings stands a line of counts and nothing else."""
    lines = to_tab(made.timeline, TabOptions(unrolled=True)).splitlines()
    strings = {line for system in tab_systems("\n".join(lines)) for line in system}
    for above, line in pairwise(lines):
        if line in strings and above not in strings:
            assert re.fullmatch(r"( +(\d+|&|e|a|trip|let|\.|,))+", above)
