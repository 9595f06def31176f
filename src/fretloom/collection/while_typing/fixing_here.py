"""What can be done about findings: sure changes, shapes for a chord without a voicing, the comment that allows one."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.api import Diagnostic, Edit, Span
from fretloom.collection.while_typing.adding import shapes_for
from fretloom.collection.while_typing.opened import OpenLesson
from fretloom.files import with_ends_of
from fretloom.notation.syntax.lines import comment_at
from fretloom.rules.registry import find_rule
from fretloom.values import frozen

#: Where more voicings are missing, no shapes are looked for.
_MOST_MISSING = 3


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
    here = [
        one
        for one in opened.findings
        if one.span.source == opened.source and one.span.start <= last and first <= one.span.end
    ]
    found: list[WayOut] = []
    for one in here:
        if one.edits:
            found.append(WayOut(_title(one), one, one.edits, True))
        found += _allowing(one)
    missing = [one for one in here if one.rule == "unknown-voicing"]
    for one in missing if len(missing) <= _MOST_MISSING else ():
        shapes = shapes_for(opened, one)
        found += (WayOut(f"Add {line}", one, (edit,), False) for line, edit in shapes)
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
        put = with_ends_of(source.text, f"{indent}# allow {found.rule}: \n")
    edit = Edit(span=Span(source, at, at), text=put)
    yield WayOut(f"Allow {found.rule} here, and say why", found, (edit,), False)
