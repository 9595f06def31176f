"""A lesson in another key: the capo moved under the same shapes, or other shapes for the same tune."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TypeVar

from attrs import evolve

from fretloom.arranging.new_shapes import NewShape, new_shapes
from fretloom.errors import FretloomError
from fretloom.notation.model.form import ChangeBars, Form, FormEntry
from fretloom.notation.model.heading import Heading, Setting
from fretloom.notation.model.lesson import Block, Lesson, PatternBlock, VoicingBlock
from fretloom.notation.model.margin import BARE, Unread
from fretloom.notation.model.pattern import Beat, Brush, Group, Pluck, Roll, Stroke
from fretloom.notation.model.section import Bar, BarLine, EndingStart, Section, ShortBar, With
from fretloom.notation.model.step import Show, Step
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.performance.events import Timeline
from fretloom.performance.reading import Reading
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.key import Key
from fretloom.values import frozen

#: A capo higher than this leaves too little of the neck.
HIGHEST_CAPO = 9


@frozen
class InNewKey:
    """A lesson in another key, without a text of its own yet, and what its teacher should look at."""

    lesson: Lesson
    remarks: tuple[str, ...] = ()


def with_capo(reading: Reading, fret: int) -> InNewKey:
    """Return the lesson with the capo at another fret and the same shapes, so that it sounds elsewhere.

    Raises:
        FretloomError: there is no room for the capo, or the lesson's own covers some strings only.
    """
    lesson, timeline = reading.lesson, reading.timeline
    _need_plain_capo(timeline, fret)
    plays = timeline.settings.plays
    sounds = plays.transposed(fret) if plays else None
    return InNewKey(_headed(lesson, {"capo": Capo(fret), "sounds": sounds}))


def with_shapes_of(reading: Reading, plays: Key, fret: int | None = None) -> InNewKey:
    """Return the lesson with the shapes of another key.

    Without `fret` the capo is moved so that it sounds as before. Movable voicings are moved, the
    others replaced by a common shape or, where there is none, by a barre in the nut's place.

    Raises:
        FretloomError: the lesson does not say its key, is based on another, or no capo fits.
    """
    lesson, timeline = reading.lesson, reading.timeline
    old = timeline.settings.plays
    if old is None:
        raise FretloomError("the lesson does not say its key: write `plays in` in its heading")
    if lesson.heading is not None and lesson.heading.setting("based") is not None:
        raise FretloomError("the lesson is based on another one: transpose that one")
    if plays.mode not in ("major", old.mode):
        raise FretloomError(f"the lesson is in {old}: shapes of {plays} cannot stand for it")
    steps = (plays.tonic.pitch_class - old.tonic.pitch_class) % 12
    if fret is None:
        fret = (timeline.settings.capo.fret - steps) % 12
    _need_plain_capo(timeline, fret)
    return _reshaped(lesson, timeline, evolve(plays, mode=old.mode), steps, fret)


def _need_plain_capo(timeline: Timeline, fret: int) -> None:
    if timeline.settings.capo.strings:
        raise FretloomError("a lesson with a capo on some strings only cannot be transposed")
    if not 0 <= fret <= HIGHEST_CAPO:
        hint = "choose other shapes" if fret > HIGHEST_CAPO else "a capo stands at fret 0 or above"
        raise FretloomError(f"the capo would have to stand at fret {fret}: {hint}")


def _reshaped(lesson: Lesson, timeline: Timeline, plays: Key, steps: int, fret: int) -> InNewKey:
    shapes = new_shapes(timeline, plays, steps)
    names = {old: shape.voicing.name for old, shape in shapes.items()}
    blocks = tuple(_block(block, shapes, names) for block in lesson.blocks)
    moved = evolve(lesson, blocks=_with_borrowed(blocks, lesson, shapes), source=None, faults=())
    head = {"capo": Capo(fret), "plays": plays, "sounds": plays.transposed(fret)}
    remarks = [shape.remark for shape in shapes.values() if shape.remark]
    remarks += [f"{place} names a fret: look whether it still fits" for place in _frets(lesson)]
    return InNewKey(_headed(moved, head), tuple(dict.fromkeys(remarks)))


def _headed(lesson: Lesson, values: Mapping[str, object]) -> Lesson:
    """Set fields of the heading; those that were not there are added at its end.

    A sounding key is only added where the old one stood or the playing key is set, and a capo at
    fret 0 only where one stood.
    """
    blocks = list(lesson.blocks)
    for index, block in enumerate(blocks):
        if isinstance(block, Heading):
            blocks[index] = evolve(block, settings=tuple(_settings(block, values)))
            break
    return evolve(lesson, blocks=tuple(blocks), source=None, faults=())


def _settings(heading: Heading, values: Mapping[str, object]) -> Iterator[Setting | Unread]:
    left = dict(values)
    for line in heading.settings:
        if isinstance(line, Setting) and left.get(line.name) is not None:
            yield evolve(line, value=left.pop(line.name))
        else:
            yield line
    for name, value in left.items():
        if value is not None and value != Capo(0) and name != "sounds":
            yield Setting(name=name, value=value)


def _block(block: Block, shapes: Mapping[str, NewShape], names: Mapping[str, str]) -> Block:
    """Return a block with its voicings replaced and all their names changed."""

    def rename(bar: Bar) -> Bar:
        parts = tuple(evolve(one, voicing=names.get(one.voicing, one.voicing)) for one in bar.parts)
        return evolve(bar, parts=parts)

    if isinstance(block, VoicingBlock):
        lines = (
            _entry(one, shapes) if isinstance(one, VoicingEntry) else one for one in block.lines
        )
        return evolve(block, lines=tuple(lines))
    if isinstance(block, Section):
        return evolve(block, lines=tuple(_with_bars(line, rename) for line in block.lines))
    if isinstance(block, Form):
        return evolve(block, entries=tuple(_form_entry(one, rename) for one in block.entries))
    if isinstance(block, Step):
        return evolve(block, lines=tuple(_shown(line, names) for line in block.lines))
    return block


def _entry(entry: VoicingEntry, shapes: Mapping[str, NewShape]) -> VoicingEntry:
    shape = shapes.get(entry.name)
    return _written(shape.voicing, entry) if shape else entry


def _written(voicing: Voicing, entry: VoicingEntry | None = None) -> VoicingEntry:
    return VoicingEntry(
        name=voicing.name,
        frets=voicing.frets,
        fingers=voicing.fingers if voicing.fingers_given else (),
        bass=voicing.bass if voicing.bass_given else (),
        hops=voicing.hops,
        margin=entry.margin if entry else BARE,
    )


def _with_borrowed(
    blocks: tuple[Block, ...], lesson: Lesson, shapes: Mapping[str, NewShape]
) -> tuple[Block, ...]:
    """Write out the voicings that came from a file of voicings, in a block of the lesson's own."""
    own = {entry.name for entry in lesson.voicings}
    borrowed = [_written(shape.voicing) for old, shape in shapes.items() if old not in own]
    if not borrowed:
        return blocks
    block = VoicingBlock(lines=tuple(borrowed))
    place = next((i for i, one in enumerate(blocks) if isinstance(one, Section)), len(blocks))
    return (*blocks[:place], block, *blocks[place:])


Rename = Callable[[Bar], Bar]
Line = TypeVar("Line")


def _with_bars(line: Line, rename: Rename) -> Line:
    if isinstance(line, BarLine | EndingStart | ChangeBars):
        return evolve(line, bars=tuple(map(rename, line.bars)))
    return evolve(line, bar=rename(line.bar)) if isinstance(line, ShortBar) else line


def _form_entry(entry: FormEntry | Unread, rename: Rename) -> FormEntry | Unread:
    if not isinstance(entry, FormEntry):
        return entry
    return evolve(entry, buts=tuple(_with_bars(one, rename) for one in entry.buts))


def _shown(line: Line, names: Mapping[str, str]) -> Line:
    if not isinstance(line, Show):
        return line
    over = names.get(line.over, line.over)
    if line.kind in ("voicing", "change"):
        return evolve(line, name=names.get(line.name, line.name), over=over)
    return evolve(line, over=over)


def _frets(lesson: Lesson) -> Iterator[str]:
    """Yield what names frets by itself, which nothing can move without listening."""
    for block in lesson.blocks:
        if isinstance(block, PatternBlock):
            for pattern in lesson.patterns:
                if any(_names_fret(beat) for bar in pattern.bars for beat in bar.beats):
                    yield f"the pattern {pattern.name}"
        elif isinstance(block, Section):
            bars = [bar for line in block.lines for bar in getattr(line, "bars", ())]
            if any(map(_bar_names_fret, bars)):
                yield f"a bar of {block.name}"


def _bar_names_fret(bar: Bar) -> bool:
    added = (patch.pluck for patch in bar.patches if isinstance(patch, With))
    beats = bar.beats.beats if bar.beats else ()
    return any(map(_pluck_names_fret, added)) or any(map(_names_fret, beats))


def _names_fret(item: object) -> bool:
    if isinstance(item, Beat | Group):
        return any(map(_names_fret, item.items))
    if isinstance(item, Stroke | Roll):
        return any(map(_names_fret, item.parts))
    return isinstance(item, Pluck) and _pluck_names_fret(item)


def _pluck_names_fret(pluck: Pluck | Brush) -> bool:
    return isinstance(pluck, Pluck) and (
        bool(pluck.slurs) or (pluck.fret is not None and not pluck.harmonic)
    )
