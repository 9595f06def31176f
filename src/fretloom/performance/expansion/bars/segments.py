"""Which voicing is held at which time of a bar."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import accumulate

from fretloom.notation.model.section import Part
from fretloom.notation.syntax import signs as write
from fretloom.performance.expansion.form.slots import Slot
from fretloom.performance.expansion.resolve import Resolver
from fretloom.performance.expansion.timing.template import Segment
from fretloom.source import Span
from fretloom.text import counted
from fretloom.trade.music.meter import Count, Meter

_START = Fraction(0)


def segments_of(slot: Slot, resolver: Resolver) -> list[Segment]:
    """Return the voicings of a bar with their onsets; faults in the split are noted."""
    parts = slot.bar.parts
    torn = _torn_shares(slot, resolver)
    alone = len(parts) == 1 and parts[0].beats is None
    voicings = [
        resolver.voicing(part.voicing, part.span, slot.where, shares=torn, alone=alone)
        for part in parts
    ]
    if len(parts) == 1 and parts[0].beats is None:
        return [Segment(_START, voicings[0], parts[0].span)]
    if not parts:
        return []
    beats = tuple([part.beats for part in parts])
    key = (slot.meter, slot.start, slot.length, beats)
    onsets = resolver.workings.onsets.get(key)
    if onsets is None:
        total = _total(slot)
        shares = _shares(beats, total)
        right = shares is not None
        if shares is None:
            _wrong_split(slot, total, resolver)
            shares = [total / len(parts)] * len(parts)
        onsets = _onsets(slot, shares)
        if right:
            resolver.workings.onsets[key] = onsets
    return [
        Segment(onset, voicing, part.span)
        for onset, voicing, part in zip(onsets, voicings, parts, strict=True)
    ]


def _torn_shares(slot: Slot, resolver: Resolver) -> bool:
    """Whether the beats add up if numbers that end names without a colon (`E3`) are how many beats these last."""
    book, parts = resolver.voicings, slot.bar.parts
    torn = [book.with_beats(part.voicing)[1] if part.beats is None else 0 for part in parts]
    if not any(torn):
        return False
    beats = [beats or part.beats for beats, part in zip(torn, parts, strict=True)]
    whole = [Fraction(one) if one is not None else None for one in beats]
    return _shares(whole, _total(slot)) is not None


def _total(slot: Slot) -> Fraction:
    """Return how many beats a bar has."""
    return slot.meter.beat_at(slot.start + slot.length) - slot.meter.beat_at(slot.start)


def _onsets(slot: Slot, shares: Sequence[Fraction]) -> tuple[Fraction, ...]:
    """Return where the shares of a bar begin, in quarter notes from its start."""
    begins = accumulate(shares[:-1], initial=slot.meter.beat_at(slot.start))
    return tuple([slot.meter.quarters(at) - slot.start for at in begins])


def _shares(beats: Sequence[Fraction | None], total: Fraction) -> list[Fraction] | None:
    """Return how many beats each voicing has; those without a number share what is left.

    None if what is stated is not the bar.
    """
    stated = sum((share for share in beats if share is not None), Fraction(0))
    open_shares = beats.count(None)
    left = total - stated
    if left < 0 or (left == 0) != (not open_shares):
        return None
    return [left / open_shares if share is None else share for share in beats]


def _wrong_split(slot: Slot, total: Fraction, resolver: Resolver) -> None:
    parts = slot.bar.parts
    stated = sum((part.beats for part in parts if part.beats is not None), Fraction(0))
    some_open = any(part.beats is None for part in parts)
    text = " ".join(_part_words(part) for part in parts)
    has = f"a bar of {slot.meter} has {write.number(total)}"
    if slot.kind != "full":
        has = f"it has {write.number(total)}"
    made = counted(write.number(stated), "beat")
    if some_open and stated == total:
        message = f"{slot.where}: {text} makes {made} already, so no beat is left for the others"
    else:
        message = f"{slot.where}: {text} makes {made}, but {has}"
    hint = f"let the numbers add up to {write.number(total)}"
    if slot.meter.counts_units and stated in (slot.meter.units, slot.meter.count_total):
        hint = (
            f"{slot.meter} has {counted(len(slot.meter.beats), 'beat')}, and the shares count beats"
        )
    span = parts[0].span
    if span is not None and (end := parts[-1].span) is not None and end.source is span.source:
        span = span.to(end) if end.end >= span.end else span
    resolver.faults.add("split-beats", span or slot.bar.span, message, hint)


def _part_words(part: Part) -> str:
    return part.voicing if part.beats is None else f"{part.voicing}:{write.number(part.beats)}"


def count_position(
    slot: Slot, count: Count, what: str, span: Span | None, resolver: Resolver
) -> Fraction | None:
    """Return where a count is in a bar; None if the bar does not have it, which is noted."""
    position = slot.meter.position(count) - slot.start
    if 0 <= position < slot.length:
        return position
    counts = _counts(slot.meter, slot)
    message = f"{slot.where}: {what} on {count}, but the bar counts {counts}"
    if slot.kind == "full":
        message = f"{slot.where}: {what} on {count}, but {slot.meter} counts {counts}"
    hint = "name a count that is in the bar"
    resolver.faults.add("count-outside-bar", span or slot.bar.span, message, hint)
    return None


def _counts(meter: Meter, slot: Slot) -> str:
    first = meter.count_at(slot.start)
    end = meter.count_at(slot.start + slot.length)
    last = end.number if end.part else end.number - 1
    return f"only {first}" if first.number == last else f"{first} to {last}"
