"""Whole lessons, valid by construction, for the laws that every part of the project must keep.

`lessons()` uses every construct of the notation; all names exist, all bars fill, no muted string is
plucked. `leaning()` adds `use` and `based on` lines, whose files need not exist.
"""

from __future__ import annotations

from fractions import Fraction

from attrs import evolve
from hypothesis import strategies as st
from strategies_bars import (
    Store,
    bar_runs,
    has_repeats,
    is_plain,
    looks_ahead,
    sections,
    written_bars,
)
from strategies_hands import PATTERN_NAMES, patterns, voicings
from strategies_words import (  # fmt: skip
    METERS,
    block_margins,
    comments,
    desks,
    headings,
    margins,
    prose,
    quoted,
    tails,
    tempos,
)

from fretloom.notation.model.form import (
    LAST,
    But,
    ChangeBars,
    ChangeDynamic,
    ChangePattern,
    ChangeTempo,
    ChangeWords,
    DropBars,
    DynamicRun,
    Form,
    FormEntry,
    KeepBars,
    TempoRun,
    WithoutRepeats,
)
from fretloom.notation.model.heading import Setting
from fretloom.notation.model.lesson import (
    Block,
    Edition,
    Home,
    Lesson,
    PatternBlock,
    PickingBlock,
    Use,
    VoicingBlock,
)
from fretloom.notation.model.section import Bar, Section
from fretloom.notation.model.step import Prose, Show, Step
from fretloom.trade.music.tempo import Tempo

SECTION_NAMES = ("intro", "verse", "close", "bridge-2", "übung")


def _first_ungapped(lines):
    """No empty line stands before the first line of a block."""
    lines = tuple(lines)
    return (
        (evolve(lines[0], margin=evolve(lines[0].margin, gap=False)), *lines[1:]) if lines else ()
    )


@st.composite
def picking_blocks(draw: st.DrawFn, homes: dict[str, tuple[int, ...]]) -> PickingBlock:
    """The `picking` block with the usual strings written out."""
    lines = [
        Home(finger=finger, strings=strings, margin=draw(margins()))
        for finger, strings in homes.items()
    ]
    return PickingBlock(
        lines=_first_ungapped(lines), tail=draw(tails), margin=draw(block_margins(False))
    )


@st.composite
def stores(draw: st.DrawFn) -> Store:
    """An instrument with its voicings and patterns."""
    desk = draw(desks())
    names = draw(st.lists(st.sampled_from(PATTERN_NAMES), unique=True, min_size=1, max_size=3))
    meters = [desk.meter, *(draw(st.sampled_from([desk.meter, *METERS])) for _ in names[1:])]
    made = [draw(patterns(desk, name, meter)) for name, meter in zip(names, meters, strict=True)]
    return Store(desk, draw(voicings(desk)), tuple(made))


@st.composite
def buts(draw: st.DrawFn, store: Store, section: Section) -> tuple[But, ...]:
    """What is different about one playing of a section."""
    made: list[But] = []
    meter = section.meter or store.desk.meter
    if is_plain(section) and draw(st.integers(0, 5)):
        made.append(draw(bar_buts(store, section)))
    if section.using and draw(st.integers(0, 3)) == 3:
        using = draw(st.sampled_from([one.name for one in store.patterns_in(meter)]))
        made.append(ChangePattern(using=using, margin=draw(margins())))
    if draw(st.integers(0, 3)) == 3:
        made.append(ChangeTempo(tempo=draw(tempos), margin=draw(margins())))
    if has_repeats(section) and draw(st.booleans()):
        made.append(WithoutRepeats(margin=draw(margins())))
    if draw(st.integers(0, 5)) == 5:
        made.append(ChangeWords(verse=draw(st.integers(1, 3)), margin=draw(margins())))
    if is_plain(section) and draw(st.integers(0, 4)):
        made += draw(hows(store, section))
    return tuple(made)


@st.composite
def hows(draw: st.DrawFn, store: Store, section: Section) -> list[But]:
    """How some bars, or all of them, are played in one playing."""
    total = written_bars(section.lines)
    first, last, _ = draw(places(total))
    if total > 1 and draw(st.integers(0, 3)) == 3:
        first, last = -2, LAST
    run = {"first": first, "last": last, "margin": draw(margins())}
    made: list[But] = []
    chosen = draw(st.sets(st.sampled_from(["using", "tempo", "dynamic", "run", "loud", "only"]), min_size=1, max_size=3))  # fmt: skip
    known = store.patterns_in(section.meter or store.desk.meter)
    if "using" in chosen and known:
        using = draw(st.sampled_from([one.name for one in known]))
        made.append(ChangePattern(using=using, **run))
    if "tempo" in chosen and "run" not in chosen:
        made.append(ChangeTempo(tempo=draw(tempos), **run))
    if "loud" in chosen:
        soft = ChangeDynamic(dynamic="mp")
        made += [soft, DynamicRun(kind="diminuendo", dynamic="ppp", **run)]
    elif "dynamic" in chosen:
        made.append(ChangeDynamic(dynamic=draw(st.sampled_from(["p", "mp", "mf"])), **run))
    if "run" in chosen:
        made.append(TempoRun(kind="accelerando", tempo=Tempo(Fraction(400)), **run))
    if "only" in chosen and not looks_ahead(section):
        made.append(KeepBars(**run))
    return made


@st.composite
def bar_buts(draw: st.DrawFn, store: Store, section: Section) -> ChangeBars | DropBars:
    """Bars changed, played as they are but more than once, or left out."""
    total = written_bars(section.lines)
    first, last, open_end = draw(places(total))
    kept = not (first == 1 and last in (total, LAST)) and not looks_ahead(section)
    if total > 1 and kept and not open_end and draw(st.integers(0, 3)):
        return DropBars(first=first, last=last, margin=draw(margins()))
    if first == last and draw(st.integers(0, 2)):
        changed = (Bar(kind="written", times=draw(st.integers(1, 3))),)
    else:
        meter = section.meter or store.desk.meter
        changed = draw(bar_runs(store, meter, own=not section.using))
    return ChangeBars(
        first=first, last=last, bars=changed, open_end=open_end, margin=draw(margins())
    )


@st.composite
def places(draw: st.DrawFn, total: int) -> tuple[int, int, bool]:
    """Bars of a section: one, several, the last, or from one on; and whether it is the latter."""
    kind = draw(st.sampled_from(["one", "one", "some", "last", "from", "from"]))
    first = draw(st.integers(1, total))
    if kind == "last":
        return LAST, LAST, False
    if kind == "from":
        return first, LAST, True
    return first, first if kind == "one" else draw(st.integers(first, total)), False


@st.composite
def forms(draw: st.DrawFn, store: Store, played: list[Section]) -> Form:
    """Every section at least once, some more often, with differences."""
    more = draw(st.lists(st.sampled_from(played), max_size=2))
    entries = [
        FormEntry(
            section=section.name,
            times=draw(st.sampled_from([1, 1, 1, 2, 3])),
            buts=draw(buts(store, section)),
            margin=draw(margins()),
        )
        for section in [*played, *more]
    ]
    return Form(
        entries=_first_ungapped(entries), tail=draw(tails), margin=draw(block_margins(False))
    )


@st.composite
def shows(draw: st.DrawFn, store: Store, played: list[Section]) -> Show:
    """A line that shows something of the lesson, perhaps at a tempo or climbing."""
    kind = draw(st.sampled_from(["voicing", "change", "pattern", "section", "bars", "form"]))
    fields: dict[str, object] = {"kind": kind, "margin": draw(margins())}
    names = {
        "voicing": [one.name for one in store.voicings],
        "change": [one.name for one in store.voicings],
        "pattern": [one.name for one in store.patterns],
        "section": [one.name for one in played],
        "bars": [one.name for one in played],
    }
    if kind in names:
        fields["name"] = draw(st.sampled_from(names[kind]))
    if kind in ("change", "pattern"):
        fields["over"] = draw(store.voicing_names)
    if kind == "bars":
        section = next(one for one in played if one.name == fields["name"])
        fields["first"] = first = draw(st.integers(1, max(1, written_bars(section.lines))))
        fields["last"] = draw(st.integers(first, max(1, written_bars(section.lines))))
    if draw(st.booleans()):
        fields["start"] = start = Fraction(draw(st.integers(40, 90)))
        fields["goal"] = start + draw(st.integers(1, 40)) if draw(st.booleans()) else None
    return Show(**fields)


@st.composite
def steps(draw: st.DrawFn, store: Store, played: list[Section]) -> Step:
    """A step: prose, and lines that show something."""
    reported = st.builds(Prose, text=prose, margin=margins())
    lines = draw(st.lists(reported | shows(store, played), max_size=4))
    return Step(
        title=draw(quoted),
        lines=_first_ungapped(lines),
        tail=draw(tails),
        margin=draw(block_margins(False)),
    )


def _table(draw, kind, lines):
    """A block of voicings or patterns."""
    return kind(lines=_first_ungapped(lines), tail=draw(tails), margin=draw(block_margins(False)))


@st.composite
def lessons(draw: st.DrawFn) -> Lesson:
    """A whole valid lesson."""
    store = draw(stores())
    names = draw(st.lists(st.sampled_from(SECTION_NAMES), unique=True, min_size=1, max_size=3))
    played = [draw(sections(store, name)) for name in names]
    played = [evolve(one, lines=_first_ungapped(one.lines)) for one in played]
    blocks: list[Block] = [draw(headings(store.desk, first=True))]
    if draw(st.integers(0, 3)) == 3:
        blocks.append(draw(picking_blocks(store.desk.homes)))
    blocks += [
        _table(draw, VoicingBlock, store.voicings),
        _table(draw, PatternBlock, store.patterns),
        *played,
    ]
    if draw(st.integers(0, 3)):
        blocks.append(draw(forms(store, played)))
    blocks += draw(st.lists(steps(store, played), max_size=3))
    tail = tuple(draw(st.lists(comments, max_size=1)))
    if draw(st.integers(0, 5)) == 5:
        apart = evolve(blocks[0], margin=evolve(blocks[0].margin, gap=True))
        blocks[:1] = [Edition(margin=draw(block_margins(True))), apart]
    return Lesson(blocks=tuple(blocks), tail=tail)


@st.composite
def leaning(draw: st.DrawFn, lesson: Lesson) -> Lesson:
    """A lesson as it is, or one that leans on other files as well."""
    if draw(st.integers(0, 3)) < 3:
        return lesson
    heading = lesson.heading
    assert heading is not None
    based = Setting(name="based", value=draw(quoted))
    uses = draw(st.lists(st.builds(Use, path=quoted), max_size=2))
    placed = [
        evolve(use, margin=evolve(use.margin, gap=not place)) for place, use in enumerate(uses)
    ]
    head = evolve(heading, settings=(*heading.settings, based))
    return evolve(lesson, blocks=(head, *placed, *lesson.blocks[1:]))
