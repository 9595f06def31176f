"""What is wrong with how a section is built, in words."""

from __future__ import annotations

from fractions import Fraction

from fretloom.diagnostics import Edit
from fretloom.limits import LIMITS
from fretloom.notation.model.details.expression import DynamicRamp, TempoRamp
from fretloom.notation.model.details.sung import SungBar, WordsLine
from fretloom.notation.model.margin import Unread
from fretloom.notation.model.section import Bar, EndingStart, RepeatEnd, Section, ShortBar
from fretloom.performance.expansion.faults import Faults
from fretloom.performance.expansion.form.plan import Plan
from fretloom.performance.expansion.form.repeats import Repeat
from fretloom.source import Span
from fretloom.text import counted, listed
from fretloom.trade.music.meter import Count, Meter

#: So many missing endings are named.
_MOST_NAMED = 8


class SectionFaults:
    """Notes the faults of one section.

    A fault that may come from a line that could not be read is not noted.
    """

    def __init__(self, section: Section, faults: Faults) -> None:
        self._section = section
        self._name = section.name
        self._faults = faults
        self._all_read = not any(isinstance(line, Unread) for line in section.lines)

    def _add(self, rule: str, span: Span | None, message: str, hint: str) -> None:
        if self._all_read:
            self._faults.add(rule, span, message, hint)

    def too_many(self, total: int) -> None:
        """Note that more bars are written than a section can hold."""
        message = f"section {self._name} has {total} bars, and the limit is {LIMITS.bars_written}"
        hint = "make it shorter, or play it more often in the form"
        span = self._section.name_span or self._section.span
        self._faults.add("too-many-bars", span, message, hint)

    def nothing_before(self, bar: Bar) -> None:
        """Note a first bar that stands for the one before it."""
        sign = "%" if bar.kind == "same" else "same"
        message = f"section {self._name} begins with {sign}, but there is no bar before it"
        self._add("nothing-before", bar.span, message, "write the first bar out")

    def no_count(self, line: ShortBar, meter: Meter) -> None:
        """Note a short bar that starts on a count that the meter does not have."""
        does = f"starts on {line.start}" if line.start is not None else f"ends with {line.through}"
        if line.before is not None:
            does = f"ends before {line.before}"
        message = f"{self._short(line)} {does}, but {meter} counts 1 to {meter.count_total}"
        span = line.length_span or line.span
        self._faults.add("count-outside-bar", span, message, "name a count in the bar")

    def cut_short(self, line: TempoRamp | DynamicRamp, bars: int, total: int) -> None:
        """Note a change over more bars than follow before something else is asked for, or the end."""
        follow = counted(bars, "bar") if bars else "no bar"
        message = (
            f"the {line.kind} goes over {counted(line.bars, 'bar')}, but {follow} of {self._name} "
        )
        message += "follows it" if bars < 2 else "follow it"
        hint = f"write over {counted(bars, 'bar')}, or write the line further up"
        if not bars:
            hint = "write the line before the bars in which it happens"
        self._add("no-such-bar", line.span, message, hint)

    def words_beyond(self, line: WordsLine, bars: int) -> None:
        """Note words for more bars than stand in the line above."""
        message = (
            f"there are words for {counted(len(line.bars), 'bar')}, but the line above has {bars}"
        )
        hint = "write a line of words under each line of bars, with | between the words of two bars"
        if not bars:
            message = "these words stand under no bars"
            hint = "write the words under the line of bars at which they are sung"
        self._add("words-misplaced", line.span, message, hint)

    def too_many_words(self, line: WordsLine) -> None:
        """Note more lines of words under a line of bars than are read."""
        message = f"these bars have over {LIMITS.verses} lines of words, and that is the limit"
        hint = "write the bars again for other words"
        self._faults.add("too-many-bars", line.span, message, hint, key=("words", self._name))

    def words_twice(self, line: WordsLine) -> None:
        """Note a second line of words for one time."""
        which = "without a number" if line.verse is None else f"for time {line.verse}"
        message = f"these bars have two lines of words {which}"
        hint = "number them by the time they are sung: words 1: and words 2:"
        self._add("words-misplaced", line.span, message, hint)

    def syllable_outside(self, bar: SungBar, text: str, count: Count, meter: Meter) -> None:
        """Note a syllable on a count that its bar does not have."""
        message = f"`{text}` is sung on {count}, but the bar does not have that count"
        self._add(
            "count-outside-bar", bar.span, message, f"{meter} counts 1 to {meter.count_total}"
        )

    def syllable_earlier(self, bar: SungBar, text: str, count: Count) -> None:
        """Note a syllable on a count before that of the one it follows."""
        message = f"`{text}` is sung on {count}, before the syllable that it follows"
        self._add("words-misplaced", bar.span, message, "let the counts go on through the bar")

    def too_long(self, line: ShortBar, beats: Fraction, meter: Meter) -> None:
        """Note a short bar that is longer than a whole one."""
        total = len(meter.beats)
        message = f"{self._short(line)} is {counted(beats, 'beat')} long, but a bar of {meter} has {total}"
        span = line.length_span or line.span
        self._faults.add("count-outside-bar", span, message, f"write fewer than {total} beats")

    def _short(self, line: ShortBar) -> str:
        return f"the {'pickup' if line.kind == 'pickup' else 'last bar'} of {self._name}"

    def ending_without_repeat(self, line: EndingStart) -> None:
        """Note an ending where nothing is repeated."""
        message = f"ending {listed(line.passes)} of {self._name} does not belong to a repeat"
        hint = (
            "write a line `repeat 2` where the repeated bars begin, and `end` after the last ending"
        )
        self._add("ending-without-repeat", line.span, message, hint)

    def passes(self, repeat: Repeat, line: EndingStart) -> None:
        """Note an ending for a pass that has one already, or that is never played."""
        doubled = [number for number in line.passes if number in repeat.numbers]
        beyond = [number for number in line.passes if number > repeat.times]
        if doubled:
            message = f"{self._name} has two endings for pass {listed(doubled)}"
            self._add("ending-missing", line.span, message, "give each pass one ending")
        if beyond:
            message = (
                f"ending {listed(beyond)} of {self._name} is never played: "
                f"the repeat is played {counted(repeat.times, 'time')}"
            )
            hint = f"write repeat {max(beyond)}, or remove the ending"
            self._add("ending-missing", line.span, message, hint)

    def end_without_repeat(self, line: RepeatEnd) -> None:
        """Note an `end` without a repeat."""
        message = f"section {self._name}: there is no repeat for this `end` to close"
        hint = "write a line `repeat 2` where the repeated bars begin, or remove `end`"
        self._add("end-without-repeat", line.span, message, hint)

    def ending_missing(self, repeat: Repeat, missing: list[int]) -> None:
        """Note a repeat with endings, but not for all of its passes."""
        many = len(missing) > 1
        named = missing[:_MOST_NAMED]
        message = (
            f"the repeat in {self._name} is played {counted(repeat.times, 'time')}, "
            f"but pass{'es' if many else ''} {listed(named)} ha{'ve' if many else 's'} no ending"
        )
        hint = f"add a line: ending {' '.join(map(str, named))}: ..."
        self._add("ending-missing", repeat.span, message, hint)

    def not_closed(self, repeat: Repeat) -> None:
        """Note a repeat that is never closed."""
        after = f" after its ending {listed(repeat.endings[-1].passes)}" if repeat.endings else ""
        message = f"the repeat in {self._name} has no `end`{after}"
        hint = "write a line `end` after the last bar that is repeated"
        self._add("repeat-not-closed", repeat.span, message, hint)

    def length(self, plan: Plan) -> None:
        """Compare the stated length with the bars as written and as played, pickups not counted."""
        section = self._section
        stated = section.stated_bars
        if stated is None or not plan.complete:
            return
        pickups = sum(plan.slots[index].kind == "pickup" for index, _ in plan.order or ())
        played = plan.played - pickups
        if stated in (plan.counted, played):
            return
        as_played = f" ({played} as played)" if played != plan.counted else ""
        message = (
            f"section {section.name} is said to have {counted(stated, 'bar')}, but "
            f"{counted(plan.counted, 'bar')} {'is' if plan.counted == 1 else 'are'} written{as_played}"
        )
        more = stated - plan.counted
        todo = f"add {counted(more, 'bar')}" if more > 0 else f"remove {counted(-more, 'bar')}"
        or_so = f", or write `section {section.name} {counted(plan.counted, 'bar')}`"
        hint = todo + (or_so if plan.counted else "")
        span, title = section.stated_span, f"write {counted(plan.counted, 'bar')}"
        # Phrases have four bars: where the bars make whole ones and the number does not, it is wrong.
        slip = span is not None and plan.counted and not plan.counted % 4 and stated % 4
        edits = (Edit(span=span, text=str(plan.counted), title=title),) if span and slip else ()
        self._faults.add("section-length", span or section.name_span, message, hint, edits=edits)
