"""Playings of a section that differ from how it is written: which bars to show beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from attrs import evolve

from fretloom.formats.tab.text import clean
from fretloom.performance.events import PlayedBar, TimedBar, TimedNote, Timeline, WrittenSection
from fretloom.values import frozen


@frozen
class Variant:
    """Bars of a section that are played differently.

    Args:
        section: its name.
        entries: the 1-based places of the form where they are.
        words: the differences in the lesson's words.
        bars: the bars that differ, numbered within the section.
        before: the bar before the first of them, if there is one.
    """

    section: str
    entries: tuple[int, ...]
    words: str
    bars: tuple[PlayedBar, ...]
    before: TimedBar | None


def variants(timeline: Timeline) -> list[Variant]:
    """Return what the form changes, each change once with all the places that have it."""
    found: dict[tuple[str, str], Variant] = {}
    sections = {section.name: section for section in timeline.sections}
    for entry, group in groupby(timeline.bars, lambda played: played.entry):
        bars = [played for played in group if played.playing == 1]
        line = timeline.form[entry - 1] if entry <= len(timeline.form) else None
        section = sections.get(bars[0].section)
        if line is None or section is None or line.section != section.name:
            continue
        words = "; ".join(clean(one.short) for one in line.differences)
        known = found.get((line.section, words))
        if known is not None:
            found[line.section, words] = evolve(known, entries=(*known.entries, entry))
        elif words:
            shown, before = _changed(section, bars)
            if shown:
                found[line.section, words] = Variant(line.section, (entry,), words, shown, before)
    return list(found.values())


def _changed(
    section: WrittenSection, played: Sequence[PlayedBar]
) -> tuple[tuple[PlayedBar, ...], TimedBar | None]:
    """Return the bars from the first to the last that differ, and the bar before them."""
    differs = [
        place for place, one in enumerate(played)
        if one.written is None or not _alike(section.bars[one.written - 1].bar, one.bar)
    ]  # fmt: skip
    if not differs:
        return (), None
    first, last = differs[0], differs[-1]
    numbered = list(_numbered(played))[first : last + 1]
    return tuple(numbered), played[first - 1].bar if first else None


def _numbered(played: Sequence[PlayedBar]) -> Iterator[PlayedBar]:
    """Number the bars within the playing, a pickup being 0."""
    number = 0
    for one in played:
        number += one.bar.kind != "pickup"
        yield evolve(one, number=number if one.bar.kind != "pickup" else 0)


def _alike(written: TimedBar, played: TimedBar) -> bool:
    """Whether two bars look the same on paper; how long notes ring does not count."""
    if written is played:
        return True
    return [_bare(note) for note in written.notes] == [_bare(note) for note in played.notes] and (
        [(one.onset, one.voicing) for one in written.voicings]
        == [(one.onset, one.voicing) for one in played.voicings]
    )


def _bare(note: TimedNote) -> TimedNote:
    return evolve(note, ring=note.length)
