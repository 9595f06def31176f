"""Text and places in it.

Offsets are 0-based code points into the text without its byte order mark; spans are half open.
Lines and columns are 1-based and count code points; editors get 0-based UTF-16 units. The
conversions happen here and nowhere else. A line ends at LF, CRLF or a lone CR.
"""

from __future__ import annotations

import re
from bisect import bisect_right

from attrs import field

from fretloom.values import frozen

_LINE_END = re.compile(r"\r\n|\r|\n")


@frozen(eq=False)
class Source:
    """A text and the name it is shown under (its path as the caller gave it, or `<text>`)."""

    name: str
    text: str = field(repr=False)
    _starts: list[int] = field(init=False, repr=False, factory=list)

    def line_starts(self) -> list[int]:
        """Offsets at which the lines begin, worked out once on first use."""
        if not self._starts:
            self._starts.append(0)
            self._starts.extend(match.end() for match in _LINE_END.finditer(self.text))
        return self._starts

    def position(self, offset: int) -> tuple[int, int]:
        """Return the 1-based line and column (in code points) of an offset."""
        starts = self.line_starts()
        line = bisect_right(starts, offset)
        return line, offset - starts[line - 1] + 1

    def line_text(self, line: int) -> str:
        """Return a 1-based line without its line end."""
        starts = self.line_starts()
        end = starts[line] if line < len(starts) else len(self.text)
        return self.text[starts[line - 1] : end].rstrip("\r\n")

    def utf16_position(self, offset: int) -> tuple[int, int]:
        """Return the 0-based line and UTF-16 column that the language server protocol asks for."""
        line, column = self.position(offset)
        before = self.line_text(line)[: column - 1]
        return line - 1, len(before.encode("utf-16-le")) // 2


@frozen
class Span:
    """A half-open piece `[start, end)` of one source."""

    source: Source = field(repr=False)
    start: int
    end: int

    @property
    def line(self) -> int:
        """1-based line of the start."""
        return self.source.position(self.start)[0]

    @property
    def column(self) -> int:
        """1-based column of the start, in code points."""
        return self.source.position(self.start)[1]

    @property
    def text(self) -> str:
        """The text that the span covers."""
        return self.source.text[self.start : self.end]

    def to(self, other: Span) -> Span:
        """Return the span from the start of this one to the end of a later one."""
        return Span(self.source, self.start, other.end)
