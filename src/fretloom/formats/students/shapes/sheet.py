"""The shapes of a lesson as drawn diagrams, in order of appearance."""

from __future__ import annotations

import re
from collections.abc import Sequence

from fretloom.engraving.drawn.shape_diagram import DiagramLook, room_beside, shape_diagram
from fretloom.formats.shape import Output, file_name
from fretloom.formats.students.shapes.options import ShapeOptions
from fretloom.formats.students.shapes.taken import taken_in, without_shape
from fretloom.formats.students.svg import document, sheet
from fretloom.performance.reading import Reading
from fretloom.performance.showing.taken_shapes import TakenShape

#: Between two diagrams of a sheet, in millimetres.
_GAP = 6.0


def write(reading: Reading, options: ShapeOptions) -> tuple[Output, ...]:
    """Draw the shapes that a lesson takes, on one sheet or each in a file of its own.

    Raises:
        FretloomError: the lesson takes no voicing that has frets.
    """
    taken = taken_in(reading.timeline)
    tuning = reading.timeline.settings.tuning
    capo = reading.timeline.settings.capo
    room = max(room_beside(one.voicing, one.use, capo) for one in taken)
    look = DiagramLook(mirrored=options.mirrored, lying=options.lying, room=room)
    pictures = [shape_diagram(one.voicing, one.use, tuning, look, one.name, capo) for one in taken]
    left_out = without_shape(reading.timeline)
    if options.each:
        names = _endings(taken)
        return tuple(
            Output(file_name(reading.lesson, ending), document(picture), left_out if not at else ())
            for at, (picture, ending) in enumerate(zip(pictures, names, strict=True))
        )
    title = (
        f"Shapes of {reading.timeline.settings.title}"
        if reading.timeline.settings.title
        else "Shapes"
    )
    text = sheet(pictures, title, abreast=options.abreast, gap=_GAP)
    return (Output(file_name(reading.lesson, ".shapes.svg"), text, left_out),)


def _endings(taken: Sequence[TakenShape]) -> list[str]:
    """Return a different end of a file name for each shape: `-C-sharp-m7.shapes.svg`."""
    used: set[str] = set()
    endings = []
    for one in taken:
        plain = one.voicing.name.replace("#", "-sharp-").replace("/", "-over-")
        word = re.sub(r"[^0-9A-Za-z.]+", "-", plain).strip("-.") or "shape"
        number, ending = 1, word
        while ending.casefold() in used:
            number += 1
            ending = f"{word}-{number}"
        used.add(ending.casefold())
        endings.append(f"-{ending}.shapes.svg")
    return endings
