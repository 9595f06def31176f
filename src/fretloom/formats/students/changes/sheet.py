"""The changes of a song as pictures: each new shape with the places its fingers come from."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from fretloom.engraving.drawn.change_diagram import change_diagram, room_beside_change
from fretloom.engraving.drawn.drawing import Drawing
from fretloom.engraving.drawn.shape_diagram import DiagramLook
from fretloom.engraving.drawn.shape_words import said_aloud
from fretloom.errors import FretloomError
from fretloom.formats.beside import not_there
from fretloom.formats.shape import LeftOut, Output, file_name
from fretloom.formats.students.changes.options import ChangeOptions
from fretloom.formats.students.files import endings
from fretloom.formats.students.svg import document, sheet
from fretloom.formats.students.telling.changes import change_sentences
from fretloom.formats.students.telling.listener import listener_of
from fretloom.performance.events import Timeline
from fretloom.performance.reading import Reading
from fretloom.performance.showing.change_use import UsedChange, known, used_changes
from fretloom.performance.showing.taken_shapes import TakenShape, taken_shapes
from fretloom.trade.phrases.table import say

#: Between two pictures of a sheet, in millimetres.
_GAP = 6.0


def write(reading: Reading, options: ChangeOptions) -> tuple[Output, ...]:
    """Draw the changes of a song, on one sheet or each in a file of its own.

    Raises:
        FretloomError: there is none between shapes whose fingers are known.
    """
    timeline = reading.timeline
    shapes = {one.voicing.name: one for one in taken_shapes(timeline)}
    made = [
        one for one in used_changes(timeline)
        if one.before.name in shapes and one.after.name in shapes
    ]  # fmt: skip
    if not made:
        raise FretloomError(
            "the song never changes between two shapes whose fingers are known, so there is no change to draw"
        )
    if options.order == "hardest":
        made.sort(key=lambda one: -one.change.time)
    left_out = _left_out(shapes.values())
    pictures = _pictures(timeline, made, shapes, options)
    if options.each:
        words = [f"{one.before.name}-to-{one.after.name}" for one in made]
        return tuple(
            Output(file_name(reading.lesson, ending), document(picture), left_out if not at else ())
            for at, (picture, ending) in enumerate(
                zip(pictures, endings(words, ".changes.svg"), strict=True)
            )
        )
    title = timeline.settings.title
    heading = say("pages.changes-of", title=title) if title else say("pages.changes")
    text = sheet(pictures, heading, abreast=options.abreast, gap=_GAP)
    return (Output(file_name(reading.lesson, ".changes.svg"), text, left_out),)


def _pictures(
    timeline: Timeline,
    made: Sequence[UsedChange],
    shapes: dict[str, TakenShape],
    options: ChangeOptions,
) -> list[Drawing]:
    settings = timeline.settings
    pairs = [(shapes[one.before.name], shapes[one.after.name]) for one in made]
    listener = listener_of(settings, mirrored=options.mirrored)
    room = max(room_beside_change(*pair, settings.capo) for pair in pairs)
    look = DiagramLook(
        mirrored=options.mirrored,
        lying=options.lying,
        names=settings.names,
        room=room,
        called=listener,
    )
    pictures = []
    for one, (before, after) in zip(made, pairs, strict=True):
        sentences = change_sentences(one.before, one.after, one.change, one.use, listener)
        names = {"before": said_aloud(before.name), "after": said_aloud(after.name)}
        says = " ".join([say("spoken.change", **names), *sentences])
        pictures.append(
            change_diagram(
                before, after, one.change, settings.tuning, look, capo=settings.capo, says=says
            )
        )
    return pictures


def _left_out(shapes: Iterable[TakenShape]) -> tuple[LeftOut, ...]:
    """Return the shapes whose changes cannot be drawn."""
    unknown = [one.voicing.name for one in shapes if not known(one.voicing)]
    return tuple(not_there("shape", unknown, "has no fingers that are known"))
