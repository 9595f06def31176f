"""A lesson in another key: the capo moved under the same shapes, or other shapes for the same tune."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import cast

from attrs import evolve

from fretloom.arranging.new_shapes import NewShape, new_shapes
from fretloom.arranging.remarks import FretNamed, NoLongerNeeded, Remark
from fretloom.errors import FretloomError
from fretloom.notation.model.heading import Heading, Setting, SettingName
from fretloom.notation.model.lesson import Lesson, VoicingBlock
from fretloom.notation.model.margin import BARE, Unread
from fretloom.notation.model.pattern import Pluck
from fretloom.notation.model.places import WrittenPlace
from fretloom.notation.model.section import Section
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.notation.model.walk import every, rebuilt, uses
from fretloom.performance.events import Timeline
from fretloom.performance.reading import Reading
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.guitar.voicing import FrettingFinger, Voicing
from fretloom.trade.music.key import Key
from fretloom.values import frozen

#: A capo higher than this leaves too little of the neck.
HIGHEST_CAPO = 9


@frozen
class Transposed:
    """A lesson in another key, and what its teacher should look at."""

    lesson: Lesson
    remarks: tuple[Remark, ...] = ()


def with_capo(reading: Reading, fret: int) -> Transposed:
    """Return the lesson with the capo at another fret and the same shapes, so that it sounds elsewhere.

    Raises:
        FretloomError: the capo does not fit on the neck, or the lesson's own capo covers only some
            strings.
    """
    lesson, timeline = reading.lesson, reading.timeline
    _need_plain_capo(timeline, fret)
    plays = timeline.settings.plays
    sounds = plays.transposed(fret) if plays else None
    return Transposed(
        _headed(lesson, {"capo": Capo(fret), "sounds": sounds}, reading.material.settings)
    )


def with_shapes_of(reading: Reading, plays: Key, fret: int | None = None) -> Transposed:
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
        raise FretloomError(
            f"the lesson is in {old}, so it cannot be played with shapes of {plays}"
        )
    steps = (plays.tonic.pitch_class - old.tonic.pitch_class) % 12
    if fret is None:
        fret = (timeline.settings.capo.fret - steps) % 12
    _need_plain_capo(timeline, fret)
    return _reshaped(reading, evolve(plays, mode=old.mode), steps, fret)


def _need_plain_capo(timeline: Timeline, fret: int) -> None:
    if timeline.settings.capo.strings:
        raise FretloomError("a lesson with a capo on some strings only cannot be transposed")
    if not 0 <= fret <= HIGHEST_CAPO:
        hint = "choose other shapes" if fret > HIGHEST_CAPO else "write fret 0 or above"
        raise FretloomError(f"the capo would have to stand at fret {fret}: {hint}")


def _reshaped(reading: Reading, plays: Key, steps: int, fret: int) -> Transposed:
    lesson = reading.lesson
    shapes = new_shapes(reading.timeline, plays, steps)
    moved, left = _without_needless(_with_shapes(lesson, shapes), lesson, shapes)
    head = {"capo": Capo(fret), "plays": plays, "sounds": plays.transposed(fret)}
    kept = [shape for old, shape in shapes.items() if old not in left]
    remarks: list[Remark] = [shape.remark for shape in kept if shape.remark]
    remarks += [NoLongerNeeded(name) for name in left]
    if steps:
        remarks += [FretNamed(place) for place in _frets(reading)]
    return Transposed(_headed(moved, head, reading.material.settings), tuple(remarks))


def _with_shapes(lesson: Lesson, shapes: Mapping[str, NewShape]) -> Lesson:
    """Return a lesson with its voicings replaced and all their names changed."""

    def renamed(kind: str, name: str) -> str:
        shape = shapes.get(name) if kind == "voicing" else None
        return shape.voicing.name if shape else name

    def reshaped(entry: VoicingEntry, _: WrittenPlace) -> VoicingEntry:
        shape = shapes.get(entry.name)
        return _written(shape.voicing, entry) if shape else entry

    return _with_borrowed(rebuilt(lesson, name=renamed, voicing=reshaped), lesson, shapes)


def _without_needless(
    moved: Lesson, lesson: Lesson, shapes: Mapping[str, NewShape]
) -> tuple[Lesson, list[str]]:
    """Leave out voicings that only those `like` them needed, unless there is a comment at them.

    The second value is their old names.
    """
    before, after = ({one.name for one in uses(some)} for some in (lesson, moved))
    left = [
        entry.name
        for entry in lesson.voicings
        if entry.margin == BARE and entry.name in before and entry.name in shapes
        if shapes[entry.name].voicing.name not in after
    ]
    gone = {shapes[name].voicing.name for name in left}
    blocks = (
        evolve(block, lines=tuple(line for line in block.lines if line.name not in gone))
        if isinstance(block, VoicingBlock)
        else block
        for block in moved.blocks
    )
    return (evolve(moved, blocks=tuple(blocks)) if left else moved), left


def _headed(lesson: Lesson, values: Mapping[str, object], stated: Collection[str]) -> Lesson:
    """Set fields of the heading; missing ones are added at its end.

    A sounding key follows from the other two, so it only replaces one that was there already, here
    or in a lesson that this one is based on (`stated` names the fields of both); the same goes for
    a capo at fret 0.
    """
    blocks = list(lesson.blocks)
    for index, block in enumerate(blocks):
        if isinstance(block, Heading):
            blocks[index] = evolve(block, settings=tuple(_settings(block, values, stated)))
            break
    return evolve(lesson, blocks=tuple(blocks), source=None, faults=())


def _settings(
    heading: Heading, values: Mapping[str, object], stated: Collection[str]
) -> Iterator[Setting | Unread]:
    left = dict(values)
    for line in heading.settings:
        if isinstance(line, Setting) and left.get(line.name) is not None:
            yield evolve(line, value=left.pop(line.name))
        else:
            yield line
    for name, value in left.items():
        follows = value == Capo(0) or name == "sounds"
        if value is not None and (name in stated or not follows):
            yield Setting(name=cast("SettingName", name), value=value)


def _written(voicing: Voicing, entry: VoicingEntry | None = None) -> VoicingEntry:
    return VoicingEntry(
        name=voicing.name,
        frets=voicing.frets,
        fingers=cast("tuple[FrettingFinger | None, ...]", voicing.fingers)
        if voicing.fingers_given
        else (),
        bass=voicing.bass if voicing.bass_given else (),
        hops=voicing.hops,
        margin=entry.margin if entry else BARE,
    )


def _with_borrowed(moved: Lesson, lesson: Lesson, shapes: Mapping[str, NewShape]) -> Lesson:
    """Write the voicings in use that came from a file of voicings into a block of the lesson."""
    own = {entry.name for entry in lesson.voicings}
    used = {use.name for use in uses(lesson) if use.kind == "voicing"} - own
    borrowed = [_written(shape.voicing) for old, shape in shapes.items() if old in used]
    if not borrowed:
        return moved
    blocks = moved.blocks
    block = VoicingBlock(lines=tuple(borrowed))
    place = next((i for i, one in enumerate(blocks) if isinstance(one, Section)), len(blocks))
    return evolve(moved, blocks=(*blocks[:place], block, *blocks[place:]))


def _frets(reading: Reading) -> Iterator[WrittenPlace]:
    """Yield each place where a pluck names a fret, patterns of used files included.

    A natural harmonic is where it is whatever the hand holds.
    """
    lesson = reading.lesson
    used = dict.fromkeys(use.name for use in uses(lesson) if use.kind == "pattern")
    patterns = [one for name in used if (one := reading.material.patterns.get(name))]
    plucked = (found for part in (lesson, *patterns) for found in every(part, Pluck))
    yield from dict.fromkeys(place for place, pluck in plucked if _names_fret(pluck))


def _names_fret(pluck: Pluck) -> bool:
    return bool(pluck.slurs) or (pluck.fret is not None and not pluck.harmonic)
