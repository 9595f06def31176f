"""The names of voicings, patterns and sections at places of a lesson that is typed: where they are given and used."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from fretloom.api import Edit, LessonFaulty, Span
from fretloom.characters import composed
from fretloom.collection.naming.names import Names, Occurrence
from fretloom.collection.naming.renaming import renaming
from fretloom.collection.naming.texts import Between
from fretloom.collection.while_typing.hovering.shown import name_in
from fretloom.collection.while_typing.opened import OpenLesson
from fretloom.errors import FretloomError
from fretloom.notation.linking import links
from fretloom.notation.model.walking.names import NamePlace, named


def names_of(
    opened: OpenLesson, texts: Mapping[Path, str], between: Between | None = None
) -> Names:
    """Return the names of a lesson's collection as the editor has its files.

    Args:
        opened: the lesson.
        texts: of all files that are open, in place of what these hold.
        between: is called between files; what it raises ends the looking.
    """
    return Names(opened.settled.root, texts, between)


def given_at(opened: OpenLesson, offset: int, texts: Mapping[Path, str]) -> Span | None:
    """Return where the name at a place is given, or the start of the file that is named there."""
    for path, span in links(opened.lesson):
        linked = opened.lesson.linked.get(path)
        if span.start <= offset <= span.end and linked is not None and linked.source is not None:
            return Span(linked.source, 0, 0)
    name = name_in(opened, offset)
    if name is None:
        return None
    found = names_of(opened, texts).definition(opened.file, name.kind, name.name)
    return found.span if found is not None else None


def alike_at(opened: OpenLesson, offset: int) -> tuple[NamePlace, ...]:
    """Return all places of the same text where the name at a place stands."""
    name = name_in(opened, offset)
    if name is None:
        return ()
    return tuple(
        one for one in named(opened.lesson) if (one.kind, one.name) == (name.kind, name.name)
    )


def everywhere_at(
    opened: OpenLesson, offset: int, texts: Mapping[Path, str], between: Between | None = None
) -> tuple[Occurrence, ...]:
    """Return all places in all files where the name at a place means the same thing; `between` as for `names_of`.

    Raises:
        FretloomError: there are more lessons or folders below the root than are looked through.
    """
    name = name_in(opened, offset)
    if name is None:
        return ()
    return names_of(opened, texts, between).everywhere(opened.file, name.kind, name.name)


def renamed_at(
    opened: OpenLesson,
    offset: int,
    new: str,
    texts: Mapping[Path, str],
    between: Between | None = None,
) -> tuple[Edit, ...]:
    """Return the edits, in all files, that call the name at a place otherwise, as `fretloom rename` does.

    Raises:
        FretloomError: no name stands there, it cannot be called so, or something else would change; the
            message says why.
    """
    name = name_in(opened, offset)
    if name is None:
        raise FretloomError("no voicing, pattern or section is named here")
    names = names_of(opened, texts, between)
    try:
        renaming(names, opened.file, name.name, new, name.kind)
    except LessonFaulty as error:
        first = error.diagnostics[0].message if error.diagnostics else ""
        raise FretloomError(f"{error}: {first}" if first else str(error)) from None
    places = names.everywhere(opened.file, name.kind, name.name)
    return tuple(Edit(span=one.span, text=composed(new)) for one in places)
