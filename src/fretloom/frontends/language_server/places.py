"""EditorPlaces of a text as an editor counts them, and as we do.

An editor gives lines from 0, and in a line units of the encoding that was agreed on (Language Server
Protocol 3.17, `PositionEncodingKind`): of UTF-16 unless both sides know another. Lines end at LF, CRLF
or CR, and nowhere else. We count code points from the start of the text, without a byte order mark.
"""

from __future__ import annotations

from collections.abc import Callable

from lsprotocol import types

from fretloom.api import Source, Span

MARK = "\ufeff"
_UNITS: dict[str, Callable[[str], int]] = {
    "utf-8": lambda text: len(text.encode("utf-8", "surrogatepass")),
    "utf-16": lambda text: len(text.encode("utf-16-le", "surrogatepass")) // 2,
    "utf-32": len,
}


class EditorPlaces:
    """The places of one text.

    Args:
        source: the text, without a byte order mark.
        encoding: what an editor counts: "utf-8", "utf-16" or "utf-32".
        marked: whether the editor's text has a byte order mark before it.
    """

    def __init__(self, source: Source, encoding: str, marked: bool = False) -> None:
        self.source = source
        self._units = _UNITS[encoding]
        self._mark = self._units(MARK) if marked else 0

    def position(self, offset: int) -> types.Position:
        """Return an offset as an editor counts; one outside the text counts as its end."""
        line, column = self.source.position(min(max(offset, 0), len(self.source.text)))
        before = self.source.line_text(line)[: column - 1]
        units = len(before) if before.isascii() else self._units(before)
        return types.Position(line - 1, units + (self._mark if line == 1 else 0))

    def range(self, span: Span) -> types.Range:
        """Return a span as an editor counts."""
        return types.Range(self.position(span.start), self.position(span.end))

    def offset(self, position: types.Position) -> int:
        """Return a place of an editor as an offset.

        Beyond the end of a line it is the line's end, beyond the last line the end of the text; within
        a character it is where that begins.
        """
        starts = self.source.line_starts()
        if position.line >= len(starts):
            return len(self.source.text)
        if position.line < 0:
            return 0
        text = self.source.line_text(position.line + 1)
        units = position.character - (self._mark if position.line == 0 else 0)
        return starts[position.line] + self._column(text, units)

    def span(self, place: types.Range) -> Span:
        """Return a range of an editor, whichever of its ends comes first."""
        first, last = sorted((self.offset(place.start), self.offset(place.end)))
        return Span(self.source, first, last)

    def _column(self, text: str, units: int) -> int:
        """Return how many whole characters of a line take up a number of units."""
        if text.isascii():
            return min(max(units, 0), len(text))
        taken = 0
        for column, sign in enumerate(text):
            taken += self._units(sign)
            if taken > units:
                return column
        return len(text)
