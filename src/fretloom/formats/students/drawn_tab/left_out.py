"""What a drawn tab does not show."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.formats.beside import Held, beside_the_music
from fretloom.formats.shape import LeftOut, left_out_at
from fretloom.formats.students.drawn_tab.options import DrawnTabOptions
from fretloom.performance.reading import Reading


def left_out(reading: Reading, options: DrawnTabOptions) -> tuple[LeftOut, ...]:
    """Return what the lesson says and its drawn tab does not."""
    shown: tuple[Held, ...] = ("titles of sections",)
    beside = beside_the_music(reading, "a drawn tab", shown)
    return (*beside, *_in_bars(reading, options))


def _in_bars(reading: Reading, options: DrawnTabOptions) -> Iterator[LeftOut]:
    for played, bar in reading.timeline.distinct_bars():
        if any(note.literal and note.fretting for note in bar.notes):
            yield left_out_at("which fretting finger takes a fret that a pluck names", played)
        late = [slur for note in bar.notes for slur in note.slurs if slur.onset >= bar.length]
        if late or any(note.onset >= bar.length for note in bar.notes):
            yield left_out_at("notes that begin after the end of their bar", played)
        if options.without_letters:
            yield left_out_at("the letters of the picking fingers", played)
