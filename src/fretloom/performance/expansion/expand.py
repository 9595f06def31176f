"""A lesson to what is played: the form to sections, sections to bars, bars to notes.

Each bar is worked out once for each bar that can follow it, so that the cost grows with what is
written and not with what is played. Fingers that the lesson leaves open are chosen half way, with
the whole song in view: only the bars that they change are worked out again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import zip_longest

from fretloom.diagnostics import Diagnostic, in_order
from fretloom.notation.model.lesson import Lesson
from fretloom.performance.events import (
    PlayedBar,
    TimedBar,
    Timeline,
    WrittenBar,
    WrittenSection,
)
from fretloom.performance.expansion.bars.ring import RingBook
from fretloom.performance.expansion.bars.scores import ScoreBook, WrittenBarScore
from fretloom.performance.expansion.form.changes import Playing, as_written
from fretloom.performance.expansion.form.performing import Performer, asked
from fretloom.performance.expansion.form.plan import Plan
from fretloom.performance.expansion.form.slots import Slot
from fretloom.performance.expansion.form.songs import words_of
from fretloom.performance.expansion.resolve import Resolver
from fretloom.performance.expansion.room import Room
from fretloom.performance.expansion.shown import check_steps
from fretloom.performance.expansion.staging import Staged, stage
from fretloom.performance.expansion.workings import Workings
from fretloom.performance.hands.beside import name_fingers_beside
from fretloom.performance.material.gather import Material
from fretloom.performance.printed_names import pattern_in_print
from fretloom.values import frozen

Fingers = Mapping[str, tuple[str | None, ...]]


@frozen
class Expansion:
    """What comes of a lesson: its timeline, and the faults found on the way.

    After a fault the timeline holds what could be made out: bars whose voicing or pattern is
    unknown are silent, sections that are unknown are left out, and it has no bars at all when they
    would be too many.
    """

    timeline: Timeline
    diagnostics: tuple[Diagnostic, ...] = ()


def expand(lesson: Lesson, material: Material) -> Expansion:
    """Expand a lesson with what was gathered for it. It never raises for a faulty one."""
    staged = stage(lesson, material)
    workings = Workings()
    scored = _Scored(staged, workings, {})
    if material.open_fingers:
        from fretloom.performance.hands.song_fingers import song_fingers

        chosen = song_fingers(scored.sketch(), material.open_fingers)
        if chosen.fingers:
            scored = _Scored(staged, workings, chosen.fingers)
        scored.sure = chosen.sure
    return scored.expansion()


def expand_with(lesson: Lesson, material: Material, fingers: Fingers) -> Expansion:
    """Expand a lesson whose open fingers are known by the names of their voicings, string by string."""
    return _Scored(stage(lesson, material), Workings(), fingers).expansion()


class _Scored:
    """A lesson with every bar worked out, for one choice of fingers."""

    def __init__(self, staged: Staged, workings: Workings, fingers: Fingers) -> None:
        self.staged = staged
        self.sure = True
        self.faults = staged.faults.branch()
        self.resolver = Resolver(
            staged.material, staged.settings, self.faults, fingers, staged.strays, workings
        )
        self.resolver.check_own()
        self.scores = ScoreBook(self.resolver)
        self.rings = RingBook()
        self.room = Room()
        self.written = self.worked_out([(one.slot, one.playing) for one in staged.occurrences])
        if self.written:
            self.check_first(staged.occurrences[0].slot)
        self.room.again()

    def worked_out(self, bars: Sequence[tuple[Slot, Playing]]) -> list[WrittenBarScore]:
        """Work out bars that are played one after the other; none where they have too many notes."""
        following: list[Slot | None] = [*(slot for slot, _ in bars[1:]), None]
        written: list[WrittenBarScore] = []
        for (slot, playing), after in zip(bars, following, strict=False):
            written.append(self.scores.written(slot, playing, after))
            if not self.room.played(written[-1], written[-1].template.sounded):
                self.too_many_notes()
                return []
        return written

    def check_first(self, slot: Slot) -> None:
        """Note a first bar that wants the hand there in the bar before."""
        bar = slot.bar
        if bar.early is not None:
            message = f"{slot.where} wants the hand there early, but there is no bar before it"
            hint = f"remove `early on {bar.early}`"
            self.faults.add("nothing-before", bar.early_span or bar.span, message, hint)

    def too_many_notes(self) -> None:
        """Note that there would be too many notes, so that nothing is played."""
        form = self.staged.material.form
        self.faults.add("too-many-bars", form.span if form else None, *self.room.words())

    def sketch(self) -> Timeline:
        """Return what is played as far as the hands need to know it: without how long notes ring."""
        return self.timeline(self.played([self.scores.timed(one, None) for one in self.written]))

    def expansion(self) -> Expansion:
        """Return the performance, and the sections as a page shows them."""
        staged, timed = self.staged, self.timed(self.written)
        bars = self.played(timed)
        #: The timed bar of each written one, from its first performance as it is written.
        seen: dict[Slot, TimedBar] = {}
        for one, bar in zip(staged.occurrences, timed, strict=False):
            if one.slot.placed and one.playing.picks_as_written(one.slot):
                seen.setdefault(one.slot, bar)
        plans = [plan for plan in staged.plans.values() if plan is not None]
        sections: list[WrittenSection] = []
        for plan in plans:
            if not self.room.lacking:
                sections.append(self.section(plan, seen))
        if self.room.lacking:
            bars, sections = (), []
        check_steps(staged.material, self.resolver, staged.plans)
        timeline = self.timeline(bars, tuple(sections))
        return Expansion(name_fingers_beside(timeline), tuple(in_order(self.faults.found())))

    def timeline(
        self, bars: tuple[PlayedBar, ...], sections: tuple[WrittenSection, ...] = ()
    ) -> Timeline:
        return Timeline(
            settings=self.staged.settings,
            bars=bars,
            voicings=self.resolver.voicings.used(),
            sections=sections,
            form=self.staged.form,
            patterns={
                name: pattern_in_print(one) for name, one in self.staged.material.patterns.items()
            },
            fingers_sure=self.sure,
        )

    def timed(self, written: Sequence[WrittenBarScore]) -> list[TimedBar]:
        """Return bars played one after the other, with their rings; none where they have too many notes."""
        templates = [one.template for one in written]
        timed: list[TimedBar] = []
        for index, one in enumerate(written):
            timed.append(self.scores.timed(one, self.rings.rings(templates, index)))
            if not self.room.sounds(timed[-1].serial, one.template.sounded):
                self.too_many_notes()
                return []
        return timed

    def played(self, timed: Sequence[TimedBar]) -> tuple[PlayedBar, ...]:
        shift = 1 if timed and timed[0].kind == "pickup" else 0
        performer = Performer(self.faults)
        played: list[PlayedBar] = []
        for index, (one, bar) in enumerate(zip(self.staged.occurrences, timed, strict=False), 1):
            tempo, manner = performer.manner(one.slot, one.playing)
            section = one.playing.plan.section
            played.append(
                PlayedBar(
                    index=index,
                    number=index - shift,
                    section=section.name,
                    title=section.title,
                    entry=one.entry + 1,
                    playing=one.pass_ + 1,
                    written=one.slot.index + 1 if one.slot.placed else None,
                    first=one.first,
                    tempo=tempo,
                    bar=bar,
                    place=one.slot.number,
                    manner=manner,
                    sung=words_of(one.slot, one.time),
                )
            )
        return tuple(played)

    def section(self, plan: Plan, seen: dict[Slot, TimedBar]) -> WrittenSection:
        """Return a section as a page shows it, with the bars of its first performance."""
        bars = [seen.get(slot) for slot in plan.slots]
        if None in bars:
            playing = as_written(plan, self.staged.settings.tempo)
            alone = self.timed(self.worked_out([(slot, playing) for slot in plan.slots]))
            bars = [known or bar for known, bar in zip_longest(bars, alone)]
        section = plan.section
        return WrittenSection(
            name=section.name,
            title=section.title,
            pattern=section.using,
            bars=tuple(
                _written_bar(plan, slot, bar)
                for slot, bar in zip(plan.slots, bars, strict=True)
                if bar is not None
            ),
        )


def _written_bar(plan: Plan, slot: Slot, bar: TimedBar) -> WrittenBar:
    index, signs = slot.index, plan.signs
    return WrittenBar(
        number=slot.number,
        bar=bar,
        repeats=signs.repeats.get(index, 0),
        ends=signs.ends.get(index, ()),
        passes=signs.passes.get(index, ()),
        first_of_ending=index in signs.first_of,
        last_of_ending=index in signs.last_of,
        last_of_endings=index in signs.last_of_all,
        using=slot.using,
        manner=asked(slot.pace),
        sung=slot.sung,
    )
