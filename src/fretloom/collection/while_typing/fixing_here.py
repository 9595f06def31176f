"""What can be done about findings: their sure changes, and the comment that allows one."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fretloom.api import Diagnostic, Edit, Span
from fretloom.collection.while_typing.opened import OpenLesson
from fretloom.notation.syntax.lines import comment_at
from fretloom.rules.registry import find_rule
from fretloom.source import Source
from fretloom.values import frozen


@frozen
class WayOut:
    """Something to do about a finding: what it is called, and its edits.

    `sure` says that there is no other way, so that it can be done without being looked at.
    """

    title: str
    finding: Diagnostic
    edits: tuple[Edit, ...]
    sure: bool


def ways_out(opened: OpenLesson, first: int, last: int) -> tuple[WayOut, ...]:
    """Return what can be done about the findings that touch a piece of the text.

    Args:
        opened: the lesson.
        first, last: offsets; a finding that ends or begins at one of them counts.
    """
    found: list[WayOut] = []
    for one in opened.findings:
        span = one.span
        if span.source == opened.source and span.start <= last and first <= span.end:
            if one.edits:
                found.append(WayOut(_title(one), one, one.edits, True))
            found += _allowing(one)
    return tuple(found)


def _title(found: Diagnostic) -> str:
    titles = dict.fromkeys(edit.title for edit in found.edits if edit.title)
    if titles:
        said = ", ".join(titles)
        return said[:1].upper() + said[1:]
    put = " ".join(" ".join(edit.text for edit in found.edits).split())
    return f"Write {put[:60]}" if put else "Remove this"


def _allowing(found: Diagnostic) -> Iterator[WayOut]:
    """Yield the comment that allows a finding; its reason is left to the teacher, and without one it does not count."""
    rule = find_rule(found.rule)
    if rule is None or not rule.waivable:
        return
    source, line = found.span.source, found.span.line
    text = source.line_text(line)
    body = text.lstrip(" \t")
    begin = source.line_starts()[line - 1]
    if comment_at(body) is None:
        at = begin + len(text.rstrip(" \t"))
        put = f"  # allow {found.rule}: "
    else:
        at = begin
        indent = text[: len(text) - len(body)]
        put = f"{indent}# allow {found.rule}: {_line_end(source)}"
    edit = Edit(span=Span(source, at, at), text=put)
    yield WayOut(f"Allow {found.rule} here, and say why", found, (edit,), False)


def _line_end(source: Source) -> str:
    """Return the line end that a text has first."""
    found = re.search(r"\r\n|\r|\n", source.text)
    return found[0] if found else "\n"
