"""The parts of a lesson in words, apart from the song itself: what to know, shapes, changes, patterns, steps."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fretloom.characters import nothing_hidden
from fretloom.formats.students.prose.blocks import Passage, Point, Points, ProseBlock, Title
from fretloom.formats.students.telling.changes import caution_sentence, change_sentences
from fretloom.formats.students.telling.head import counted_from, head_of, tempo_fact
from fretloom.formats.students.telling.listener import sentence
from fretloom.formats.students.telling.picking import pattern_sentences
from fretloom.formats.students.telling.pieces import (
    BarsPiece,
    ChangePiece,
    PatternPiece,
    ShapePiece,
    ShownPiece,
    Tempos,
)
from fretloom.formats.students.telling.road import RoadBlock, road_of
from fretloom.formats.students.telling.shapes import shape_sentences
from fretloom.formats.students.words.teller import Teller
from fretloom.notation.model.step import Show
from fretloom.performance.showing.change_use import UsedChange, changes_between
from fretloom.trade.guitar.tuning import Tuning
from fretloom.trade.guitar.tunings import name_of_tuning
from fretloom.trade.harmony.note_names import write_note
from fretloom.trade.music.tempo import Tempo, number_words
from fretloom.trade.phrases.table import say
from fretloom.trade.wording import with_signs


def head(teller: Teller) -> Iterator[ProseBlock]:
    """Yield the title, who made it, and what to know before the first note."""
    told = head_of(teller.timeline.settings)
    yield Title(told.title, 1)
    if told.by:
        yield Passage((say("words.by", name=told.by),))
    yield Title(say("words.before"))
    facts = [
        Point(fact.label, teller.sign_words(fact.spoken or fact.value))
        for fact in told.facts if fact.label != say("head.tuning")
    ]  # fmt: skip
    facts.append(Point(say("head.tuning"), tuning_words(teller, told.tuning)))
    yield Points(tuple(facts))
    sides = [say("words.left"), say("words.right")]
    fretting, picking = sides[::-1] if teller.listener.mirrored else sides
    hands = sentence(say("words.hands", fretting=fretting, picking=picking))
    retuning = tuple(teller.sign_words(one) for one in told.retuning)
    counted = counted_from(teller.timeline.settings, teller.listener)
    yield Passage((*retuning, hands, *filter(None, [counted])))


def road(teller: Teller) -> Iterator[ProseBlock]:
    """Yield the way through the song, a point for each section as it is played."""
    blocks = road_of(teller.timeline)
    if blocks:
        yield Title(say("pages.road"))
        yield Points(tuple(_road_point(teller, one) for one in blocks), numbered=True)


def shapes(teller: Teller) -> Iterator[ProseBlock]:
    """Yield the shapes, each with its name."""
    if teller.shapes:
        yield Title(say("pages.shapes"))
    for taken in teller.shapes:
        name = teller.names.get(taken.voicing.name, taken.name)
        yield Title(say("words.shape-aloud", name=name) if teller.spoken else name, 3)
        yield Passage(shape_sentences(taken, teller.listener))


def changes(teller: Teller) -> Iterator[ProseBlock]:
    """Yield the changes of the song, and those that only a step shows; each caution in full once."""
    known = {(one.before.name, one.after.name): one for one in teller.changes}
    others = [names for names in _shown_changes(teller) if names not in known]
    shown = changes_between(teller.timeline, others, teller.changes)
    all_of = {names: one for names, one in (known | shown).items() if one.change.moves}
    if not all_of:
        return
    yield Title(say("words.changes"))
    cautions: set[str] = set()
    for one in all_of.values():
        yield Title(change_title(teller, one), 3)
        yield Passage((*change_words(teller, one), *_caution(one, cautions)))


def change_title(teller: Teller, one: UsedChange) -> str:
    """Name a change: "A to B7"."""
    before, after = (teller.names.get(name, name) for name in (one.before.name, one.after.name))
    key = "words.change-aloud" if teller.spoken else "words.change"
    return say(key, before=before, after=after)


def change_words(teller: Teller, one: UsedChange) -> tuple[str, ...]:
    """Say a change, without its caution."""
    return change_sentences(
        one.before, one.after, one.change, one.use, teller.listener, caution=False
    )


def patterns(teller: Teller) -> Iterator[ProseBlock]:
    """Yield the patterns that are played, each alone."""
    if teller.patterns:
        yield Title(say("pages.picking"))
    for (name, _), bars in teller.patterns.items():
        title = teller.pattern_name(name)
        yield Title(say("words.pattern-aloud", name=title) if teller.spoken else title, 3)
        yield Passage(pattern_sentences(bars, teller.listener, teller.only_over(bars)))


def steps(teller: Teller) -> Iterator[ProseBlock]:
    """Yield the teacher's steps, with what each shows as something to do."""
    shown = teller.pieces.steps(teller.reading.material.steps)
    if shown:
        yield Title(say("words.steps"))
    for number, step in enumerate(shown, start=1):
        title = say("words.step-aloud", number=number, title=step.title)
        yield Title(title, 3)
        if step.text:
            yield Passage(step.text)
        if step.pieces:
            yield Points(tuple(Point("", _piece(teller, one)) for one in step.pieces))


def ending(teller: Teller) -> Iterator[ProseBlock]:
    """Yield the usual caution, and the rights."""
    yield Title(say("words.care"))
    yield Passage((say("words.caution"),))
    if rights := nothing_hidden(teller.timeline.settings.rights):
        yield Passage((rights,))


def tuning_words(teller: Teller, tuning: Tuning) -> str:
    """Say a tuning with its name, string by string: "standard: string 6 is E, 5 is A"."""
    said: list[str] = []
    doubles = tuning.doubles or (None,) * tuning.strings
    for number, low, high in zip(
        range(tuning.strings, 0, -1), tuning.pitches, doubles, strict=True
    ):
        notes = [
            teller.sign_words(with_signs(write_note(one.name, teller.timeline.settings.names)))
            for one in (low, high) if one is not None
        ]  # fmt: skip
        note = (
            notes[0] if len(set(notes)) == 1 else say("words.course", note=notes[0], other=notes[1])
        )
        key = "words.open-string-next" if said else "words.open-string"
        said.append(say(key, number=number, note=note))
    name = nothing_hidden(name_of_tuning(tuning))
    strings = ", ".join(said)
    return say("words.tuning", name=name, strings=strings) if name else strings


def _road_point(teller: Teller, block: RoadBlock) -> Point:
    size = block.size
    if block.words:
        quoted = say("words.quoted", words=block.words)
        size = say("words.road-words", size=size, words=quoted)
    hints = [teller.sign_words(one) for one in block.hints]
    return Point(block.title, " ".join([sentence(size), *hints]) if hints else size)


def _shown_changes(teller: Teller) -> list[tuple[str, str]]:
    lines = [line for step in teller.reading.material.steps for line in step.lines]
    return [(one.name, one.over) for one in lines if isinstance(one, Show) and one.kind == "change"]


def _caution(one: UsedChange, said: set[str]) -> Sequence[str]:
    caution = caution_sentence(one.use)
    if not caution:
        return ()
    if caution in said:
        return (sentence(say("words.rest-again")),)
    said.add(caution)
    return (caution,)


def _piece(teller: Teller, piece: ShownPiece) -> str:
    title = teller.sign_words(piece.title)
    if isinstance(piece, ShapePiece):
        said = say("words.show-shape", name=title)
    elif isinstance(piece, ChangePiece):
        said = say("words.show-change", title=title)
    elif isinstance(piece, PatternPiece):
        said = say("words.show-pattern", title=title)
    elif isinstance(piece, BarsPiece):
        said = say("words.show-bars", title=title)
    else:
        said = say("words.show-song")
    return sentence(_at_tempo(teller, said, piece.tempos))


def _at_tempo(teller: Teller, said: str, tempos: Tempos | None) -> str:
    """Add how fast: ", at 60 quarter notes a minute", ", from 60 up to 96 quarter notes a minute"."""
    if tempos is None:
        return said
    unit = teller.timeline.settings.tempo.unit
    goal = tempo_fact(Tempo(tempos.goal / unit, unit)).spoken
    if tempos.start == tempos.goal:
        return say("words.tempo-at", told=said, tempo=goal)
    start = number_words(tempos.start / unit)
    return say("words.tempo-to", told=said, start=start, tempo=goal)
