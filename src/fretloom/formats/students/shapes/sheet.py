"""The shapes of a lesson as drawn diagrams, in order of appearance."""

from __future__ import annotations

from fretloom.engraving.drawn.shape_diagram import DiagramLook, room_beside, shape_diagram
from fretloom.formats.shape import Output, file_name
from fretloom.formats.students.files import endings
from fretloom.formats.students.shapes.options import ShapeOptions
from fretloom.formats.students.shapes.taken import taken_in, without_shape
from fretloom.formats.students.svg import document, sheet
from fretloom.formats.students.telling.listener import listener_of
from fretloom.performance.reading import Reading
from fretloom.trade.phrases.table import say

#: Between two diagrams of a sheet, in millimetres.
_GAP = 6.0


def write(reading: Reading, options: ShapeOptions) -> tuple[Output, ...]:
    """Draw the shapes that a lesson takes, on one sheet or each in a file of its own.

    Raises:
        FretloomError: the lesson takes no voicing that has frets.
    """
    taken = taken_in(reading.timeline)
    settings = reading.timeline.settings
    tuning, capo = settings.tuning, settings.capo
    room = max(room_beside(one.voicing, one.use, capo) for one in taken)
    look = DiagramLook(
        mirrored=options.mirrored,
        lying=options.lying,
        names=settings.names,
        room=room,
        called=listener_of(settings),
    )
    pictures = [shape_diagram(one.voicing, one.use, tuning, look, one.name, capo) for one in taken]
    left_out = without_shape(reading.timeline)
    if options.each:
        names = endings([one.voicing.name for one in taken], ".shapes.svg")
        return tuple(
            Output(file_name(reading.lesson, ending), document(picture), left_out if not at else ())
            for at, (picture, ending) in enumerate(zip(pictures, names, strict=True))
        )
    title = reading.timeline.settings.title
    heading = say("pages.shapes-of", title=title) if title else say("pages.shapes")
    text = sheet(pictures, heading, abreast=options.abreast, gap=_GAP)
    return (Output(file_name(reading.lesson, ".shapes.svg"), text, left_out),)
