"""Tab in plain text, to be printed, mailed or read in any editor.

One line for each string, string 1 on top; over them the section's cues, the chords at their beat
and the count; under them the picking fingers, the thumb in a line of its own. Lines are broken at
bar lines only. By default each section is written once, with repeat signs, and the form is listed
in words; `unrolled` writes the whole performance.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate, groupby

from attrs import evolve

from fretloom.formats.shape import Output, file_name
from fretloom.formats.tab.drawing.bars import Sketcher
from fretloom.formats.tab.drawing.drawn import Drawn
from fretloom.formats.tab.drawing.layout import columns_per_quarter
from fretloom.formats.tab.drawing.marks import InForce
from fretloom.formats.tab.drawing.systems import systems
from fretloom.formats.tab.heading import (
    form_lines,
    heading,
    used_voicings,
    voicing_table,
)
from fretloom.formats.tab.left_out import left_out
from fretloom.formats.tab.legend import legend
from fretloom.formats.tab.options import TabOptions
from fretloom.formats.tab.patterns import PatternAlone, alone, drawn_alone
from fretloom.formats.tab.steps import StepWriter
from fretloom.formats.tab.text import clean, hang, width_of
from fretloom.formats.tab.variants import Stretch, Variant, variants
from fretloom.formats.tab.words import PlayingNames, string_names
from fretloom.memory import no_collection
from fretloom.notation.model.step import Step
from fretloom.performance.events import PlayedBar, TimedBar, Timeline, WrittenSection
from fretloom.performance.printed_names import in_print, printed_names
from fretloom.performance.reading import Reading
from fretloom.trade.phrases.table import say
from fretloom.values import frozen


@frozen
class _Block:
    """A title and the bars under it; "" if they go on under the title before."""

    title: str
    bars: Sequence[Drawn]


def write(reading: Reading, options: TabOptions) -> tuple[Output, ...]:
    """Write a lesson as tab in plain text."""
    with no_collection():
        text = to_tab(reading.timeline, options, reading.material.steps, alone(reading))
        left = left_out(reading, options)
    return (Output(file_name(reading.lesson, ".txt"), text, left),)


def to_tab(
    timeline: Timeline,
    options: TabOptions,
    steps: tuple[Step, ...] = (),
    patterns: tuple[PatternAlone, ...] = (),
) -> str:
    """Return a timeline as tab in plain text, with the steps in which to learn it and its patterns alone."""
    width = options.width
    settings = timeline.settings
    used = used_voicings(timeline)
    names = printed_names(used)
    shown = {name: clean(printed) for name, printed in names.items()}
    strings = string_names(settings.tuning)
    label = max(map(len, strings))
    sketcher = Sketcher(
        shown, settings.tuning.strings, columns_per_quarter(_bars(timeline), width - label)
    )
    playings = PlayingNames(timeline)
    draw = _played if options.unrolled else _written
    blocks = list(draw(timeline, sketcher, playings))
    parts = [heading(settings, width), voicing_table(used, settings, width)]
    picking = drawn_alone(patterns, timeline, sketcher)
    parts += _tab(
        (_Block("" if at else say("text-tab.picking"), one) for at, one in enumerate(picking)),
        strings,
        width,
    )
    parts += _tab(blocks, strings, width)
    if timeline.form and not options.unrolled:
        parts.append(form_lines(timeline, playings, names, width))
    said = {
        name: clean(one) for name, one in printed_names(list(timeline.voicings.values())).items()
    }
    parts.append(StepWriter(timeline, said | shown, playings, width).lines(steps))
    drawn = [bar for bars in (*picking, *(block.bars for block in blocks)) for bar in bars]
    parts.append(legend(drawn, used, width))
    if clean(settings.rights):
        parts.append(hang("", clean(settings.rights), width, 0))
    return "\n\n".join("\n".join(lines) for lines in parts if lines) + "\n"


def _bars(timeline: Timeline) -> Iterator[TimedBar]:
    """Yield each bar that can be printed once."""
    written = (one.bar for section in timeline.sections for one in section.bars)
    played = (one.bar for one in timeline.bars)
    yield from {bar.serial: bar for bars in (written, played) for bar in bars}.values()


def _tab(blocks: Iterable[_Block], names: Sequence[str], width: int) -> Iterator[list[str]]:
    for block in blocks:
        title = hang("", block.title, width, 0) if block.title else []
        rule = ["-" * max(map(width_of, title))] if title else []
        for place, lines in enumerate(systems(block.bars, names, width)):
            yield [*title, *rule, *lines] if place == 0 else lines


def _written(timeline: Timeline, sketcher: Sketcher, playings: PlayingNames) -> Iterator[_Block]:
    """Yield each section once, and after it the playings that differ from it."""
    usual = TimedBar(meter=timeline.settings.meter, length=timeline.settings.meter.length)
    changes: dict[str, list[Variant]] = {}
    for change in variants(timeline):
        changes.setdefault(change.section, []).append(change)
    for section in timeline.sections:
        bars = sketcher.written(section.bars, usual)
        if bars:
            yield _Block(f"{playings.title(section.name)}, {_size(section)}", bars)
        for change in changes.get(section.name, ()):
            title = _variant_title(change, playings, sketcher.names)
            for run in change.runs:
                yield _Block(title, _drawn(run, sketcher))
                title = ""


def _drawn(run: Stretch, sketcher: Sketcher) -> list[Drawn]:
    """Draw bars that differ; what is asked of them besides is in the section and the order."""
    drawn = sketcher.folded(
        sketcher.one_by_one(run.bars, run.before, run.sung, [()] * len(run.bars))
    )
    if not run.place:
        return drawn
    later = say("text-tab.continued", place=run.place)
    return [evolve(bar, place=later if number else run.place) for number, bar in enumerate(drawn)]


def _size(section: WrittenSection) -> str:
    count = max(written.number for written in section.bars)
    size = say("text-tab.one-bar") if count == 1 else say("text-tab.so-many-bars", count=count)
    if section.bars[0].number == 0:
        size = say("text-tab.after-a-pickup", size=size)
    if not section.pattern:
        return size
    return f"{size}, {say('text-tab.in-pattern', name=clean(section.pattern))}"


def _variant_title(change: Variant, playings: PlayingNames, names: dict[str, str]) -> str:
    words = clean(in_print(change.words, names))
    return f"{playings.playings(change.section, change.entries)}: {words}"


def _played(timeline: Timeline, sketcher: Sketcher, playings: PlayingNames) -> Iterator[_Block]:
    """Yield every playing of every section in full, its bars numbered from 1, a pickup not counted."""
    before: TimedBar | None = None
    now = InForce(timeline.settings.tempo)
    for _, group in groupby(timeline.bars, _playing):
        bars = list(group)
        numbers = accumulate(int(one.bar.kind != "pickup") for one in bars)
        counted = [evolve(one, number=number) for one, number in zip(bars, numbers, strict=True)]
        drawn, now = sketcher.played(counted, before, now)
        yield _Block(playings.playing(bars[0]), drawn)
        before = bars[-1].bar


def _playing(played: PlayedBar) -> tuple[int, int, str]:
    return played.entry, played.playing, played.section
