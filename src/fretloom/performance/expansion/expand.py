"""A lesson to what is played: the form to sections, sections to bars, bars to notes.

Each bar is worked out once for the company it is played in and shared from then on, so that the
cost grows with what is written and not with what is played.
"""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.diagnostics import Diagnostic
from fretloom.notation.model.form import FormEntry
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.section import BarLine, Section
from fretloom.performance.events import (
    FormLine,
    PlayedBar,
    TimedBar,
    Timeline,
    WrittenBar,
    WrittenSection,
)
from fretloom.performance.expansion.bars.ring import RingBook
from fretloom.performance.expansion.bars.scores import ScoreBook
from fretloom.performance.expansion.bars.template import Template
from fretloom.performance.expansion.doubts import note_doubts
from fretloom.performance.expansion.faults import Faults, counted
from fretloom.performance.expansion.form.changes import Playing, plan_playing
from fretloom.performance.expansion.form.repeats import MOST_PLAYED
from fretloom.performance.expansion.form.slots import Slot
from fretloom.performance.expansion.form.structure import Plan, plan_section
from fretloom.performance.expansion.resolve import Resolver
from fretloom.performance.expansion.shown import check_steps
from fretloom.performance.expansion.words import but_words
from fretloom.performance.material.gather import Material
from fretloom.values import frozen


@frozen
class Expansion:
    """What a lesson comes to: its timeline, and the faults found on the way.

    After a fault the timeline holds what could be made out: bars whose voicing or pattern is
    unknown are silent, sections that are unknown are left out, and it has no bars at all when they
    would be too many.
    """

    timeline: Timeline
    diagnostics: tuple[Diagnostic, ...] = ()


#: More notes than a day of playing holds; exporters would need gigabytes for them.
MOST_NOTES = 500_000


def expand(lesson: Lesson, material: Material) -> Expansion:
    """Expand a lesson, given what was gathered for it. Never raises for a faulty one."""
    expander = _Expander(lesson, material)
    found = expander.run()
    if not expander.material.open_fingers:
        return found
    from fretloom.performance.hands.song_fingers import song_fingers

    chosen = song_fingers(found.timeline, expander.material.open_fingers)
    if not chosen:
        return found
    material.chosen_fingers = chosen
    again = _Expander(lesson, material)
    return again.run()


def distinct_bars(timeline: Timeline) -> Iterator[tuple[PlayedBar, TimedBar]]:
    """Yield each timed bar of the performance once, with its first playing."""
    seen: set[int] = set()
    for played in timeline.bars:
        if id(played.bar) not in seen:
            seen.add(id(played.bar))
            yield played, played.bar


class _Occurrence:
    """A bar in performing order, before it is timed."""

    __slots__ = ("entry", "first", "pass_", "playing", "slot")

    def __init__(self, slot: Slot, playing: Playing, entry: int, pass_: int, first: bool) -> None:
        self.slot = slot
        self.playing = playing
        self.entry = entry
        self.pass_ = pass_
        self.first = first


class _Expander:
    def __init__(self, lesson: Lesson, material: Material) -> None:
        self.faults = Faults(lesson.source)
        self.material = material
        note_doubts(lesson, self.material, self.faults)
        self.resolver = Resolver(self.material, self.faults)
        self.scores = ScoreBook(self.resolver)
        self.rings = RingBook()
        self.plans: dict[str, Plan | None] = {}
        #: Timed bars of written ones, from their first performance.
        self.seen: dict[int, TimedBar] = {}

    def run(self) -> Expansion:
        self.resolver.check_own()
        meter = self.resolver.settings.meter
        for name, section in self.material.sections.items():
            strays = self.strays(section)
            self.plans[name] = plan_section(section, meter, self.faults, whole=not strays)
        entries = self.entries()
        playings = [self.playing(entry) for entry in entries]
        bars = self.played(self.occurrences(entries, playings))
        notes = sum(len(played.bar.notes) for played in bars)
        if notes > MOST_NOTES:
            span = self.material.form.span if self.material.form else None
            message = f"the lesson would pluck {notes} notes; {MOST_NOTES} is the most"
            self.faults.add(
                "too-many-bars", span, message, "play less of it, or pluck less in a beat"
            )
            bars = ()
        sections = tuple(
            self.written_section(plan) for plan in self.plans.values() if plan is not None
        )
        check_steps(self.material.steps, self.resolver, self.plans)
        timeline = Timeline(
            settings=self.resolver.settings,
            bars=bars,
            voicings=self.resolver.voicings.used(),
            sections=sections,
            form=self.form_lines(entries),
        )
        return Expansion(timeline, self.faults.found())

    def strays(self, section: Section) -> bool:
        """Note lines of other blocks among a section's bars, which were read as voicings."""
        found = False
        for line in section.lines:
            if not isinstance(line, BarLine):
                continue
            names = [part.voicing for bar in line.bars for part in bar.parts]
            if names and self.resolver.stray(names, line.span):
                found = True
        return found

    # The form

    def entries(self) -> list[FormEntry]:
        """Return the entries of the form; without one, the sections as written."""
        form = self.material.form
        if form is None:
            return [FormEntry(section=name) for name in self.material.sections]
        return [entry for entry in form.entries if isinstance(entry, FormEntry)]

    def playing(self, entry: FormEntry) -> Playing | None:
        if entry.section not in self.plans:
            span = entry.section_span or entry.span
            self.resolver.section_unknown(entry.section, span, "the form")
            return None
        plan = self.plans[entry.section]
        if plan is None:
            return None
        return plan_playing(plan, entry, self.resolver.settings.tempo, self.faults)

    def occurrences(
        self, entries: list[FormEntry], playings: list[Playing | None]
    ) -> list[_Occurrence]:
        """Return all bars in performing order; none, with a fault, where they are too many."""
        total = 0
        for entry, playing in zip(entries, playings, strict=True):
            total += playing.count() * entry.times if playing else 0
        if total > MOST_PLAYED:
            self.too_many(total, entries, playings)
            return []
        return [
            _Occurrence(slot, playing, number, pass_, place == 0)
            for number, (entry, playing) in enumerate(zip(entries, playings, strict=True))
            if playing is not None
            for pass_, slots in _passes(entry.times, playing)
            for place, slot in enumerate(slots)
        ]

    def too_many(
        self, total: int, entries: list[FormEntry], playings: list[Playing | None]
    ) -> None:
        sizes = [
            (playing.count() * entry.times, entry, playing.plan.section)
            for entry, playing in zip(entries, playings, strict=True)
            if playing is not None
        ]
        _, entry, section = max(sizes, key=lambda size: size[0])
        message = f"the form would play {counted(total, 'bar')}; {MOST_PLAYED} is the most"
        hint = f"most of them come from {section.name}: let it be played less often"
        self.faults.add("too-many-bars", entry.span or section.name_span, message, hint)

    def form_lines(self, entries: list[FormEntry]) -> tuple[FormLine, ...]:
        lines = []
        for entry in entries:
            plan = self.plans.get(entry.section)
            if plan is not None:
                differences = tuple(but_words(but) for but in entry.buts)
                title = plan.section.title
                lines.append(
                    FormLine(
                        section=entry.section,
                        title=title,
                        times=entry.times,
                        differences=differences,
                    )
                )
        return tuple(lines)

    # The bars

    def timed(self, slots: list[Slot], playings: list[Playing]) -> list[TimedBar]:
        """Return bars played one after the other, with their rings."""
        scores, rings = self.scores, self.rings
        following: list[Slot | None] = [*slots[1:], None]
        written = [
            scores.written(slot, playing, after)
            for slot, playing, after in zip(slots, playings, following, strict=False)
        ]
        templates: list[Template] = [bar.template for bar in written]
        return [
            scores.timed(bar, rings.rings(templates, index)) for index, bar in enumerate(written)
        ]

    def played(self, occurrences: list[_Occurrence]) -> tuple[PlayedBar, ...]:
        if not occurrences:
            return ()
        self.check_first(occurrences[0].slot)
        timed = self.timed([one.slot for one in occurrences], [one.playing for one in occurrences])
        shift = 1 if timed[0].kind == "pickup" else 0
        bars: list[PlayedBar] = []
        for index, (one, bar) in enumerate(zip(occurrences, timed, strict=True), 1):
            slot, section = one.slot, one.playing.plan.section
            if slot.placed and one.playing.using == section.using:
                self.seen.setdefault(id(slot), bar)
            bars.append(
                PlayedBar(
                    index=index,
                    number=index - shift,
                    section=section.name,
                    title=section.title,
                    entry=one.entry,
                    playing=one.pass_,
                    place=slot.index if slot.placed else None,
                    first=one.first,
                    tempo=slot.tempo or one.playing.tempo,
                    bar=bar,
                )
            )
        return tuple(bars)

    def check_first(self, slot: Slot) -> None:
        """Note a first bar that wants its hand there in the bar before."""
        bar = slot.bar
        if bar.early is not None:
            message = f"{slot.where} has its hand there early, but no bar comes before it"
            hint = f"take `early on {bar.early}` out"
            self.faults.add("nothing-before", bar.early_span or bar.span, message, hint)

    def written_section(self, plan: Plan) -> WrittenSection:
        """Return a section as a page shows it, with the bars of its first performance."""
        seen = self.seen
        if any(id(slot) not in seen for slot in plan.slots):
            playing = Playing(plan, self.resolver.settings.tempo)
            timed = self.timed(plan.slots, [playing] * len(plan.slots))
            for slot, bar in zip(plan.slots, timed, strict=True):
                seen.setdefault(id(slot), bar)
        section = plan.section
        bars = tuple(_written_bar(plan, slot, seen[id(slot)]) for slot in plan.slots)
        return WrittenSection(
            name=section.name, title=section.title, pattern=section.using, bars=bars
        )


def _passes(times: int, playing: Playing) -> Iterator[tuple[int, list[Slot]]]:
    slots = playing.slots()
    return ((number, slots) for number in range(times if slots else 0))


def _written_bar(plan: Plan, slot: Slot, bar: TimedBar) -> WrittenBar:
    index = slot.index
    return WrittenBar(
        number=slot.number,
        bar=bar,
        repeats=plan.repeats.get(index, 0),
        ends=plan.ends.get(index, ()),
        passes=plan.passes.get(index, ()),
        first_of_ending=index in plan.first_of,
        last_of_ending=index in plan.last_of,
    )
