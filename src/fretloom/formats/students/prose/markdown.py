"""A page of words as Markdown (CommonMark 0.31), in which no text of a lesson becomes markup.

Signs that could be are escaped: all that may begin emphasis, code, a link, a tag or an entity wherever they
stand, and at the start of a line what would make a heading, a list, a quotation or a rule of it. Signs of the
usual extensions (tables, struck-out text, sums, attributes) are escaped as well.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from fretloom.formats.students.prose.blocks import Passage, Point, Points, ProseBlock, Title

_ANYWHERE = re.compile(r"[\\`*_\[\]<>&~|${}]")
#: At the start: headings, lists, quotations, rules, fences and comments of the usual extensions.
_AT_START = re.compile(r"^(?:[-+#=:%]|[0-9]{1,9}[.)])")
#: What closes a heading, and what some viewers make a link of though nobody wrote one.
_ELSEWHERE = re.compile(r"(?<=\s)#|:(?=//)|(?<=www)\.", re.IGNORECASE)


def markdown(blocks: Iterable[ProseBlock]) -> str:
    """Return the page."""
    return "\n\n".join("\n".join(_lines(block)) for block in blocks) + "\n"


def escaped(text: str) -> str:
    """Return a text of one line as Markdown that says just this."""
    safe = _ANYWHERE.sub(lambda found: f"\\{found[0]}", text)
    safe = _ELSEWHERE.sub(lambda found: f"\\{found[0]}", safe)
    return _AT_START.sub(lambda found: f"{found[0][:-1]}\\{found[0][-1]}", safe)


def _lines(block: ProseBlock) -> Iterator[str]:
    if isinstance(block, Title):
        yield f"{'#' * block.level} {escaped(block.text)}"
    elif isinstance(block, Passage):
        yield escaped(" ".join(block.sentences))
    elif isinstance(block, Points):
        for at, point in enumerate(block.points, start=1):
            yield f"{f'{at}.' if block.numbered else '-'} {_point(point)}"


def _point(point: Point) -> str:
    if not point.label:
        return escaped(point.text)
    label = f"**{escaped(point.label)}**"
    return f"{label}: {escaped(point.text)}" if point.text else label
