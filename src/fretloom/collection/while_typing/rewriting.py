"""The text of a lesson that is being typed as it would be after the formatter, or after all sure changes."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

from fretloom import api
from fretloom.api import Edit, Source, Span
from fretloom.collection.mending.fixing import fixed_lesson
from fretloom.collection.while_typing.opened import OpenLesson, reread

_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n|\Z)")


def formatted(opened: OpenLesson) -> tuple[Edit, ...]:
    """Return what the formatter changes, by lines; nothing if the text is in canonical form, or left out.

    Raises:
        LessonFaulty: the lesson cannot be read completely, so a part of it would be lost.
        FretloomError: the new text would not have the same music or the same comments.
    """
    if opened.settled.left_out:
        return ()
    return line_edits(opened.source, api.formatted(opened.lesson))


def with_sure_changes(opened: OpenLesson, texts: Mapping[Path, str]) -> tuple[Edit, ...]:
    """Return what all sure changes together change, behind the net of `fretloom check --fix`.

    Args:
        opened: the lesson.
        texts: of other files that are open, in place of what these hold.
    """
    fixed, _ = fixed_lesson(
        opened.examined,
        opened.settled.configuration.applied,
        lambda text: reread(opened, text, texts).lesson,
    )
    return line_edits(opened.source, api.text_of(fixed.lesson))


def line_edits(source: Source, new: str) -> tuple[Edit, ...]:
    """Return edits that make another text of one, and leave as many lines alone as begin and end both.

    Where as many lines lie between, each of those that differ gets an edit of its own.
    """
    old_lines, new_lines = _lines(source.text), _lines(new)
    if old_lines == new_lines:
        return ()
    least = min(len(old_lines), len(new_lines))
    top = next((at for at in range(least) if old_lines[at] != new_lines[at]), least)
    end = next(
        (at for at in range(least - top) if old_lines[-1 - at] != new_lines[-1 - at]), least - top
    )
    old, put = old_lines[top : len(old_lines) - end], new_lines[top : len(new_lines) - end]
    begin = sum(map(len, old_lines[:top]))
    if len(old) != len(put):
        last = begin + sum(map(len, old))
        return (Edit(span=Span(source, begin, last), text="".join(put)),)
    edits: list[Edit] = []
    for one, other in zip(old, put, strict=True):
        if one != other:
            edits.append(Edit(span=Span(source, begin, begin + len(one)), text=other))
        begin += len(one)
    return tuple(edits)


def _lines(text: str) -> list[str]:
    """Cut a text into lines with their ends; only LF, CRLF and CR end one."""
    found = _LINE.findall(text)
    return found[:-1] if found and not found[-1] else found
