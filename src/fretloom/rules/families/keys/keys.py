"""Rules about keys and meters: capo arithmetic, odd meters left open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from fretloom.diagnostics import Diagnostic
from fretloom.notation.model.heading import Setting
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.section import MeterChange
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.source import Span
from fretloom.text import counted
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.guitar.tunings import tuning_shift
from fretloom.trade.harmony.key_names import write_key
from fretloom.trade.music.key import Key
from fretloom.trade.music.meter import Meter

_HIGHEST_CAPO = 9


def capo_and_keys(reading: Reading) -> Iterator[Diagnostic]:
    """Find a heading whose `plays in`, capo and `sounds in` do not agree."""
    lines = reading.material.settings
    plays, sounds = _value(lines, "plays"), _value(lines, "sounds")
    capo = _value(lines, "capo") or Capo()
    if not isinstance(plays, Key) or not isinstance(sounds, Key) or not isinstance(capo, Capo):
        return
    # A partial capo raises only some strings, so the key is the teacher's to say.
    span = _own_place(reading.lesson, lines)
    if capo.strings or span is None or "capo" in reading.material.unread_settings:
        return
    steps = {capo.fret, capo.fret + tuning_shift(reading.timeline.settings.tuning)}
    if not any(_same_key(plays.transposed(step), sounds) for step in steps):
        yield _contradiction(plays, capo.fret, sounds, span, reading.timeline.settings.names)


def _value(lines: Mapping[str, Setting], name: str) -> object:
    line = lines.get(name)
    return line.value if line is not None else None


def _own_place(lesson: Lesson, lines: Mapping[str, Setting]) -> Span | None:
    """Return where this file says something about keys; what only its base says is the base's fault."""
    for name in ("sounds", "plays", "capo", "tuning"):
        line = lines.get(name)
        span = (line.value_span or line.span) if line is not None else None
        if span is not None and span.source is lesson.source:
            return span
    return None


def _same_key(one: Key, other: Key) -> bool:
    """Whether two keys sound the same, however they are spelled (F# and Gb)."""
    return (one.tonic.pitch_class, one.mode) == (other.tonic.pitch_class, other.mode)


def _contradiction(plays: Key, capo: int, sounds: Key, span: Span, naming: str) -> Diagnostic:
    def said(key: Key) -> str:
        return write_key(key, naming)

    right = plays.transposed(capo)
    with_capo = f"with the capo at {capo}" if capo else "without a capo"
    ways = [f"`sounds in {said(right)}`"]
    needed = (sounds.tonic.pitch_class - plays.tonic.pitch_class) % 12
    if plays.mode == sounds.mode and needed <= _HIGHEST_CAPO:
        ways.append(f"`capo {needed}`" if needed else "no capo")
    ways.append(f"`plays in {said(sounds.transposed(-capo))}`")
    return Diagnostic(
        rule="capo-and-keys",
        severity=Severity.ERROR,
        message=f"what is played in {said(plays)} {with_capo} sounds in {said(right)}, "
        f"not in {said(sounds)}",
        span=span,
        hint="write " + ", or ".join(ways),
    )


def keys_without_signature(reading: Reading) -> Iterator[Diagnostic]:
    """Find keys such as G# whose signature would pass seven signs; scores write them otherwise."""
    naming = reading.timeline.settings.names
    for name in ("plays", "sounds"):
        line = reading.lesson.heading.setting(name) if reading.lesson.heading else None
        span = (line.value_span or line.span) if line is not None else None
        if line is None or span is None or not isinstance(line.value, Key):
            continue
        given, written = line.value, line.value.with_signature
        if given == written:
            continue
        signs = counted(abs(given.fifths), "sharp" if given.fifths > 0 else "flat")
        yield Diagnostic(
            rule="key-without-signature",
            severity=Severity.INFO,
            message=f"{write_key(given, naming)} would have {signs}, so scores and capos take it "
            f"as {write_key(written, naming)}",
            span=span,
            hint=f"write {line.name} in {write_key(written, naming)}, or leave it as it is",
        )


def meter_grouping_assumed(reading: Reading) -> Iterator[Diagnostic]:
    """Find odd meters without a grouping, each once, and say which grouping is assumed."""
    said: set[Meter] = set()
    for meter, span in _meters(reading.lesson):
        if meter.grouping_assumed and meter not in said and span is not None:
            said.add(meter)
            yield _assumed(meter, span)


def _assumed(meter: Meter, span: Span) -> Diagnostic:
    units = meter.beat_units
    taken = "+".join(map(str, units))
    turned = "+".join(map(str, units[::-1]))
    return Diagnostic(
        rule="meter-grouping-assumed",
        severity=Severity.INFO,
        message=f"{meter} does not say how it is grouped; it is counted as {taken}",
        span=span,
        hint=f"write meter {taken}/{meter.unit}, or another order such as {turned}/{meter.unit}",
    )


def _meters(lesson: Lesson) -> Iterator[tuple[Meter, Span | None]]:
    line = lesson.heading.setting("meter") if lesson.heading else None
    if line is not None and isinstance(line.value, Meter):
        yield line.value, line.value_span or line.span
    for pattern in lesson.patterns:
        if pattern.meter is not None:
            yield pattern.meter, pattern.name_span or pattern.span
    for section in lesson.sections:
        if section.meter is not None:
            yield section.meter, section.name_span or section.span
        for change in section.lines:
            if isinstance(change, MeterChange):
                yield change.meter, change.span
