"""The lines of a section to written bars, and to the order in which they are played.

Everything is done in one pass with a stack of open repeats, and without recursion; what would be
played too often is counted and never written out.
"""

from __future__ import annotations

from fractions import Fraction

from fretloom.limits import LIMITS
from fretloom.notation.model.details.expression import (
    BackToTempo,
    DynamicChange,
    DynamicRamp,
    FreeTime,
    TempoChange,
    TempoRamp,
)
from fretloom.notation.model.details.sung import WordsLine
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
    UsingLine,
)
from fretloom.performance.expansion.faults import Faults
from fretloom.performance.expansion.form.paces import Pacing
from fretloom.performance.expansion.form.plan import Plan, Signs, bars_written
from fretloom.performance.expansion.form.repeats import Ending, Repeat, Run
from fretloom.performance.expansion.form.section_faults import SectionFaults
from fretloom.performance.expansion.form.slots import (
    Slot,
    end_of_last,
    filled_in,
    next_written,
    waiting_last,
    where_in,
    with_runs,
)
from fretloom.performance.expansion.form.songs import sung_bars
from fretloom.trade.music.meter import Meter
from fretloom.values import evolve

#: Passes of a repeat beyond this are not looked at for an ending.
_MOST_CHECKED = 100


class _SectionBuilder:
    """Reads the lines of one section."""

    def __init__(self, section: Section, meter: Meter, faults: Faults) -> None:
        self.slots: list[Slot] = []
        self.counted = 0
        self.complete = True
        self.signs = Signs()
        self.section = section
        self.faults = SectionFaults(section, faults)
        self.meter = section.meter or meter
        self.pacing = Pacing()
        self.using: UsingLine | None = None
        #: The number of bars before the pattern in force began.
        self.using_after = 0
        #: Where the bars of the line above began; words stand under them.
        self.line_start = 0
        self.comes: dict[int, int] = {}
        self.before: Bar | None = None
        self.whole = Run()
        self.open: list[Repeat] = []
        self.passes: tuple[int, ...] = ()

    @property
    def current(self) -> Run:
        return self.open[-1].current if self.open else self.whole

    def build(self) -> Plan | None:
        total = bars_written(self.section)
        if total > LIMITS.bars_written:
            self.faults.too_many(total)
            return None
        for line in self.section.lines:
            self._line(line)
        while self.open:
            self.faults.not_closed(self.open[-1])
            self._close()
        for line, bars in self.pacing.cut():
            self.faults.cut_short(line, bars, self.counted)
        self.slots = self.pacing.applied(self.slots)
        played = self.whole.count
        return Plan(
            section=self.section,
            slots=tuple(with_runs(self.slots)),
            order=tuple(self.whole.bars) if played <= LIMITS.bars_played else None,
            once=tuple(self.whole.once),
            comes=self.comes,
            played=played,
            counted=self.counted,
            complete=self.complete,
            signs=self.signs,
        )

    def _line(self, line: SectionLine) -> None:
        if isinstance(line, BarLine | ShortBar | EndingStart):
            self.line_start = len(self.slots)
        match line:
            case BarLine():
                for bar in line.bars:
                    self._bars(bar)
            case ShortBar():
                self._short(line)
            case MeterChange():
                self.meter = line.meter
            case UsingLine():
                self.using, self.using_after = line, self.counted
            case WordsLine():
                self._sing(line)
            case (
                TempoChange()
                | TempoRamp()
                | BackToTempo()
                | FreeTime()
                | DynamicChange()
                | DynamicRamp()
            ):
                self.pacing.line(line)
            case RepeatStart():
                first = len(self.slots)
                self.signs.repeats[first] = self.signs.repeats.get(first, 0) + 1
                self.open.append(Repeat(line.times, line.span, first))
            case EndingStart():
                self._ending(line)
            case RepeatEnd():
                self._end(line)
            case Unread():
                self.complete = False

    def _bars(self, bar: Bar) -> None:
        if bar.kind == "unread":
            self.complete = False
        whole, written = self._filled(bar), next_written()
        inherited = len(whole.patches) - len(bar.patches)
        for time in range(bar.times):
            cue = "" if time else whole.cue
            one, same = waiting_last(whole, written, time)
            self._slot(one, same, "full", (Fraction(0), self.meter.length), inherited, cue)

    def _filled(self, bar: Bar) -> Bar:
        """Fill in `%` (and `same`, which outside the form can only mean the same)."""
        if bar.kind in ("same", "written"):
            if self.before is None:
                self.faults.nothing_before(bar)
                return Bar(kind="unread", times=bar.times, span=bar.span)
            bar = filled_in(bar, self.before, keep_cue=False)
        self.before = bar
        return bar

    def _slot(
        self,
        bar: Bar,
        written: int,
        kind: str,
        part: tuple[Fraction, Fraction],
        inherited: int,
        cue: str,
    ) -> None:
        """Add a written bar; `part` is where in a full bar it starts, and its length."""
        if kind != "pickup":
            self.counted += 1
        number = self.counted if kind != "pickup" else 0
        slot = Slot(
            bar=bar,
            written=written,
            meter=self.meter,
            where=where_in(number, self.section.name),
            number=number,
            index=len(self.slots),
            start=part[0],
            length=part[1],
            kind=kind,
            cycle=max(number - 1 - self.using_after, 0),
            using=self.using.using if self.using else "",
            using_span=self.using.using_span if self.using else None,
            pace=self.pacing.now,
            cue=cue,
            inherited=inherited,
        )
        if self.passes:
            self.signs.passes[slot.index] = self.passes
        self.current.add(slot.index)
        self.slots.append(slot)
        self.pacing.bar(slot.index)

    def _sing(self, line: WordsLine) -> None:
        """Put the words of a line under the bars of the line above it."""
        above = self.slots[self.line_start :]
        self.slots[self.line_start :] = sung_bars(line, above, self.faults)

    def _short(self, line: ShortBar) -> None:
        if line.bar.kind == "unread":
            self.complete = False
        whole = self._filled(line.bar)
        inherited = len(whole.patches) - len(line.bar.patches)
        self._slot(whole, next_written(), line.kind, self._part(line), inherited, whole.cue)

    def _part(self, line: ShortBar) -> tuple[Fraction, Fraction]:
        """Return where in a full bar a short one starts and how long it is; all of it after a fault."""
        meter = self.meter
        total = len(meter.beats)
        if line.start is not None:
            position = meter.position(line.start)
            if 0 <= position < meter.length:
                return position, meter.length - position
            self.faults.no_count(line, meter)
        elif (end := end_of_last(line, meter)) is not None:
            if 0 < end <= meter.length:
                return Fraction(0), end
            self.faults.no_count(line, meter)
        elif line.beats is not None:
            if line.beats > total:
                self.faults.too_long(line, line.beats, meter)
            elif line.kind == "pickup":
                start = meter.quarters(total - line.beats)
                return start, meter.length - start
            else:
                return Fraction(0), meter.quarters(line.beats)
        return Fraction(0), meter.length

    def _ending(self, line: EndingStart) -> None:
        if self.open:
            repeat = self.open[-1]
            self.faults.passes(repeat, line)
            repeat.endings.append(Ending(line.passes, Run(), len(self.slots)))
            self.passes = line.passes
        else:
            self.faults.ending_without_repeat(line)
        for bar in line.bars:
            self._bars(bar)

    def _end(self, line: RepeatEnd) -> None:
        if not self.open:
            self.faults.end_without_repeat(line)
            return
        repeat = self.open[-1]
        if repeat.endings:
            passes, ended = range(1, min(repeat.times, _MOST_CHECKED) + 1), repeat.numbers
            missing = [number for number in passes if number not in ended]
            if missing:
                self.faults.ending_missing(repeat, missing)
        self._close()

    def _close(self) -> None:
        repeat = self.open.pop()
        self._mark(repeat)
        room = LIMITS.bars_played - self.current.count
        self.current.extend(repeat.unrolled(self.comes, room))
        around = self.open[-1].endings if self.open else []
        self.passes = around[-1].passes if around else ()

    def _mark(self, repeat: Repeat) -> None:
        """Note the repeat signs around the bars that the repeat holds."""
        signs, last = self.signs, len(self.slots) - 1
        if not repeat.endings:
            if last >= repeat.first:
                signs.ends[last] = (*signs.ends.get(last, ()), repeat.times)
            return
        ends = [ending.first - 1 for ending in repeat.endings[1:]] + [last]
        for ending, end in zip(repeat.endings, ends, strict=True):
            if end < ending.first:
                continue
            signs.first_of.add(ending.first)
            signs.last_of.add(end)
            if min(ending.passes, default=0) < repeat.times:
                signs.ends[end] = (*signs.ends.get(end, ()), 0)
        signs.last_of_all.add(last)


def plan_section(section: Section, meter: Meter, faults: Faults, whole: bool = True) -> Plan | None:
    """Return the written bars of a section and their order; None if they are too many.

    `whole` is False where some of its bars belong elsewhere, so that their number means nothing.
    """
    plan = _SectionBuilder(section, meter, faults).build()
    if plan is None:
        return None
    if not whole:
        plan = evolve(plan, complete=False)
    SectionFaults(section, faults).length(plan)
    return plan
