"""A lesson's song as drawn tab, on one page or each part in a file of its own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fretloom.characters import nothing_hidden
from fretloom.engraving.drawn.drawing import Ink, Letters, Mark
from fretloom.engraving.drawn.lettering import wrapped
from fretloom.engraving.drawn.tab.strip import strip
from fretloom.engraving.drawn.tab.values import TabLook
from fretloom.errors import FretloomError
from fretloom.formats.shape import Output, file_name
from fretloom.formats.students.drawn_tab.left_out import left_out
from fretloom.formats.students.drawn_tab.options import DrawnTabOptions
from fretloom.formats.students.drawn_tab.song import SongPart, song_parts
from fretloom.formats.students.svg import Placed, page
from fretloom.formats.students.telling.head import counted_from
from fretloom.formats.students.telling.listener import listener_of
from fretloom.performance.events import Settings
from fretloom.performance.reading import Reading
from fretloom.trade.phrases.table import say

#: Between lines, and between parts, in millimetres.
_LINE_GAP, _PART_GAP = 2.0, 6.0
_TITLE, _HEADING, _WORDS = 6.4, 4.4, 3.5
_ENDING = ".tab.svg"


def write(reading: Reading, options: DrawnTabOptions) -> tuple[Output, ...]:
    """Draw the song of a lesson.

    Raises:
        FretloomError: no bar is played.
    """
    timeline = reading.timeline
    parts = song_parts(timeline)
    if not parts:
        raise FretloomError("no bar is played in the lesson, so there is no tab to draw")
    look = TabLook(
        width=float(options.paper_width), abreast=options.bars_a_line, filled=True,
        with_letters=not options.without_letters,
    )  # fmt: skip
    missing = left_out(reading, options)
    if options.each:
        shown = [one for one in parts if one.bars]
        return tuple(
            Output(
                file_name(reading.lesson, f"-{number}{_ENDING}"),
                _SongPage(timeline.settings, look).document([part]), missing if number == 1 else (),
            )
            for number, part in enumerate(shown, 1)
        )  # fmt: skip
    text = _SongPage(timeline.settings, look).document(parts, titled=True)
    return (Output(file_name(reading.lesson, _ENDING), text, missing),)


class _SongPage:
    """Lays out parts one below the other."""

    def __init__(self, settings: Settings, look: TabLook) -> None:
        self._settings = settings
        self._look = look
        self._width = look.width
        self._top = 0.0
        self._around: list[Mark] = []
        self._placed: list[Placed] = []

    def document(self, parts: Sequence[SongPart], titled: bool = False) -> str:
        """Return an SVG document of parts, with the song's title over them if that is asked for."""
        title = nothing_hidden(self._settings.title) or say("pages.song")
        if titled:
            self._around += self._lines(title, _TITLE, bold=True)
            self._around += self._lines(self._counted(), _WORDS)
            self._top += 2.0
        for part in parts:
            self._part(part)
        size = (self._width, max(self._top - _PART_GAP, 1.0))
        return page(self._placed, title, size, self._around)

    def _counted(self) -> str:
        """Say from where frets are counted where a capo leaves strings out, else nothing."""
        settings = self._settings
        if not settings.capo.leaves_out(settings.tuning.strings):
            return ""
        return counted_from(settings, listener_of(settings))

    def _lines(self, text: str, size: float, *, bold: bool = False) -> Iterator[Mark]:
        for line in wrapped(text, size * (1.1 if bold else 1.0), self._look.width):
            self._top += 1.25 * size
            ink: Ink = "ink" if bold else "soft"
            at = (0.0, self._top - 0.3 * size)
            yield Letters(at=at, text=line, size=size, anchor="start", bold=bold, ink=ink)

    def _part(self, part: SongPart) -> None:
        self._around += self._lines(part.title, _HEADING, bold=True)
        if part.words:
            self._around += self._lines(part.words, _WORDS)
        self._top += 1.5
        drawn = strip(part.bars, self._settings, self._look)
        for line in drawn.lines:
            x, height = 0.0, max(one.height for one in line)
            for one in line:
                self._placed.append((one, x, self._top + height - one.height))
                x += one.width
            self._width = max(self._width, x + 0.5)
            self._top += height + _LINE_GAP
        self._top += _PART_GAP
