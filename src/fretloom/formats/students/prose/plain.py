"""A page of words as plain text, a paragraph a line, to be read aloud, sent, or opened anywhere."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fretloom.formats.students.prose.blocks import Passage, Point, Points, ProseBlock, Title
from fretloom.text import columns

_RULES = {1: "=", 2: "-"}


def plain(blocks: Iterable[ProseBlock]) -> str:
    """Return the page, headings underlined and points with a hyphen or a number."""
    return "\n\n".join("\n".join(_lines(block)) for block in blocks) + "\n"


def linear(blocks: Iterable[ProseBlock]) -> str:
    """Return the page without any sign that would be read aloud: headings and points are lines of their own."""
    return "\n\n".join("\n".join(_heard(block)) for block in blocks) + "\n"


def _lines(block: ProseBlock) -> Iterator[str]:
    if isinstance(block, Title):
        yield block.text
        if block.level in _RULES:
            yield _RULES[block.level] * columns(block.text)
    elif isinstance(block, Passage):
        yield " ".join(block.sentences)
    else:
        for at, point in enumerate(block.points, start=1):
            yield f"{f'{at}.' if block.numbered else '-'} {_point(point)}"


def _heard(block: ProseBlock) -> Iterator[str]:
    if isinstance(block, Title):
        yield _closed(block.text)
    elif isinstance(block, Passage):
        yield " ".join(block.sentences)
    elif isinstance(block, Points):
        for at, point in enumerate(block.points, start=1):
            yield f"{at}. {_point(point)}" if block.numbered else _point(point)


def _point(point: Point) -> str:
    return (
        f"{point.label}: {point.text}" if point.label and point.text else point.label or point.text
    )


def _closed(text: str) -> str:
    """Return a heading with a full stop, at which a voice pauses."""
    return text if text.endswith((".", "!", "?", ":")) else f"{text}."
