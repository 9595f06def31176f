"""What holds for the tab of every lesson."""

from __future__ import annotations

import re
from itertools import pairwise

from lesson_pool import LESSONS, Made
from reading_tab import bar_columns, frets_of, tab_systems

from fretloom.formats.tab.options import TabOptions
from fretloom.formats.tab.page import to_tab
from fretloom.formats.tab.patterns import alone
from fretloom.formats.tab.text import clean
from fretloom.performance.events import Timeline
from fretloom.performance.manner import Sung
from fretloom.performance.reading import read_through
from fretloom.text import columns

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
def test_nothing_is_wider_than_the_page(made: Made) -> None:
    """Whatever is on it, also where a bar, a name or the table of voicings is too wide for a line."""
    width, unrolled = made.chance.choice((40, *WIDTHS)), made.chance.choice([False, True])
    reading = read_through(made.lesson)
    options = TabOptions(width=width, unrolled=unrolled)
    text = to_tab(made.timeline, options, reading.material.steps, alone(reading))
    assert [line for line in text.splitlines() if columns(line) > width] == []


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
            (note.onset, "X" if note.dead else str(note.fret))
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
    """Directly over the strings stands a line of counts and nothing else, but for what a wide bar ends with."""
    lines = to_tab(made.timeline, TabOptions(unrolled=True)).splitlines()
    strings = {line for system in tab_systems("\n".join(lines)) for line in system}
    for above, line in pairwise(lines):
        if line in strings and above not in strings and not above.endswith(", continued"):
            assert re.fullmatch(r"( +(\d+|&|e|a|trip|let|\.|,))+", above)


@LESSONS.law()
def test_the_legend_explains_every_way_to_play_that_the_page_has_and_no_other(made: Made) -> None:
    """What is asked of notes, bars and hands is found in the performance, not on the page."""
    lines = to_tab(made.timeline, TabOptions(unrolled=True)).splitlines()
    start = lines.index("Signs") if "Signs" in lines else len(lines)
    explained = {line[2:].split("  ")[0] for line in lines[start:] if line[:2] == "  "}
    for sign, used in _asked(made.timeline).items():
        assert (sign in explained) == used, sign


def _asked(timeline: Timeline) -> dict[str, bool]:
    bars = [played.bar for played in timeline.bars]
    said = [note.technique for bar in bars for note in bar.notes]
    bends = [one.bend for one in said if one.bend is not None]
    manners = [played.manner for played in timeline.bars]
    return {
        "S": any(slap.place == "strings" for bar in bars for slap in bar.slaps),
        "B": any(slap.place == "body" for bar in bars for slap in bar.slaps),
        "(fermata)": any(bar.fermata is not None for bar in bars),
        "(m)": any(one.ghost for one in said),
        "g": any(one.grace for one in said),
        "3tr(5)": any(one.trill for one in said),
        "~": any(one.vibrato for one in said),
        "3<15>": any(one.touch is not None for one in said),
        "3'": any(one.lasting == "damped" for one in said),
        "3_": any(one.lasting == "ring" for one in said),
        "3===": any(one.held is not None for one in said),
        "3b(1/2)": any(not bend.before for bend in bends),
        "b(1/2)3": any(bend.before for bend in bends),
        "r": any(bend.release for bend in bends),
        "{slow ...}": any(one.slow for one in said),
        "free time": any(manner.free for manner in manners),
        "crescendo": any(manner.swell == "crescendo" for manner in manners),
        "diminuendo": any(manner.swell == "diminuendo" for manner in manners),
        "ritardando": any(manner.tempo_change == "ritardando" for manner in manners),
        "accelerando": any(manner.tempo_change == "accelerando" for manner in manners),
    }


@LESSONS.law()
def test_every_word_that_is_sung_is_on_the_page(made: Made) -> None:
    """Whole, or syllable by syllable; also on a page where sections stand once."""
    timeline, width = made.timeline, made.chance.choice(WIDTHS)
    played = {one.sung for one in timeline.bars if one.sung is not None}
    written = {sung for section in timeline.sections for bar in section.bars for sung in bar.sung}
    for sung, unrolled in ((played, True), (written, False)):
        words = set(to_tab(timeline, TabOptions(width=width, unrolled=unrolled)).split())
        for one in sung:
            parts = [part for text in _shown(one) for part in clean(text).split()]
            assert [part for part in parts if part not in words] == []


def _shown(sung: Sung) -> list[str]:
    return [one.text for one in sung.syllables] or [sung.text]
