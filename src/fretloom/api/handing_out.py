"""The page that leads to the handouts of many lessons."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from fretloom.api.checking import without_errors
from fretloom.api.reading import Examined
from fretloom.notation.model.lesson import Lesson

if TYPE_CHECKING:
    from fretloom.formats.students.handout.collection.entry import IndexEntry


def handout_entry(lesson: Lesson | Examined, files: Sequence[tuple[str, str]]) -> IndexEntry:
    """Return what the page of a collection says of a lesson.

    Args:
        lesson: the lesson. files: what there is of it, as words and the way there (a relative address),
            the handout first; one at least.

    Raises:
        LessonFaulty: errors make it unclear what is played.
        ValueError: no file is named.
    """
    from fretloom.formats.students.handout.collection.entry import entry_of

    if not files:
        raise ValueError("files: name the handout at least")
    return entry_of(without_errors(lesson, True).reading, files)


def handout_index(entries: Sequence[IndexEntry], title: str = "Lessons") -> str:
    """Return a page in HTML that leads to the handouts of lessons, to be sorted and filtered.

    They stand in the order in which each lesson brings the fewest new things to learn.
    """
    from fretloom.formats.students.handout.collection.page import index_page

    return index_page(entries, title)
