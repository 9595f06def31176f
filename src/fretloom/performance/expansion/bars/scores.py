"""Written bars to timed bars: finds a bar's pattern, builds its template once, fills in rings."""

from __future__ import annotations

from fractions import Fraction

from fretloom.notation.model.section import With, Without
from fretloom.performance.events import TimedBar, TimedNote, TimedVoicing
from fretloom.performance.expansion.bars.build import build
from fretloom.performance.expansion.bars.segments import Segment, count_position, segments_of
from fretloom.performance.expansion.bars.strokes import Place, beat_extents, lay_out
from fretloom.performance.expansion.bars.template import BarScore, Patch, Seed, Template
from fretloom.performance.expansion.faults import counted
from fretloom.performance.expansion.form.changes import Playing
from fretloom.performance.expansion.form.slots import Slot
from fretloom.performance.expansion.resolve import PatternLayout, Resolver, beats_hint
from fretloom.performance.expansion.words import part_words
from fretloom.source import Span
from fretloom.trade.guitar.voicing import Voicing

Early = tuple[Fraction, Voicing, Span | None]
_NONE: tuple[Place, ...] = ()


class Written:
    """A written bar in the company that matters to it: its template and what is printed with it."""

    __slots__ = ("pattern", "release", "slot", "stop", "template")

    def __init__(self, slot: Slot, template: Template, pattern: str) -> None:
        self.slot = slot
        self.template = template
        self.pattern = pattern
        self.release: Fraction | None = None
        self.stop: Fraction | None = None


class ScoreBook:
    """Templates and timed bars, each made once."""

    def __init__(self, resolver: Resolver) -> None:
        self._resolver = resolver
        self._faults = resolver.faults
        self._written: dict[object, Written] = {}
        self._templates: dict[object, Template] = {}
        self._cuts: dict[object, tuple[Place, ...]] = {}
        self._timed: dict[tuple[int, int], TimedBar] = {}
        self._kept: list[object] = []

    def written(self, slot: Slot, playing: Playing, following: Slot | None) -> Written:
        """Return a bar as it is played when another one follows it."""
        places, pattern = self._places(slot, playing)
        early = None
        if following is not None and following.bar.early is not None:
            early = self._early(slot, following)
        shape = None if slot.kind == "full" else (slot.kind, slot.start, slot.length)
        key = (
            id(slot.bar), id(places), id(slot.meter), shape, slot.cue,
            early and (early[0], id(early[1])),
        )  # fmt: skip
        found = self._written.get(key)
        if found is None:
            found = self._written[key] = self._write(slot, places, pattern, early)
            self._kept.append((slot.bar, places))
        return found

    def timed(self, written: Written, rings: tuple[Fraction, ...]) -> TimedBar:
        """Return the timed bar of a written one whose notes ring so long."""
        key = (id(written), id(rings))
        found = self._timed.get(key)
        if found is None:
            found = self._timed[key] = _timed_bar(written, rings)
        return found

    # The pattern

    def _places(self, slot: Slot, playing: Playing) -> tuple[tuple[Place, ...], str]:
        bar = slot.bar
        if bar.kind in ("rest", "unread"):
            return _NONE, ""
        if bar.beats is not None:
            return self._own_beats(slot), ""
        name = bar.using or playing.using
        if not name:
            self._no_pattern(slot)
            return _NONE, ""
        span = bar.using_span if bar.using else playing.using_span
        where = slot.where if bar.using else f"section {playing.plan.section.name}"
        layout = self._resolver.pattern(name, span, where)
        if layout is None:
            return _NONE, name
        if layout.meter is not slot.meter and layout.meter.beats != slot.meter.beats:
            self._other_meter(slot, layout, span)
            return _NONE, name
        index = -1 if slot.kind == "pickup" else (slot.run if bar.using else slot.cycle)
        places = layout.bars[index % len(layout.bars)]
        return (places if slot.kind == "full" else self._cut(slot, places)), name

    def _no_pattern(self, slot: Slot) -> None:
        message = f"{slot.where} has no pattern"
        hint = "write `using` and a pattern's name on the section's line or after the voicing"
        patterns = self._resolver.material.patterns
        if patterns:
            hint += f", for instance using {next(iter(patterns))}"
        section = slot.where.partition(" of ")[2]
        self._faults.add("no-pattern", slot.bar.span, message, hint, key=section)

    def _other_meter(self, slot: Slot, layout: PatternLayout, span: Span | None) -> None:
        message = (
            f"{slot.where} is in {slot.meter}, but the pattern {layout.name} is for {layout.meter}"
        )
        hint = f"use a pattern for {slot.meter}: a name, then in {slot.meter}: and its beats"
        key = (layout.name, str(slot.meter), id(span and span.source), span and span.start)
        self._faults.add("pattern-beats", span or slot.bar.span, message, hint, key=key)

    def _own_beats(self, slot: Slot) -> tuple[Place, ...]:
        beats = slot.bar.beats
        assert beats is not None
        key = (id(beats), id(slot.meter), slot.kind, slot.start, slot.length)
        found = self._cuts.get(key)
        if found is None:
            extents = beat_extents(slot.meter, slot.start, slot.length)
            if len(beats.beats) == len(extents):
                shifted = [(begin - slot.start, end - slot.start) for begin, end in extents]
                found = lay_out(beats, shifted)
            else:
                found = _NONE
                self._wrong_beats(slot, len(beats.beats), len(extents))
            self._cuts[key] = found
        return found

    def _wrong_beats(self, slot: Slot, found: int, wanted: int) -> None:
        beats = slot.bar.beats
        what = str(slot.meter) if slot.kind == "full" else "it"
        message = f"{slot.where}: there {'is' if found == 1 else 'are'} "
        message += f"{counted(found, 'beat')} in {{ }}, but {what} has {wanted}"
        span = (beats and beats.span) or slot.bar.span
        self._faults.add("pattern-beats", span, message, beats_hint(found, wanted, slot.meter))

    def _cut(self, slot: Slot, places: tuple[Place, ...]) -> tuple[Place, ...]:
        """Cut a pattern to a short bar. What comes before it stays, before 0, for the thumb's walk."""
        key = (id(places), slot.start, slot.length)
        found = self._cuts.get(key)
        if found is None:
            found = self._cuts[key] = tuple(
                Place(onset, min(place.length, slot.length - onset), place.hits)
                for place in places
                if (onset := place.onset - slot.start) < slot.length
            )
        return found

    # The template

    def _early(self, slot: Slot, following: Slot) -> Early | None:
        """Return the voicing that the next bar has its hand on early, and where in this one."""
        bar = following.bar
        if bar.early is None or not bar.parts:
            return None
        part = bar.parts[0]
        what = f"{part.voicing} comes early (it is the bar before {following.where})"
        position = count_position(slot, bar.early, what, bar.early_span, self._resolver)
        voicing = self._resolver.voicing(part.voicing, part.span, following.where)
        return None if position is None or voicing is None else (position, voicing, part.span)

    def _write(
        self, slot: Slot, places: tuple[Place, ...], pattern: str, early: Early | None
    ) -> Written:
        bar, resolver = slot.bar, self._resolver
        segments = segments_of(slot, resolver)
        if early is not None:
            segments = _with_early(segments, early)
        patches = self._patches(slot)
        release = stop = None
        if bar.release is not None:
            release = count_position(slot, bar.release, "release", bar.release_span, resolver)
        if bar.stop is not None:
            stop = count_position(slot, bar.stop, "stop", bar.stop_span, resolver)
        score = BarScore(
            slot.length, tuple(segments), places, patches, release, stop, bar.kind == "rest"
        )
        written = Written(slot, self._template(score, bar.patches, places), pattern)
        written.release, written.stop = release, stop
        self._report(written)
        return written

    def _patches(self, slot: Slot) -> tuple[Patch, ...]:
        """Return what is added to and left out of the pattern, with its place in the bar."""
        placed: list[Patch] = []
        for patch in slot.bar.patches:
            what = _patch_words(patch)
            at = count_position(slot, patch.count, what, patch.span, self._resolver)
            if at is not None:
                placed.append((at, patch))
        return tuple(placed)

    def _template(self, score: BarScore, patches: object, places: tuple[Place, ...]) -> Template:
        held = score.segments
        if len(held) == 1 and not held[0].early:
            taken: object = id(held[0].voicing)
        else:
            taken = tuple((one.onset, id(one.voicing), one.early) for one in held)
        key = (
            taken,
            score.length,
            id(places),
            id(patches) if score.patches else 0,
            score.release,
            score.stop,
            score.silent,
        )
        found = self._templates.get(key)
        if found is None:
            found = self._templates[key] = build(score, self._resolver)
            self._kept.append((patches, places, score))
        return found

    def _report(self, written: Written) -> None:
        """Note the faults of a template for the bar at hand."""
        slot = written.slot
        inherited = {id(patch) for patch in slot.bar.patches[: slot.inherited]}
        for finding in written.template.findings:
            if finding.key in inherited:
                continue
            self._faults.add(
                finding.rule,
                finding.span or _voicing_span(slot),
                finding.message.replace("{where}", slot.where),
                finding.hint,
                key=finding.key,
                severity=finding.severity,
            )


def _patch_words(patch: With | Without) -> str:
    if isinstance(patch, Without):
        return f"without {patch.finger}"
    return f"with {part_words(patch.pluck)}"


def _voicing_span(slot: Slot) -> Span | None:
    return slot.bar.parts[0].span if len(slot.bar.parts) == 1 else slot.bar.span


def _with_early(segments: list[Segment], early: Early) -> list[Segment]:
    at, voicing, span = early
    kept = [segment for segment in segments if segment.onset < at]
    if kept and kept[-1].voicing is voicing:
        return segments
    return [*kept, Segment(at, voicing, span, early=True)]


def _timed_bar(written: Written, rings: tuple[Fraction, ...]) -> TimedBar:
    slot, template = written.slot, written.template
    span = slot.bar.span
    voicings = tuple(
        TimedVoicing(onset=one.onset, voicing=one.voicing, early=one.early, span=at)
        for one, at in zip(template.segments, _part_spans(written), strict=True)
        if one.voicing is not None
    )
    seeds = template.seeds
    return TimedBar(
        meter=slot.meter,
        length=slot.length,
        start=slot.start,
        voicings=voicings,
        notes=tuple([_note(seed, ring, span) for seed, ring in zip(seeds, rings, strict=True)]),
        rest=slot.bar.kind == "rest",
        cue=slot.cue,
        pattern=written.pattern,
        release=written.release,
        stop=written.stop,
        kind=slot.kind,
        span=span,
    )


def _note(seed: Seed, ring: Fraction, bar_span: Span | None) -> TimedNote:
    slurs = seed.slurs
    if slurs:
        slurs = tuple(slur for slur in slurs if slur.onset < seed.onset + ring)
    return TimedNote(
        onset=seed.onset,
        length=seed.length,
        ring=ring,
        string=seed.string,
        fret=seed.fret,
        finger=seed.finger,
        midi=seed.midi,
        fretting=seed.fretting,
        accent=seed.accent,
        harmonic=seed.harmonic,
        dead=seed.dead,
        order=seed.order,
        gesture=seed.gesture,
        brush=seed.brush,
        slurs=slurs,
        literal=seed.literal,
        muted=seed.muted,
        pluck_span=seed.pluck_span,
        bar_span=bar_span,
    )


def _part_spans(written: Written) -> list[Span | None]:
    """Return where the voicings are written; templates are shared, so their own spans may differ."""
    parts = written.slot.bar.parts
    return [
        one.span if one.early or index >= len(parts) else parts[index].span
        for index, one in enumerate(written.template.segments)
    ]
