"""What holds for every lesson that is written well."""

from __future__ import annotations

from fractions import Fraction

from attrs import evolve
from expanding import expand
from lesson_pool import LESSONS, Made

from fretloom.notation.model.form import Form, FormEntry
from fretloom.performance.events import Timeline
from fretloom.rule_facts import Severity


@LESSONS.law()
def test_a_lesson_written_well_expands_without_an_error(made: Made) -> None:
    """Nothing is found wrong where nothing is (the lessons made know nothing of short necks)."""
    found = made.expansion.diagnostics
    errors = [one for one in found if one.severity is Severity.ERROR]
    assert [one.message for one in errors if one.rule != "no-such-fret"] == []


@LESSONS.law()
def test_notes_lie_within_their_bar(made: Made) -> None:
    """Every pluck falls in its bar, its place does not cross the bar line, and they come in order."""
    for _, bar in made.expansion.timeline.distinct_bars():
        assert 0 < bar.length <= bar.meter.length
        assert bar.start + bar.length <= bar.meter.length
        for note in bar.notes:
            assert 0 <= note.onset < bar.length
            assert note.length > 0
            assert note.onset + note.length <= bar.length
            assert note.ring > 0
        onsets = [note.onset for note in bar.notes]
        assert onsets == sorted(onsets)


@LESSONS.law()
def test_no_string_sounds_twice_at_once(made: Made) -> None:
    """A string that is plucked again has stopped ringing by then."""
    timeline = made.expansion.timeline
    free_from: dict[int, Fraction] = {}
    for onset, string, ring in _sounds(timeline):
        assert onset >= free_from.get(string, 0)
        free_from[string] = onset + ring


def _sounds(timeline: Timeline) -> list[tuple[Fraction, int, Fraction]]:
    start = Fraction(0)
    sounds = []
    for played in timeline.bars:
        sounds += [(start + note.onset, note.string, note.ring) for note in played.bar.notes]
        start += played.bar.length
    return sounds


@LESSONS.law()
def test_nothing_rings_past_the_end(made: Made) -> None:
    """The piece is over when its last bar is."""
    timeline = made.expansion.timeline
    end = timeline.length
    assert all(onset + ring <= end for onset, _, ring in _sounds(timeline))


@LESSONS.law()
def test_shared_bars_equal_bars_computed_alone(made: Made) -> None:
    """A form played as written out by hand, each entry a section of its own, comes to the same."""
    together, lesson = made.expansion, made.lesson
    if lesson.form is None or any(len(one.buts) for one in lesson.form.entries):  # type: ignore[union-attr]
        return
    sections = {section.name: section for section in lesson.sections}
    copies, entries = [], []
    for entry in lesson.form.entries:
        assert isinstance(entry, FormEntry)
        for _ in range(entry.times):
            name = f"copy-{len(copies)}"
            copies.append(evolve(sections[entry.section], name=name))
            entries.append(FormEntry(section=name))
    blocks = [block for block in lesson.blocks if block is not lesson.form]
    alone = expand(evolve(lesson, blocks=(*blocks, *copies, Form(entries=tuple(entries)))))
    assert [one.bar for one in alone.timeline.bars] == [one.bar for one in together.timeline.bars]
    assert len(list(together.timeline.distinct_bars())) <= len(list(alone.timeline.distinct_bars()))


@LESSONS.law()
def test_expanding_twice_gives_the_same(made: Made) -> None:
    """There is no chance in it."""
    assert expand(made.lesson) == made.expansion
