"""A lesson in another key: the capo moved under the same shapes, or other shapes for the same tune."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from attrs import evolve

from fretloom.arranging.moving.contexts import names_fret
from fretloom.arranging.moving.heading import headed
from fretloom.arranging.moving.lines import lines_lost
from fretloom.arranging.moving.plucks import with_plucks
from fretloom.arranging.moving.words import named_in_words
from fretloom.arranging.moving.written import written
from fretloom.arranging.new_shapes import NewShape, new_shapes
from fretloom.arranging.remarks import FretNamed, LineLost, NamedInWords, NoLongerNeeded, Remark
from fretloom.errors import FretloomError
from fretloom.notation.model.lesson import Lesson, VoicingBlock
from fretloom.notation.model.margin import BARE
from fretloom.notation.model.pattern import Pattern, Pluck
from fretloom.notation.model.section import Section
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.notation.model.walking.places import WrittenPlace
from fretloom.notation.model.walking.walk import every, rebuilt, uses
from fretloom.performance.events import Timeline
from fretloom.performance.reading import Reading, read_through
from fretloom.performance.settings import picking_plan
from fretloom.trade.guitar.tuning import Capo
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
        headed(lesson, {"capo": Capo(fret), "sounds": sounds}, reading.material.settings)
    )


def with_shapes_of(
    reading: Reading,
    plays: Key,
    fret: int | None = None,
    *,
    plucks: bool = True,
    thumb_only: bool = False,
) -> Transposed:
    """Return the lesson with the shapes of another key.

    Without `fret` the capo is moved so that it sounds as before. Where a chord has an open shape in
    the new key, that is taken; movable voicings are moved, the others replaced by a common shape
    or, where there is none, by a barre in the nut's place. Plucks that name strings or frets are
    moved with the chord, and hops worked out anew, unless `plucks` is False: then they are all
    listed. `thumb_only` keeps new bass orders off the fingers' strings.

    Raises:
        FretloomError: the lesson does not say its key, is based on another, or no capo fits.
    """
    return read_with_shapes_of(reading, plays, fret, plucks=plucks, thumb_only=thumb_only)[0]


def read_with_shapes_of(
    reading: Reading,
    plays: Key,
    fret: int | None = None,
    *,
    plucks: bool = True,
    thumb_only: bool = False,
) -> tuple[Transposed, Reading]:
    """Return the same, and the new lesson read through."""
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
    return _reshaped(reading, evolve(plays, mode=old.mode), steps, fret, plucks, thumb_only)


def _need_plain_capo(timeline: Timeline, fret: int) -> None:
    if timeline.settings.capo.strings:
        raise FretloomError("a lesson with a capo on some strings only cannot be transposed")
    if not 0 <= fret <= HIGHEST_CAPO:
        hint = "choose other shapes" if fret > HIGHEST_CAPO else "write fret 0 or above"
        raise FretloomError(f"the capo would have to stand at fret {fret}: {hint}")


def _reshaped(
    reading: Reading, plays: Key, steps: int, fret: int, plucks: bool, thumb_only: bool
) -> tuple[Transposed, Reading]:
    lesson = reading.lesson
    plan = picking_plan(reading.material, reading.timeline.settings.tuning)
    shapes = new_shapes(
        reading.timeline, plays, steps, fret, plan, thumb_only=thumb_only, hops=plucks
    )
    reshaped, left = _without_needless(_with_shapes(lesson, shapes), lesson, shapes)
    head = {"capo": Capo(fret), "plays": plays, "sounds": plays.transposed(fret)}
    kept = [shape for old, shape in shapes.items() if old not in left]
    remarks: list[Remark] = [shape.remark for shape in kept if shape.remark]
    remarks += [NoLongerNeeded(name) for name in left]
    new = headed(reshaped, head, reading.material.settings)
    after = read_through(new)
    if steps == 0:
        return Transposed(new, tuple(remarks)), after
    names = {name: shape.voicing.name for name, shape in shapes.items()}
    by = _distance(reading, steps, fret)
    moved, found = _moved_with(reading, after, names, by, plucks)
    after = after if moved is new else read_through(moved)
    return Transposed(moved, (*remarks, *found)), after


def _distance(reading: Reading, steps: int, fret: int) -> int:
    """Return how many half steps higher the hand plays: as many as the capo goes down, if it sounds as before."""
    by = reading.timeline.settings.capo.fret - fret
    return by if (by - steps) % 12 == 0 else (steps + 5) % 12 - 5


def _moved_with(
    reading: Reading, after: Reading, names: Mapping[str, str], by: int, plucks: bool
) -> tuple[Lesson, tuple[Remark, ...]]:
    """Return the lesson with what moves with its voicings, and remarks on what does not."""
    old, new, lesson = reading.timeline, after.timeline, after.lesson
    lost = [LineLost(names[one], names[other]) for one, other in lines_lost(old, new, names)]
    words = [NamedInWords(*one) for one in named_in_words(reading.lesson, _spoken(reading))]
    if not plucks:
        places = dict.fromkeys(_frets(reading))
    else:
        plan = picking_plan(reading.material, old.settings.tuning)
        moved = with_plucks(lesson, old, new, names, by, plan)
        lesson = moved.lesson
        places = dict.fromkeys((*moved.left, *_borrowed_frets(reading)))
    return lesson, (*lost, *map(FretNamed, places), *words)


def _spoken(reading: Reading) -> set[str]:
    """Return the names of the lesson's voicings that are chords, with and without their tags."""
    voicings = reading.timeline.voicings.values()
    return {name for one in voicings if one.symbol for name in (one.name, one.symbol)}


def _with_shapes(lesson: Lesson, shapes: Mapping[str, NewShape]) -> Lesson:
    """Return a lesson with its voicings replaced and all their names changed."""

    def renamed(kind: str, name: str) -> str:
        shape = shapes.get(name) if kind == "voicing" else None
        return shape.voicing.name if shape else name

    def reshaped(entry: VoicingEntry, _: WrittenPlace) -> VoicingEntry:
        shape = shapes.get(entry.name)
        return written(shape.voicing, entry) if shape else entry

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


def _with_borrowed(moved: Lesson, lesson: Lesson, shapes: Mapping[str, NewShape]) -> Lesson:
    """Write the voicings in use that came from a file of voicings into a block of the lesson."""
    own = {entry.name for entry in lesson.voicings}
    used = {use.name for use in uses(lesson) if use.kind == "voicing"} - own
    borrowed = [written(shape.voicing) for old, shape in shapes.items() if old in used]
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
    plucked = every(reading.lesson, Pluck)
    yield from (place for place, pluck in plucked if names_fret(pluck))
    yield from _borrowed_frets(reading)


def _borrowed_frets(reading: Reading) -> Iterator[WrittenPlace]:
    """Yield the patterns of used files, and bars of them, that name frets: they are not the lesson's to change."""
    own = {one.name for _, one in every(reading.lesson, Pattern)}
    names = dict.fromkeys(use.name for use in uses(reading.lesson) if use.kind == "pattern")
    patterns = [
        one for name in names if name not in own and (one := reading.material.patterns.get(name))
    ]
    plucked = (found for part in patterns for found in every(part, Pluck))
    yield from (place for place, pluck in plucked if names_fret(pluck))
