"""Which pattern a written bar has, laid out over its beats; each layout is made once."""

from __future__ import annotations

from collections.abc import Hashable

from fretloom.performance.expansion.form.changes import Playing
from fretloom.performance.expansion.form.slots import Slot
from fretloom.performance.expansion.resolve import Resolver, beats_hint
from fretloom.performance.expansion.timing.strokes import (
    EMPTY,
    Extent,
    Layout,
    beat_extents,
    lay_out,
)
from fretloom.performance.expansion.workings import PatternLayout
from fretloom.source import Span
from fretloom.text import counted
from fretloom.trade.guitar.voicing import is_no_chord


class LayoutBook:
    """The places of bars, for their plucks."""

    def __init__(self, resolver: Resolver) -> None:
        self._resolver = resolver
        self._faults = resolver.faults
        self._known = resolver.workings.layouts
        self._faulty: set[Hashable] = set()
        self._extents: dict[Hashable, tuple[Extent, ...]] = {}

    def layout(self, slot: Slot, playing: Playing) -> tuple[Layout, str]:
        """Return a bar's layout and the name of its pattern ("" for one written out in `{ }`)."""
        bar = slot.bar
        if bar.kind in ("rest", "unread"):
            return EMPTY, ""
        if bar.beats is not None:
            return self._own_beats(slot), ""
        of_section, section_span, cycle = playing.pattern(slot)
        name = bar.using or of_section
        section = playing.plan.section.name
        if not name and bar.parts and all(is_no_chord(part.voicing) for part in bar.parts):
            return EMPTY, ""
        if not name:
            self._no_pattern(slot, section)
            return EMPTY, ""
        span = bar.using_span if bar.using else section_span
        where = slot.where if bar.using else f"section {section}"
        pattern = self._resolver.pattern(name, span, where)
        if pattern is None:
            return EMPTY, name
        if pattern.meter is not slot.meter and pattern.meter.beats != slot.meter.beats:
            self._other_meter(slot, pattern, span)
            return EMPTY, name
        index = -1 if slot.kind == "pickup" else (slot.run if bar.using else cycle)
        layout = pattern.bars[index % len(pattern.bars)]
        return (layout if slot.kind == "full" else self._cut(slot, layout)), name

    def _no_pattern(self, slot: Slot, section: str) -> None:
        message = f"{slot.where} has no pattern"
        hint = "write `using` and a pattern's name on the section's line or after the voicing"
        patterns = self._resolver.material.patterns
        if patterns:
            hint += f", for instance using {next(iter(patterns))}"
        self._faults.add("no-pattern", slot.bar.span, message, hint, key=section)

    def _other_meter(self, slot: Slot, pattern: PatternLayout, span: Span | None) -> None:
        message = f"{slot.where} is in {slot.meter}, but the pattern {pattern.name} is for {pattern.meter}"
        hint = f"use a pattern for {slot.meter}, or write one: its name, then in {slot.meter}: and its beats"
        key = (pattern.name, slot.meter, span and (span.source, span.start))
        self._faults.add("pattern-beats", span or slot.bar.span, message, hint, key=key)

    def _own_beats(self, slot: Slot) -> Layout:
        beats = slot.bar.beats
        assert beats is not None
        shape = None if slot.kind == "full" else (slot.kind, slot.start, slot.length)
        # A `%` has the very beats of the bar it stands for; what is wrong with them is said once.
        key = (beats.span or beats, slot.meter, shape)
        found = self._known.get(key)
        if found is not None:
            return found
        extents = self._beats_of(slot, shape)
        if len(beats.beats) == len(extents):
            found = self._known[key] = lay_out(beats, extents)
            return found
        if key not in self._faulty:
            self._faulty.add(key)
            self._wrong_beats(slot, len(beats.beats), len(extents))
        return EMPTY

    def _beats_of(self, slot: Slot, shape: Hashable) -> tuple[Extent, ...]:
        key = (slot.meter, shape)
        found = self._extents.get(key)
        if found is None:
            found = self._extents[key] = beat_extents(slot.meter, slot.start, slot.length)
        return found

    def _wrong_beats(self, slot: Slot, found: int, wanted: int) -> None:
        beats = slot.bar.beats
        what = str(slot.meter) if slot.kind == "full" else "it"
        message = f"{slot.where}: there {'is' if found == 1 else 'are'} "
        message += f"{counted(found, 'beat')} in {{ }}, but {what} has {wanted}"
        span = (beats and beats.span) or slot.bar.span
        self._faults.add("pattern-beats", span, message, beats_hint(found, wanted, slot.meter))

    def _cut(self, slot: Slot, layout: Layout) -> Layout:
        key = (layout, slot.start, slot.length)
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = layout.cut(slot.start, slot.length)
        return found
