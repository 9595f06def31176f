"""The lines of a section to written bars, and to the order in which they are played.

Everything is done in one pass with a stack of open repeats, so that depth costs no recursion; what
would be played too often is counted and never written out.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cached_property

from fretloom.notation.model.margin import Unread
from fretloom.notation.model.section import (
    Bar,
    BarLine,
    EndingStart,
    MeterChange,
    RepeatEnd,
    RepeatStart,
    Section,
    SectionLine,
    ShortBar,
    TempoChange,
)
from fretloom.performance.expansion.faults import Faults, counted, listed
from fretloom.performance.expansion.form.repeats import MOST_PLAYED, Repeat, Run
from fretloom.performance.expansion.form.slots import Slot, count_runs, filled_in
from fretloom.source import Span
from fretloom.trade.music.meter import Meter
from fretloom.trade.music.tempo import Tempo

MOST_WRITTEN = 5_000


class Plan:
    """A section's written bars and their order in one playing.

    Args:
        slots: the written bars. order: their indices as played, None if they are too many.
        played: how many bars one playing has. counted: how many written bars are numbered.
        complete: whether every line and bar was understood. repeats, ends, passes, first_of and
            last_of: the signs around each bar, by index (see `WrittenBar`).
    """

    def __init__(self, section: Section) -> None:
        self.section = section
        self.slots: list[Slot] = []
        self.order: list[int] | None = []
        self.played = 0
        self.counted = 0
        self.complete = True
        self.repeats: dict[int, int] = {}
        self.ends: dict[int, tuple[int, ...]] = {}
        self.passes: dict[int, tuple[int, ...]] = {}
        self.first_of: set[int] = set()
        self.last_of: set[int] = set()

    @cached_property
    def numbered(self) -> dict[int, Slot]:
        """The written bars by number, pickups left out; asked for once the plan is whole."""
        return {slot.number: slot for slot in self.slots if slot.kind != "pickup"}


class _Builder:
    """Reads the lines of one section."""

    def __init__(self, section: Section, meter: Meter, faults: Faults) -> None:
        self.plan = Plan(section)
        self.all_read = not any(isinstance(line, Unread) for line in section.lines)
        self.section = section
        self.faults = faults
        self.meter = section.meter or meter
        self.tempo: Tempo | None = None
        self.before: Bar | None = None
        self.whole = Run()
        self.open: list[Repeat] = []
        self.passes: tuple[int, ...] = ()

    @property
    def current(self) -> Run:
        return self.open[-1].current if self.open else self.whole

    def build(self) -> Plan | None:
        if self._too_many_written():
            return None
        for line in self.section.lines:
            self._line(line)
        while self.open:
            self._not_closed(self.open[-1])
            self._close()
        plan = self.plan
        plan.played = self.whole.count
        plan.order = self.whole.indices if plan.played <= MOST_PLAYED else None
        count_runs(plan.slots)
        return plan

    def _too_many_written(self) -> bool:
        total = sum(bar.times for line in self.section.lines for bar in _bars_of(line))
        if total <= MOST_WRITTEN:
            return False
        message = (
            f"section {self.section.name} has {total} bars; a section has {MOST_WRITTEN} at most"
        )
        hint = "make it shorter, or play it more often in the form"
        span = self.section.name_span or self.section.span
        self.faults.add("too-many-bars", span, message, hint)
        return True

    def _line(self, line: SectionLine) -> None:
        match line:
            case BarLine():
                for bar in line.bars:
                    self._bars(bar)
            case ShortBar():
                self._short(line)
            case MeterChange():
                self.meter = line.meter
            case TempoChange():
                self.tempo = line.tempo
            case RepeatStart():
                first = len(self.plan.slots)
                self.plan.repeats[first] = self.plan.repeats.get(first, 0) + 1
                self.open.append(Repeat(line.times, line.span, first))
            case EndingStart():
                self._ending(line)
            case RepeatEnd():
                self._end(line)
            case Unread():
                self.plan.complete = False

    def _bars(self, bar: Bar) -> None:
        if bar.kind == "unread":
            self.plan.complete = False
        whole = self._filled(bar)
        for time in range(bar.times):
            slot = self._slot(whole)
            slot.inherited = len(whole.patches) - len(bar.patches)
            if time:
                slot.cue = ""

    def _filled(self, bar: Bar) -> Bar:
        """Fill in `%` (and `same`, which outside the form can only mean the same)."""
        if bar.kind in ("same", "written"):
            if self.before is None:
                self._nothing_before(bar)
                return Bar(kind="unread", times=bar.times, span=bar.span)
            bar = filled_in(bar, self.before, keep_cue=False)
        self.before = bar
        return bar

    def _nothing_before(self, bar: Bar) -> None:
        sign = "%" if bar.kind == "same" else "same"
        message = f"section {self.section.name} begins with {sign}, but there is no bar before it"
        self._fault("nothing-before", bar.span, message, "write the first bar out")

    def _fault(self, rule: str, span: Span | None, message: str, hint: str) -> None:
        """Note a fault of the section's build, unless a line that was not read may be behind it."""
        if self.all_read:
            self.faults.add(rule, span, message, hint)

    def _slot(self, bar: Bar, kind: str = "full") -> Slot:
        plan = self.plan
        if kind != "pickup":
            plan.counted += 1
        number = plan.counted if kind != "pickup" else 0
        slot = Slot(bar, self.meter, _where(number, self.section.name))
        slot.number, slot.index = number, len(plan.slots)
        slot.cycle = max(number - 1, 0)
        slot.tempo = self.tempo
        slot.kind = kind
        if self.passes:
            plan.passes[slot.index] = self.passes
        self.current.add(slot.index)
        plan.slots.append(slot)
        return slot

    def _short(self, line: ShortBar) -> None:
        if line.bar.kind == "unread":
            self.plan.complete = False
        slot = self._slot(self._filled(line.bar), line.kind)
        slot.inherited = len(slot.bar.patches) - len(line.bar.patches)
        meter = self.meter
        total = len(meter.beats)
        what = f"the {'pickup' if line.kind == 'pickup' else 'last bar'} of {self.section.name}"
        if line.start is not None:
            position = meter.position(line.start)
            if not 0 <= position < meter.length:
                self._no_count(line, what)
                return
            slot.start = position
            slot.length = meter.length - position
        elif line.beats is not None:
            if line.beats > total:
                self._too_long(line, what, line.beats)
                return
            if line.kind == "pickup":
                slot.start = meter.quarters(total - line.beats)
                slot.length = meter.length - slot.start
            else:
                slot.length = meter.quarters(line.beats)

    def _no_count(self, line: ShortBar, what: str) -> None:
        message = (
            f"{what} starts on {line.start}, but {self.meter} counts 1 to {self.meter.count_total}"
        )
        self.faults.add(
            "count-outside-bar", line.length_span or line.span, message, "name a count in the bar"
        )

    def _too_long(self, line: ShortBar, what: str, beats: Fraction) -> None:
        total = len(self.meter.beats)
        message = f"{what} is {counted(beats, 'beat')} long, but a bar of {self.meter} has {total}"
        hint = f"write fewer than {total} beats"
        self.faults.add("count-outside-bar", line.length_span or line.span, message, hint)

    def _ending(self, line: EndingStart) -> None:
        if not self.open:
            number = listed(line.passes)
            message = f"ending {number} of {self.section.name} belongs to no repeat"
            hint = "write a line `repeat 2` where the repeated bars begin, and `end` after the last ending"
            self._fault("ending-without-repeat", line.span, message, hint)
            for bar in line.bars:
                self._bars(bar)
            return
        repeat = self.open[-1]
        self._check_passes(repeat, line)
        repeat.current = run = Run()
        first = len(self.plan.slots)
        repeat.endings.append((line, run, first))
        self.passes = line.passes
        for bar in line.bars:
            self._bars(bar)

    def _check_passes(self, repeat: Repeat, line: EndingStart) -> None:
        doubled = [number for number in line.passes if number in repeat.numbers]
        beyond = [number for number in line.passes if number > repeat.times]
        repeat.numbers.update(line.passes)
        if doubled:
            message = f"{self.section.name} has two endings for pass {listed(doubled)}"
            self._fault("ending-missing", line.span, message, "give each pass one ending")
        if beyond:
            message = (
                f"ending {listed(beyond)} of {self.section.name} is never played: "
                f"the repeat is played {counted(repeat.times, 'time')}"
            )
            hint = f"write repeat {max(beyond)}, or take the ending out"
            self._fault("ending-missing", line.span, message, hint)

    def _end(self, line: RepeatEnd) -> None:
        if not self.open:
            message = f"section {self.section.name}: this `end` closes no repeat"
            hint = "write a line `repeat 2` where the repeated bars begin, or take `end` out"
            self._fault("end-without-repeat", line.span, message, hint)
            return
        repeat = self.open[-1]
        if repeat.endings:
            missing = [n for n in range(1, min(repeat.times, 100) + 1) if n not in repeat.numbers]
            if missing:
                self._ending_missing(repeat, missing)
        self._close()

    def _ending_missing(self, repeat: Repeat, missing: list[int]) -> None:
        many = len(missing) > 1
        message = (
            f"the repeat in {self.section.name} is played {counted(repeat.times, 'time')}, "
            f"but pass{'es' if many else ''} {listed(missing[:8])} ha{'ve' if many else 's'} no ending"
        )
        hint = f"add a line: ending {' '.join(map(str, missing[:8]))}: ..."
        self._fault("ending-missing", repeat.span, message, hint)

    def _not_closed(self, repeat: Repeat) -> None:
        if repeat.endings:
            last = repeat.endings[-1][0]
            message = (
                f"the repeat in {self.section.name} has no `end` "
                f"after its ending {listed(last.passes)}"
            )
        else:
            message = f"the repeat in {self.section.name} has no `end`"
        hint = "write a line `end` after the last bar that is repeated"
        self._fault("repeat-not-closed", repeat.span, message, hint)

    def _close(self) -> None:
        repeat = self.open.pop()
        self._mark(repeat)
        self.current.extend(repeat.unrolled())
        self.passes = (
            self.open[-1].endings[-1][0].passes if self.open and self.open[-1].endings else ()
        )

    def _mark(self, repeat: Repeat) -> None:
        """Note the repeat signs around the bars that the repeat holds."""
        plan = self.plan
        last = len(plan.slots) - 1
        if not repeat.endings:
            if last >= repeat.first:
                plan.ends[last] = (*plan.ends.get(last, ()), repeat.times)
            return
        firsts = [first for _, _, first in repeat.endings]
        for place, (ending, _, first) in enumerate(repeat.endings):
            end = firsts[place + 1] - 1 if place + 1 < len(firsts) else last
            if end < first:
                continue
            plan.first_of.add(first)
            plan.last_of.add(end)
            if max(ending.passes, default=0) < repeat.times:
                plan.ends[end] = (*plan.ends.get(end, ()), 0)


def _bars_of(line: SectionLine) -> tuple[Bar, ...]:
    if isinstance(line, BarLine | EndingStart):
        return line.bars
    return (line.bar,) if isinstance(line, ShortBar) else ()


def _where(number: int, section: str) -> str:
    return f"bar {number} of {section}" if number else f"the pickup of {section}"


def plan_section(section: Section, meter: Meter, faults: Faults, whole: bool = True) -> Plan | None:
    """Return the written bars of a section and their order; None if they are too many.

    `whole` is False where some of its bars belong elsewhere, so that their number says nothing.
    """
    plan = _Builder(section, meter, faults).build()
    if plan is not None:
        plan.complete = plan.complete and whole
        _check_length(plan, faults)
    return plan


def _check_length(plan: Plan, faults: Faults) -> None:
    """Compare the stated length with the bars as written and as played, pickups not counted."""
    section = plan.section
    stated = section.stated_bars
    if stated is None or not plan.complete:
        return
    pickups = sum(plan.slots[index].kind == "pickup" for index in plan.order or ())
    played = plan.played - pickups
    if stated in (plan.counted, played):
        return
    as_played = f" ({played} as played)" if played != plan.counted else ""
    message = (
        f"section {section.name} is said to have {counted(stated, 'bar')}, "
        f"but {counted(plan.counted, 'bar')} {'is' if plan.counted == 1 else 'are'} written{as_played}"
    )
    more = stated - plan.counted
    todo = f"add {counted(more, 'bar')}" if more > 0 else f"take {counted(-more, 'bar')} out"
    hint = f"{todo}, or write `section {section.name} {counted(plan.counted, 'bar')}`"
    faults.add("section-length", section.stated_span or section.name_span, message, hint)
