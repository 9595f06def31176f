"""PlayingNames of a section that differ from how it is written: which bars to show beside it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from attrs import evolve

from fretloom.formats.tab.text import clean
from fretloom.performance.events import (
    FormLine,
    PlayedBar,
    TimedBar,
    TimedNote,
    Timeline,
    WrittenSection,
)
from fretloom.performance.manner import Sung
from fretloom.values import frozen


@frozen
class Stretch:
    """Bars in a row that are played differently, numbered within their section.

    Args:
        bars: what is played. before: the bar before them, if there is one.
        sung: the words under each.
        place: where they belong, if their numbers cannot say it: `in place of bars 3-4`.
    """

    bars: tuple[PlayedBar, ...]
    before: TimedBar | None
    sung: tuple[tuple[Sung, ...], ...]
    place: str = ""


@frozen
class Variant:
    """Bars of a section that are played differently.

    Args:
        section: its name.
        entries: the 1-based places of the form where they are.
        words: what is different about bars there, in words.
        runs: the bars that differ.
    """

    section: str
    entries: tuple[int, ...]
    words: str
    runs: tuple[Stretch, ...]


def variants(timeline: Timeline) -> list[Variant]:
    """Return what the form changes about bars, each change once with all the places that have it."""
    found: dict[object, Variant] = {}
    sections = {section.name: section for section in timeline.sections}
    for entry, group in groupby(timeline.bars, lambda played: played.entry):
        bars = [played for played in group if played.playing == 1]
        line = timeline.form[entry - 1] if entry <= len(timeline.form) else None
        section = sections.get(bars[0].section)
        if line is None or section is None or line.section != section.name:
            continue
        words = "; ".join(clean(one.put_in or one.plain) for one in line.differences if one.of_bars)
        runs = _changed(section, bars, line) if words else ()
        if not runs:
            continue
        look = (line.section, words, tuple(_look(one.bar) for run in runs for one in run.bars))
        known = found.get(look)
        if known is None:
            found[look] = Variant(line.section, (entry,), words, runs)
        else:
            found[look] = evolve(
                known, entries=(*known.entries, entry), runs=_for_all(known.runs, section)
            )
    return list(found.values())


def _for_all(runs: Sequence[Stretch], section: WrittenSection) -> tuple[Stretch, ...]:
    """Return bars that several places of the form have, with the words of every time."""
    words = {bar.number: bar.sung for bar in section.bars}
    return tuple(
        evolve(
            run,
            sung=tuple(
                words.get(one.number, ()) if was else ()
                for one, was in zip(run.bars, run.sung, strict=True)
            ),
        )
        for run in runs
    )


def _changed(
    section: WrittenSection, played: Sequence[PlayedBar], line: FormLine
) -> tuple[Stretch, ...]:
    """Return the runs of bars that differ, each once."""
    alike = [one.written is not None and _same_look(section, one) for one in played]
    runs: dict[object, Stretch] = {}
    for same, places in groupby(range(len(played)), lambda place: alike[place]):
        for run in () if same else _runs(section, played, list(places)):
            look = tuple((one.number, _look(one.bar)) for one in run.bars)
            runs.setdefault(look, run)
    found = tuple(runs.values())
    return found if line.times == 1 else _for_all(found, section)


def _runs(
    section: WrittenSection, played: Sequence[PlayedBar], places: Sequence[int]
) -> list[Stretch]:
    """Return a run of bars that differ, in parts where numbers cannot say which bars they are in place of."""
    parts: list[Stretch] = []
    for _, group in groupby(places, lambda place: played[place].written is None):
        part = list(group)
        run = _run(section, played, part)
        if parts and not (parts[-1].place or run.place):
            before = parts.pop()
            run = Stretch((*before.bars, *run.bars), before.before, (*before.sung, *run.sung))
        parts.append(run)
    return parts


def _run(section: WrittenSection, played: Sequence[PlayedBar], places: Sequence[int]) -> Stretch:
    bars = [played[place] for place in places]
    numbers = [one.place for one in bars]
    place = ""
    if bars[0].written is None:
        after = played[places[-1] + 1].place if places[-1] + 1 < len(played) else 0
        end = after if after > numbers[-1] else numbers[-1] + 1
        if after == 0:
            end = max(bar.number for bar in section.bars) + 1
        if numbers != list(range(numbers[0], end)):
            which = f"bar {numbers[0]}" if end - numbers[0] == 1 else f"bars {numbers[0]}-{end - 1}"
            place = f"in place of {which}"
            numbers = list(range(numbers[0], numbers[0] + len(bars)))
    return Stretch(
        bars=tuple(evolve(one, number=number) for one, number in zip(bars, numbers, strict=True)),
        before=played[places[0] - 1].bar if places[0] else None,
        sung=tuple((evolve(one.sung, verse=None),) if one.sung else () for one in bars),
        place=place,
    )


def _same_look(section: WrittenSection, played: PlayedBar) -> bool:
    assert played.written is not None
    written = section.bars[played.written - 1].bar
    return written is played.bar or _look(written) == _look(played.bar)


def _look(bar: TimedBar) -> object:
    """Return what is on paper of a bar; how long notes ring does not count."""
    return (
        tuple(map(_bare, bar.notes)),
        tuple((one.onset, one.voicing.name) for one in bar.voicings),
        (bar.slaps, bar.release, bar.stop, bar.fermata, bar.rest),
    )


def _bare(note: TimedNote) -> TimedNote:
    return evolve(note, ring=note.length)
