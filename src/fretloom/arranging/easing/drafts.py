"""A lesson based on another, with what is easier in it: put together from what was decided."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

from attrs import evolve

from fretloom.arranging.easing.slower import slowed_form, slowed_section, slowed_step
from fretloom.arranging.moving.contexts import Written, written_at
from fretloom.arranging.moving.written import written
from fretloom.notation.model import words
from fretloom.notation.model.heading import Heading, Setting
from fretloom.notation.model.lesson import Block, Lesson, PatternBlock, VoicingBlock
from fretloom.notation.model.margin import BARE, Margin
from fretloom.notation.model.pattern import Pattern, PatternBar
from fretloom.notation.model.section import Bar, Without
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.notation.model.walking.walk import rebuilt
from fretloom.performance.reading import Reading
from fretloom.shapes import trusted
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.meter import Count
from fretloom.trade.music.tempo import Tempo
from fretloom.values import frozen


@frozen
class Heads:
    """What the heading of the new lesson says: its title, the path of the first lesson, the level."""

    title: str
    based_on: str
    level: str


@frozen(kw_only=True)
class Draft:
    """What is to be easier.

    Args:
        voicings: the new ones by their old names. patterns: the new ones by name.
        bars: beats of bars written out, by the place of the bar.
        unplucked: counts on which patterns no longer pluck, so that nothing can be left out there.
        tempo: of the song, None for its own.
        keeps_fingers: whether fingers that the first lesson leaves open are written as found for it.
    """

    voicings: Mapping[str, Voicing] = {}
    patterns: Mapping[str, Pattern] = {}
    bars: Mapping[Written, PatternBar] = {}
    unplucked: frozenset[Count] = frozenset()
    tempo: Tempo | None = None
    keeps_fingers: bool = False

    @property
    def is_easier(self) -> bool:
        """Whether anything is to be easier."""
        return bool(self.voicings or self.patterns or self.bars or self.tempo)


def composed(reading: Reading, draft: Draft, heads: Heads) -> Lesson:
    """Return the new lesson, linked to the first one; only what is different stands in it."""
    lesson = reading.lesson
    blocks: list[Block] = [_heading(draft, heads)]
    entries = tuple(_entries(reading, draft))
    with trusted():
        if entries:
            blocks.append(VoicingBlock(lines=entries))
        if draft.patterns:
            blocks.append(PatternBlock(lines=tuple(_bare(draft.patterns.values()))))
        blocks += _changed(reading, draft)
    return Lesson(blocks=tuple(blocks), linked={heads.based_on: lesson})


def _heading(draft: Draft, heads: Heads) -> Heading:
    settings = [
        Setting(name="based", value=heads.based_on),
        Setting(name="level", value=heads.level),
    ]
    if draft.tempo is not None:
        settings.append(Setting(name="tempo", value=draft.tempo))
    return Heading(title=heads.title, settings=tuple(settings))


def _entries(reading: Reading, draft: Draft) -> Iterator[VoicingEntry]:
    """Yield the lines of the new voicings, and of those that were written like a voicing that is another now."""
    replaced = {old for old, new in draft.voicings.items() if new.name == old}
    known = reading.material.voicings
    said: set[str] = set()
    for old, new in draft.voicings.items():
        if new.name in said or (new.name != old and new.name in known):
            continue
        said.add(new.name)
        yield evolve(written(_given(new)), margin=_beside(reading, old, new))
    for name in known:
        voicing = reading.timeline.voicings.get(name)
        if voicing is None or name in draft.voicings:
            continue
        open_fingers = draft.keeps_fingers and not voicing.fingers_given and any(voicing.frets)
        if open_fingers or _leans(name, known, replaced):
            yield written(_given(voicing))


def _leans(name: str, known: Mapping[str, VoicingEntry], replaced: set[str]) -> bool:
    """Whether a voicing is written like one that was replaced, perhaps by way of others."""
    seen: set[str] = set()
    like = known[name].like
    while like and like not in seen:
        if like in replaced:
            return True
        seen.add(like)
        like = known[like].like if like in known else ""
    return False


def _given(voicing: Voicing) -> Voicing:
    return evolve(voicing, fingers_given=any(voicing.frets), bass_given=True)


def _beside(reading: Reading, old: str, new: Voicing) -> Margin:
    before = reading.timeline.voicings[old]
    comment = f"# in place of {old} {before.frets_text}"
    if new.frets == before.frets:
        comment = "# nothing hops"
    return BARE if words.beside(comment) else Margin(beside=comment)


def _bare(patterns: Iterable[Pattern]) -> Iterator[Pattern]:
    return (evolve(one, margin=BARE) for one in patterns)


def _changed(reading: Reading, draft: Draft) -> Iterator[Block]:
    """Yield sections, the form and steps that are not as they were."""
    material = reading.material
    old: list[Block] = [*material.sections.values()]
    old += [*filter(None, (material.form,)), *material.steps]
    new = rebuilt(
        Lesson(blocks=tuple(old)),
        name=lambda kind, name: _name(kind, name, draft),
        bar=lambda bar, _: _bar(bar, draft),
    ).blocks
    if draft.tempo is not None:
        new = tuple(_slowed(one, reading, draft.tempo) for one in new)
    count = len(old) - len(material.steps)
    pairs = list(zip(old, new, strict=True))
    yield from (now for one, now in pairs[:count] if now is not one)
    if any(now is not one for one, now in pairs[count:]):
        yield from (now for _, now in pairs[count:])


def _name(kind: str, name: str, draft: Draft) -> str:
    new = draft.voicings.get(name) if kind == "voicing" else None
    return name if new is None or new.name == name else new.name


def _bar(bar: Bar, draft: Draft) -> Bar:
    where = written_at(bar.span)
    beats = draft.bars.get(where) if where else None
    kept = tuple(
        patch
        for patch in bar.patches
        if not (isinstance(patch, Without) and patch.count in draft.unplucked)
    )
    if beats is not None:
        bar = evolve(bar, beats=beats)
    return bar if len(kept) == len(bar.patches) else evolve(bar, patches=kept)


def _slowed(block: Block, reading: Reading, tempo: Tempo) -> Block:
    from fretloom.notation.model.form import Form
    from fretloom.notation.model.section import Section
    from fretloom.notation.model.step import Step

    share = Fraction(tempo.quarters_per_minute, reading.timeline.settings.tempo.quarters_per_minute)
    if isinstance(block, Section):
        return slowed_section(block, share)
    if isinstance(block, Form):
        return slowed_form(block, share)
    return slowed_step(block, tempo.quarters_per_minute) if isinstance(block, Step) else block
