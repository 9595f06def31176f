"""Refuses to rename where a name may stand that nobody sees: in texts that were not read, or not completely."""

from __future__ import annotations

from pathlib import Path

from fretloom import api
from fretloom.api import LessonFaulty
from fretloom.collection.naming.asked import shown_path
from fretloom.collection.naming.names import Names
from fretloom.errors import FretloomError
from fretloom.notation.syntax.building.older import is_older
from fretloom.source import Source
from fretloom.text import shown_name


def refuse_unread(names: Names, file: Path, changing: set[Path], name: str) -> None:
    """Refuse if any file that lessons see together with some may say a name unseen.

    Args:
        file: for which somebody asks. changing: the files in which the name is seen.

    Raises:
        LessonFaulty: one could not be read completely; it carries why.
        FretloomError: one could not be read at all, or is of an older edition.
    """
    together: set[Path] = set()
    for lesson in names.texts.needing({file, *changing}):
        together |= names.texts.needs(lesson)
    for path in sorted(together):
        shown = shown_name(shown_path(path))
        if unread := names.texts.unread(path):
            raise FretloomError(f"{unread}; nothing was renamed, since the name may stand there")
        if not names.texts.says(path, name):
            continue
        if path in changing and is_older(Source(str(path), names.texts.text(path))):
            raise FretloomError(
                f"{shown} is written in an older edition of the notation: say fretloom format {shown} first"
            )
        faults = api.reading_faults(names.lesson(path))
        if faults:
            raise LessonFaulty(
                f"{shown} could not be read completely, so nothing was renamed: mend it first",
                faults,
            )
