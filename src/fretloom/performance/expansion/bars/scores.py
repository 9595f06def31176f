"""Written bars to timed bars: each bar's template is built once and filled in with what rings."""

from __future__ import annotations

from collections.abc import Hashable
from fractions import Fraction

from fretloom.notation.model.section import With, Without
from fretloom.notation.syntax.writing.words import played as part_words
from fretloom.performance.events import TimedBar, TimedNote, TimedVoicing
from fretloom.performance.expansion.bars.bar_faults import written_key
from fretloom.performance.expansion.bars.build import build
from fretloom.performance.expansion.bars.layouts import LayoutBook
from fretloom.performance.expansion.bars.lengths import Lengths
from fretloom.performance.expansion.bars.ring import Rings
from fretloom.performance.expansion.bars.segments import count_position, segments_of
from fretloom.performance.expansion.form.changes import Playing
from fretloom.performance.expansion.form.slots import Slot
from fretloom.performance.expansion.resolve import Resolver
from fretloom.performance.expansion.timing.strokes import Layout
from fretloom.performance.expansion.timing.template import BarScore, Patch, Seed, Segment, Template
from fretloom.performance.expansion.timing.ticks import ticks, unit_of
from fretloom.source import Span
from fretloom.values import evolve, frozen


@frozen(eq=False)
class WrittenBarScore:
    """A written bar before the bar that follows it: its template and what is printed with it."""

    slot: Slot
    template: Template
    pattern: str
    release: Fraction | None
    stop: Fraction | None
    fermata: Fraction | None


class ScoreBook:
    """Templates and timed bars, each made once.

    A bar is not worked out again if its voicings are the same as in an earlier run.
    """

    def __init__(self, resolver: Resolver) -> None:
        self._resolver = resolver
        self._faults = resolver.faults
        self._layouts = LayoutBook(resolver)
        self._written: dict[Hashable, WrittenBarScore] = {}
        self._timed: dict[tuple[WrittenBarScore, Rings | None], TimedBar] = {}
        self._templates = resolver.workings.templates
        self._lengths = Lengths(resolver.faults)

    def written(self, slot: Slot, playing: Playing, following: Slot | None) -> WrittenBarScore:
        """Return a bar as it is played when another one follows it."""
        layout, pattern = self._layouts.layout(slot, playing)
        early = None
        if following is not None and following.bar.early is not None:
            early = self._early(slot, following)
        shape = None if slot.kind == "full" else (slot.kind, slot.start, slot.length)
        voicing = early and early.voicing and early.voicing.name
        key = (slot.written, layout, slot.meter, shape, slot.cue, early and (early.onset, voicing))
        found = self._written.get(key)
        if found is None:
            found = self._written[key] = self._write(slot, layout, pattern, early)
        return found

    def timed(self, written: WrittenBarScore, rings: Rings | None) -> TimedBar:
        """Return the timed bar of a written one whose notes ring for `rings`; None: not known yet."""
        key = (written, rings)
        found = self._timed.get(key)
        if found is None:
            found = self._timed[key] = _timed_bar(written, rings, self._lengths)
        return found

    def _early(self, slot: Slot, following: Slot) -> Segment | None:
        """Return the voicing of the next bar that the hand takes early, and where in this bar."""
        bar = following.bar
        if bar.early is None or not bar.parts:
            return None
        part = bar.parts[0]
        what = f"{part.voicing} comes early (it is the bar before {following.where})"
        position = count_position(slot, bar.early, what, bar.early_span, self._resolver)
        voicing = self._resolver.voicing(part.voicing, part.span, following.where)
        if position is None or voicing is None:
            return None
        return Segment(position, voicing, part.span, early=True)

    def _write(
        self, slot: Slot, layout: Layout, pattern: str, early: Segment | None
    ) -> WrittenBarScore:
        bar, resolver = slot.bar, self._resolver
        segments = segments_of(slot, resolver)
        if early is not None:
            segments = _with_early(segments, early)
        release = stop = None
        patches = self._patches(slot)
        if bar.release is not None:
            release = count_position(slot, bar.release, "release", bar.release_span, resolver)
        if bar.stop is not None:
            stop = count_position(slot, bar.stop, "stop", bar.stop_span, resolver)
        fermata = None
        if bar.fermata is not None:
            fermata = count_position(slot, bar.fermata, "fermata", bar.fermata_span, resolver)
        template = self._template(slot, layout, tuple(segments), patches, release, stop)
        written = WrittenBarScore(slot, template, pattern, release, stop, fermata)
        self._report(written)
        return written

    def _patches(self, slot: Slot) -> tuple[tuple[Fraction, With | Without], ...]:
        """Return what is added to and left out of the pattern, with its place in the bar."""
        placed: list[tuple[Fraction, With | Without]] = []
        for patch in slot.bar.patches:
            at = count_position(slot, patch.count, _patch_words(patch), patch.span, self._resolver)
            if at is not None:
                placed.append((at, patch))
        return tuple(placed)

    def _template(
        self,
        slot: Slot,
        layout: Layout,
        segments: tuple[Segment, ...],
        patches: tuple[tuple[Fraction, With | Without], ...],
        release: Fraction | None,
        stop: Fraction | None,
    ) -> Template:
        silent = slot.bar.kind == "rest"
        held = tuple([(one.onset, one.voicing, one.early) for one in segments])
        added = tuple([written_key(patch) for _, patch in patches])
        key = (held, slot.length, layout, added, release, stop, silent)
        found = self._templates.get(key)
        if found is None:
            onsets = [one.onset for one in segments]
            times = (slot.length, *onsets, *(at for at, _ in patches), release, stop)
            unit = unit_of(layout.unit, *times)
            score = BarScore(
                unit=unit,
                length=ticks(slot.length, unit),
                segments=segments,
                onsets=tuple([ticks(onset, unit) for onset in onsets]),
                places=layout.at(unit),
                patches=tuple([_placed(at, patch, unit) for at, patch in patches]),
                release=None if release is None else ticks(release, unit),
                stop=None if stop is None else ticks(stop, unit),
                silent=silent,
            )
            found = self._templates[key] = build(score, self._resolver)
        return found

    def _report(self, written: WrittenBarScore) -> None:
        """Note the faults of a template for the bar at hand."""
        slot = written.slot
        if not written.template.faults:
            return
        inherited = {written_key(patch) for patch in slot.bar.patches[: slot.inherited]}
        for fault in written.template.faults:
            if fault.key not in inherited:
                used = fault.span or _voicing_span(slot)
                cure = self._resolver.mended_at(fault.mended_in, fault.rule)
                self._faults.add(
                    fault.rule,
                    cure or used,
                    fault.message.replace("{where}", slot.where),
                    fault.hint,
                    key=fault.key,
                    used=used if cure else None,
                )


def _placed(at: Fraction, patch: With | Without, unit: int) -> Patch:
    return ticks(at, unit), patch


def _patch_words(patch: With | Without) -> str:
    if isinstance(patch, Without):
        return f"without {patch.finger}"
    return f"with {part_words(patch.pluck)}"


def _voicing_span(slot: Slot) -> Span | None:
    return slot.bar.parts[0].span if len(slot.bar.parts) == 1 else slot.bar.span


def _with_early(segments: list[Segment], early: Segment) -> list[Segment]:
    kept = [segment for segment in segments if segment.onset < early.onset]
    if kept and kept[-1].voicing is early.voicing:
        return segments
    return [*kept, early]


def _timed_bar(written: WrittenBarScore, rings: Rings | None, lengths: Lengths) -> TimedBar:
    slot, template = written.slot, written.template
    span = slot.bar.span
    voicings = tuple(
        [
            TimedVoicing(onset=one.onset, voicing=one.voicing, early=one.early, span=at)
            for one, at in zip(template.segments, _part_spans(written), strict=True)
            if one.voicing is not None
        ]
    )
    notes = tuple([seed.note for seed in template.seeds])
    if rings is not None:
        pairs = zip(template.seeds, rings.lengths, strict=True)
        notes = tuple([_note(seed, *lengths.of(seed, ring, slot), span) for seed, ring in pairs])
    return TimedBar(
        meter=slot.meter,
        length=slot.length,
        start=slot.start,
        voicings=voicings,
        notes=notes,
        slaps=template.slaps,
        rest=slot.bar.kind == "rest",
        cue=slot.cue,
        pattern=written.pattern,
        release=written.release,
        stop=written.stop,
        fermata=written.fermata,
        kind=slot.kind,
        span=span,
    )


def _note(seed: Seed, ring: Fraction, held: Fraction | None, bar_span: Span | None) -> TimedNote:
    note = seed.note
    if held is not None:
        note = evolve(note, technique=evolve(note.technique, held=held))
    if note.slurs:
        slurs = tuple(slur for slur in note.slurs if slur.onset < note.onset + ring)
        note = evolve(note, slurs=slurs)
    return note.ringing(ring, bar_span)


def _part_spans(written: WrittenBarScore) -> list[Span | None]:
    """Return where the voicings are written; templates are shared, so their own spans may differ."""
    parts = written.slot.bar.parts
    return [
        one.span if one.early or index >= len(parts) else parts[index].span
        for index, one in enumerate(written.template.segments)
    ]
