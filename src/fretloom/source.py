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
#: A line that begins with neither white space nor a comment sign, and so opens a block.
_OPENING = re.compile(r"(?:(?<=[\r\n])|\A)[^\s#]")
#: What such a line opens: the word, and the name or the quoted title after it.
_OPENED = re.compile(r'(\S+)(?:\s+("[^"]*"|[^\s"]+))?')


@frozen
class Source:
    """A text and the name it is shown under (its path as the caller gave it, or `<text>`)."""

    name: str
    text: str = field(repr=False)
    _starts: list[int] = field(init=False, eq=False, repr=False, factory=list)
    _openings: list[int] = field(init=False, eq=False, repr=False, factory=list)

    def line_starts(self) -> list[int]:
        """Offsets at which the lines begin, worked out once on first use."""
        if not self._starts:
            # All at once: another thread sees none or all of them.
            self._starts[:] = [0, *(match.end() for match in _LINE_END.finditer(self.text))]
        return self._starts

    def opening_before(self, offset: int) -> str:
        """Return the line at or before an offset that is neither indented nor a comment, "" if there is none."""
        if not self._openings:
            self._openings[:] = [-1, *(match.start() for match in _OPENING.finditer(self.text))]
        start = self._openings[bisect_right(self._openings, offset) - 1]
        return "" if start < 0 else self.line_text(self.position(start)[0])

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
        """Return the 0-based line and UTF-16 column that the Language Server Protocol (3.17, `Position`) asks for."""
        line, column = self.position(offset)
        before = self.line_text(line)[: column - 1]
        return line - 1, len(before.encode("utf-16-le", "surrogatepass")) // 2


@frozen
class Span:
    """A half-open piece `[start, end)` of one source, in code points from 0.

    Spans of two readings of the same text under the same name are equal.
    """

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
    def end_line(self) -> int:
        """1-based line of the end."""
        return self.source.position(self.end)[0]

    @property
    def end_column(self) -> int:
        """1-based column behind the last character, in code points."""
        return self.source.position(self.end)[1]

    @property
    def utf16(self) -> tuple[tuple[int, int], tuple[int, int]]:
        """Start and end as 0-based (line, UTF-16 unit), as editors count (Language Server Protocol 3.17, `Range`)."""
        return self.source.utf16_position(self.start), self.source.utf16_position(self.end)

    @property
    def text(self) -> str:
        """The text that the span covers."""
        return self.source.text[self.start : self.end]

    @property
    def block_opening(self) -> str:
        """What the block around it is: `section verse`, `voicings`, `lesson`; "" before the first one."""
        opened = _OPENED.match(self.source.opening_before(self.start))
        if opened is None:
            return ""
        # The title of the lesson says nothing about which block is meant.
        return opened[1] if opened[1] == "lesson" else " ".join(filter(None, opened.groups()))

    def to(self, other: Span) -> Span:
        """Return the span from the start of this one to the end of a later one."""
        return Span(self.source, self.start, other.end)
