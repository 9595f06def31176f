"""Bars and sections for generated lessons: they fill exactly, and all they refer to is there."""

from __future__ import annotations

from fractions import Fraction

from attrs import field, frozen
from hypothesis import strategies as st
from strategies_hands import onsets, pattern_bars
from strategies_sung import counts, words_lines
from strategies_words import Desk, block_margins, margins, tails, tempos, titles

from fretloom.notation.model.details.expression import (
    BackToTempo,
    DynamicChange,
    DynamicRamp,
    FreeTime,
    TempoChange,
    TempoRamp,
)
from fretloom.notation.model.details.sung import WordsLine
from fretloom.notation.model.pattern import Pattern, PatternBar, Pluck, Slap
from fretloom.notation.model.section import (
    Bar,
    BarLine,
    EndingStart,
    MeterChange,
    Part,
    RepeatEnd,
    RepeatStart,
    Section,
    SectionLine,
    ShortBar,
    UsingLine,
    With,
    Without,
)
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.trade.music.meter import Meter
from fretloom.trade.music.tempo import Tempo


@frozen
class Store:
    """What the bars of a lesson can draw on."""

    desk: Desk
    voicings: tuple[VoicingEntry, ...]
    patterns: tuple[Pattern, ...]
    voicing_names: st.SearchStrategy[str] = field(init=False)

    def __attrs_post_init__(self) -> None:
        object.__setattr__(
            self, "voicing_names", st.sampled_from([one.name for one in self.voicings])
        )

    def patterns_in(self, meter: Meter) -> list[Pattern]:
        return [one for one in self.patterns if (one.meter or self.desk.meter) == meter]


@st.composite
def parts(draw: st.DrawFn, store: Store, beats: int) -> tuple[Part, ...]:
    """One voicing, or several whose shares add up to the bar."""
    split = draw(st.sampled_from(["one", "one", "one", "equal", "reported"]))
    if split == "equal" and beats > 1:
        count = draw(st.sampled_from([size for size in range(2, beats + 1) if beats % size == 0]))
        return tuple(Part(voicing=draw(store.voicing_names)) for _ in range(count))
    if split == "reported" and beats > 1:
        first = draw(st.integers(1, beats - 1))
        cut = [Fraction(first), Fraction(beats - first)]
        return tuple(Part(voicing=draw(store.voicing_names), beats=share) for share in cut)
    return (Part(voicing=draw(store.voicing_names)),)


@st.composite
def patches(draw: st.DrawFn, store: Store, bar: PatternBar, meter: Meter):
    """A pluck more where the pattern has none, or one less where it has one."""
    struck = dict(onsets(bar, meter))
    count = draw(counts(meter, Fraction(0), meter.length))
    if count is not None and meter.position(count) not in struck:
        if draw(st.integers(0, 3)) == 3:
            return (With(pluck=Slap(place="body"), count=count),)
        finger = draw(st.sampled_from([one for one in ("i", "m", "a") if one in store.desk.homes]))
        return (With(pluck=Pluck(finger=finger), count=count),)
    singles = [(at, part.finger) for at, stroke in struck.items() for part in stroke.parts if isinstance(part, Pluck)]  # fmt: skip
    if not singles or draw(st.booleans()):
        return ()
    at, finger = draw(st.sampled_from(singles))
    return (Without(finger=finger, count=meter.count_at(at)),)


@st.composite
def bars(draw: st.DrawFn, store: Store, meter: Meter, before: Bar | None, own: bool) -> Bar:
    """A bar; `before` is the bar it may look back on, `own` that it must name its pattern."""
    kinds = (
        ["voicings"] * 8 + ["rest"] + ["same"] * 2 * (before is not None and before.kind != "rest")
    )
    kind = draw(st.sampled_from(kinds))
    cue = draw(st.just("") | titles)
    times = draw(st.sampled_from([1, 1, 1, 1, 2, 3]))
    if kind == "rest":
        return Bar(kind="rest", cue=cue, times=times)
    using, beats, played = draw(own_pattern(store, meter, own))
    fields: dict[str, object] = {"using": using, "beats": beats, "cue": cue, "times": times}
    if draw(st.integers(0, 9)) == 9:
        fields["fermata"] = draw(counts(meter, Fraction(0), meter.length))
    if played is not None:
        last = max((at for at, _ in onsets(played, meter)), default=Fraction(0))
        fields["patches"] = draw(patches(store, played, meter))
        if not fields["patches"] and draw(st.booleans()):
            word = draw(st.sampled_from(["stop", "release"]))
            fields[word] = draw(counts(meter, last + Fraction(1, 12), meter.length))
    if kind == "same":
        return Bar(kind="same", **fields)
    fields["parts"] = draw(parts(store, len(meter.beats)))
    if before is not None and before.kind == "voicings" and before.stop is before.release is None and draw(st.integers(0, 5)) == 5:  # fmt: skip
        fields["early"] = draw(counts(meter, meter.beat_starts[-2] + Fraction(1, 12), meter.length))
        fields["times"] = 1
    return Bar(**fields)


@st.composite
def own_pattern(draw: st.DrawFn, store: Store, meter: Meter, own: bool):
    """A pattern for one bar: by name, written out, or (if it need not be its own) none."""
    kind = draw(st.sampled_from(["using", "beats"] if own else ["", "", "", "using", "beats"]))
    known = store.patterns_in(meter)
    if kind == "using" and known:
        pattern = draw(st.sampled_from(known))
        return pattern.name, None, pattern.bars[0] if len(pattern.bars) == 1 else None
    if kind == "beats" or own:
        written = draw(pattern_bars(store.desk, len(meter.beats)))
        return "", written, written
    return "", None, None


@st.composite
def bar_runs(draw: st.DrawFn, store: Store, meter: Meter, own: bool, before: Bar | None = None):
    """One to four bars in a row."""
    run: list[Bar] = []
    for _ in range(draw(st.integers(1, 4))):
        before = draw(bars(store, meter, before, own))
        run.append(before)
    return tuple(run)


@st.composite
def plain_lines(draw: st.DrawFn, store: Store, meter: Meter, own: bool) -> list[SectionLine]:
    """One to three lines of bars."""
    lines: list[SectionLine] = []
    before = None
    for _ in range(draw(st.integers(1, 3))):
        run = draw(bar_runs(store, meter, own, before))
        before = run[-1]
        lines.append(BarLine(bars=run, margin=draw(margins())))
        lines += draw(words_lines(meter, run)) if draw(st.integers(0, 4)) == 4 else []
    return lines


@st.composite
def expressions(draw: st.DrawFn, store: Store, meter: Meter, own: bool) -> list[SectionLine]:
    """Lines that say how loud and how fast, with bars that they are for."""
    kind = draw(st.sampled_from(["swell", "dynamic", "swell", "slower", "free", "back", "using"]))
    lines: list[SectionLine] = []
    if kind in ("dynamic", "swell"):
        soft = draw(st.sampled_from(["p", "mp", "mf"]))
        lines.append(DynamicChange(dynamic=soft, margin=draw(margins())))
    if kind == "swell":
        lines.append(DynamicRamp(kind="crescendo", dynamic="f", bars=1, margin=draw(margins())))
    if kind == "slower":
        slow = Tempo(Fraction(15))
        lines.append(TempoRamp(kind="ritardando", tempo=slow, bars=1, margin=draw(margins())))
    if kind == "free":
        lines.append(FreeTime(margin=draw(margins())))
    if kind == "using" and store.patterns_in(meter):
        using = draw(st.sampled_from([one.name for one in store.patterns_in(meter)]))
        lines.append(UsingLine(using=using, margin=draw(margins())))
    lines += draw(plain_lines(store, meter, own))
    if kind in ("slower", "free", "back"):
        lines.append(BackToTempo(margin=draw(margins())))
        lines += draw(plain_lines(store, meter, own))
    return lines


@st.composite
def repeats(draw: st.DrawFn, store: Store, meter: Meter, own: bool, depth: int = 0):
    """A repeat, with endings or without, perhaps with another inside."""
    times = draw(st.integers(2, 4))
    lines: list[SectionLine] = [RepeatStart(times=times, margin=draw(margins()))]
    lines += draw(plain_lines(store, meter, own))
    if depth == 0 and draw(st.integers(0, 3)) == 3:
        lines += draw(repeats(store, meter, own, depth + 1))
    if draw(st.booleans()):
        passes = tuple(range(1, times)), (times,)
        for which in passes:
            run = draw(bar_runs(store, meter, own))
            lines.append(EndingStart(passes=which, bars=run, margin=draw(margins())))
    return [*lines, RepeatEnd(margin=draw(margins()))]


@st.composite
def short_bars(draw: st.DrawFn, store: Store, meter: Meter, own: bool) -> tuple[ShortBar, ShortBar]:
    """A pickup and the last bar that makes it whole."""
    total = len(meter.beats)
    size = draw(st.integers(1, total - 1))
    shorts = []
    for kind, beats in (("pickup", size), ("last", total - size)):
        written = draw(pattern_bars(store.desk, beats)) if own or draw(st.booleans()) else None
        bar = Bar(parts=(Part(voicing=draw(store.voicing_names)),), beats=written, cue=draw(titles))
        counted = kind == "pickup" and draw(st.booleans())
        start = meter.count_at(meter.beat_starts[total - size]) if counted else None
        through = before = None
        if kind == "last" and draw(st.integers(0, 2)):
            last = meter.count_at(meter.beat_starts[beats] - meter.count_length)
            ends = not last.part and meter.end_of(last) == meter.beat_starts[beats]
            through = last if ends and draw(st.booleans()) else None
            before = meter.count_at(meter.beat_starts[beats]) if through is None else None
        shorts.append(
            ShortBar(
                kind=kind,
                bar=bar,
                beats=None if counted or through or before else Fraction(beats),
                start=start,
                through=through,
                before=before,
                margin=draw(margins()),
            )
        )
    return shorts[0], shorts[1]


@st.composite
def sections(draw: st.DrawFn, store: Store, name: str) -> Section:
    """A section with everything that may stand in one."""
    other = [one.meter for one in store.patterns if one.meter]
    meter = draw(st.sampled_from([store.desk.meter, store.desk.meter, *other]))
    using = draw(st.sampled_from(["", *(one.name for one in store.patterns_in(meter))] * 2))
    own = not using
    lines = draw(plain_lines(store, meter, own))
    extra = draw(st.sampled_from(["", "", "", "repeat", "short", "meter", "tempo", "expression", "expression", "expression"]))  # fmt: skip
    if extra == "repeat":
        lines += draw(repeats(store, meter, own))
        lines += draw(plain_lines(store, meter, own)) if draw(st.booleans()) else []
    if extra == "short" and len(meter.beats) > 1:
        pickup, last = draw(short_bars(store, meter, own))
        lines = [pickup, *lines, last]
    if extra == "expression":
        lines += draw(expressions(store, meter, own))
        lines += draw(expressions(store, meter, own))
    if extra == "tempo":
        lines.append(TempoChange(tempo=draw(tempos), margin=draw(margins())))
        lines += draw(plain_lines(store, meter, own))
    if extra == "meter":
        changed = draw(st.sampled_from(other)) if other else meter
        lines.append(MeterChange(meter=changed, margin=draw(margins())))
        lines += draw(plain_lines(store, changed, own=True))
    stated = (
        written_bars(lines) if extra in ("", "tempo", "meter") and draw(st.booleans()) else None
    )
    return Section(
        name=name,
        title=draw(titles),
        using=using,
        meter=None if meter == store.desk.meter else meter,
        stated_bars=stated,
        lines=tuple(lines),
        tail=draw(tails),
        margin=draw(block_margins(first=False)),
    )


def written_bars(lines: list[SectionLine] | tuple[SectionLine, ...]) -> int:
    """Return how many bars the lines hold, `x2` counting as two."""
    return sum(bar.times for line in lines if isinstance(line, BarLine) for bar in line.bars)


def is_plain(section: Section) -> bool:
    """Whether a section is nothing but lines of bars."""
    return all(isinstance(line, BarLine | WordsLine) for line in section.lines)


def has_repeats(section: Section) -> bool:
    """Whether a section has bars that are repeated."""
    return any(isinstance(line, RepeatStart) for line in section.lines)


def looks_ahead(section: Section) -> bool:
    """Whether a bar wants the hand there early, so that there must be a bar before it."""
    return any(
        bar.early is not None
        for line in section.lines
        if isinstance(line, BarLine)
        for bar in line.bars
    )
