"""Where in a lesson something is written: the block, and in it the bar as a musician counts."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from fretloom.notation.model.form import LAST, ChangeBars, Form, FormEntry
from fretloom.notation.model.pattern import Pattern
from fretloom.notation.model.section import (
    BarLine,
    EndingStart,
    RepeatEnd,
    RepeatStart,
    Section,
    ShortBar,
)
from fretloom.notation.model.step import Step
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.values import evolve, frozen


@frozen
class WrittenPlace:
    """A place of the written lesson; as text it is named as messages name it.

    Args:
        kind: "voicing", "pattern", "section", "form", "step", or "lesson" for everything else.
        name: of the voicing, the pattern or the section (in the form: the one that the entry plays),
            or the title of the step.
        entry: entry of the form, from 1; 0 outside it.
        bar: number in its section, from 1, where `x2` counts as two and a pickup not at all, or in a
            pattern of several bars; None if it is not about one bar, or the number is not written
            (`but last bar`).
        short: "pickup", "last", or "" for a whole bar.
        passes: of the ending that it belongs to.
    """

    kind: str = "lesson"
    name: str = ""
    entry: int = 0
    bar: int | None = None
    short: str = ""
    passes: tuple[int, ...] = ()

    def __str__(self) -> str:
        """Name the place: `bar 4 of verse`, `the last bar of verse in entry 2 of the form`."""
        if self.kind not in ("section", "form"):
            whole = "the lesson" if self.kind == "lesson" else f"the {self.kind} {self.name}"
            return whole.rstrip() if self.bar is None else f"bar {self.bar} of {whole}"
        words = self._in_section()
        if self.passes:
            words += f" (ending {' '.join(map(str, self.passes))})"
        return f"{words} in entry {self.entry} of the form" if self.entry else words

    def _in_section(self) -> str:
        if self.short:
            bar = "pickup" if self.short == "pickup" else "last bar"
            return f"the {bar} of {self.name}"
        if self.bar is not None:
            return f"bar {self.bar} of {self.name}"
        return self.name or "the form"


NOWHERE = WrittenPlace()


def _in_section(section: Section, place: WrittenPlace) -> Iterator[WrittenPlace]:
    """Count the bars; what is between two of them has the number of the second."""
    number = 1
    passes: list[tuple[int, ...]] = []
    here = place
    for line in section.lines:
        if isinstance(line, RepeatStart):
            passes.append(passes[-1] if passes else ())
        elif isinstance(line, EndingStart) and passes:
            passes[-1] = line.passes
        short = line.kind if isinstance(line, ShortBar) else ""
        bar = None if short == "pickup" else number
        inside = passes[-1] if passes else ()
        if (bar, short, inside) != (here.bar, here.short, here.passes):
            here = evolve(place, bar=bar, short=short, passes=inside)
        yield here
        if isinstance(line, RepeatEnd) and passes:
            passes.pop()
        if isinstance(line, BarLine | EndingStart):
            number += sum(bar.times for bar in line.bars)
        elif short == "last":
            number += 1


def _in_line(line: BarLine | EndingStart, place: WrittenPlace) -> Iterator[WrittenPlace]:
    number = place.bar or 1
    for bar in line.bars:
        yield place if number == place.bar else evolve(place, bar=number)
        number += bar.times


def _in_form(form: Form, place: WrittenPlace) -> Iterator[WrittenPlace]:
    number = 0
    for entry in form.entries:
        number += isinstance(entry, FormEntry)
        name = entry.section if isinstance(entry, FormEntry) else ""
        yield evolve(place, name=name, entry=number)


def _in_entry(entry: FormEntry, place: WrittenPlace) -> Iterator[WrittenPlace]:
    for but in entry.buts:
        first = getattr(but, "first", None)
        if first is None or first < LAST:
            yield place
        elif first == LAST:
            yield evolve(place, short="last")
        else:
            yield evolve(place, bar=first)


def _in_but(but: ChangeBars, place: WrittenPlace) -> Iterator[WrittenPlace]:
    """Count on from the first bar that is replaced; bars beyond the last one share its number."""
    number = but.first
    for bar in but.bars:
        last = number if but.last == LAST else min(number, but.last)
        yield place if but.first < 0 else evolve(place, bar=last)
        number += bar.times


def _in_pattern(pattern: Pattern, place: WrittenPlace) -> Iterator[WrittenPlace]:
    several = len(pattern.bars) > 1
    for number in range(1, len(pattern.bars) + 1):
        yield evolve(place, bar=number) if several else place


#: Things that are a place of their own.
OWN_PLACE: dict[type, Callable[[Any], WrittenPlace]] = {
    VoicingEntry: lambda entry: WrittenPlace("voicing", entry.name),
    Pattern: lambda pattern: WrittenPlace("pattern", pattern.name),
    Section: lambda section: WrittenPlace("section", section.name),
    Form: lambda form: WrittenPlace("form"),
    Step: lambda step: WrittenPlace("step", step.title),
}
#: The places of what stands directly inside a thing, in order; others give theirs on unchanged.
PLACES_INSIDE: dict[type, Callable[[Any, WrittenPlace], Iterator[WrittenPlace]]] = {
    Section: _in_section,
    BarLine: _in_line,
    EndingStart: _in_line,
    Form: _in_form,
    FormEntry: _in_entry,
    ChangeBars: _in_but,
    Pattern: _in_pattern,
}
