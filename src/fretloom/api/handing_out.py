"""What students take home: the page that leads to the handouts of many lessons, and recordings to play along with."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING
from urllib.parse import quote

from fretloom.api.arguments import lesson_given, text_given
from fretloom.api.checking import without_errors
from fretloom.api.reading import Examined
from fretloom.errors import FretloomError
from fretloom.formats.shape import Output
from fretloom.notation.model.lesson import Lesson
from fretloom.text import short, shown_name

if TYPE_CHECKING:
    from fretloom.formats.sound.recording.options import RecordingOptions
    from fretloom.formats.students.handout.collection.entry import IndexEntry

#: How addresses begin that lead elsewhere (RFC 3986) or run something; any other colon belongs to a file's name.
_ELSEWHERE = re.compile(
    r"\s*((https?|ftp|file|data|blob|mailto|javascript|vbscript):|//|\\\\)", re.I
)


def handout_entry(lesson: Lesson | Examined, files: Sequence[tuple[str, str]]) -> IndexEntry:
    """Return what the page of a collection says of a lesson.

    Args:
        lesson: the lesson. files: what there is of it, as words and the file (its name, or the way to it
            from the page with `/`, as it is: nothing is quoted), the handout first; one at least.

    Raises:
        LessonFaulty: errors make it unclear what is played.
        TypeError: an argument is none of what it says here.
        ValueError: no file is named.
        FretloomError: a file is an address that leads elsewhere.
    """
    if not isinstance(lesson, Examined):
        lesson_given(lesson)
    ways = _ways(files)
    if not ways:
        raise ValueError("files: name the handout at least")
    from fretloom.formats.students.handout.collection.entry import entry_of

    return entry_of(without_errors(lesson, True).reading, ways)


def handout_index(entries: Sequence[IndexEntry], title: str = "Lessons") -> str:
    """Return a page in HTML that leads to the handouts of lessons, to be sorted and filtered.

    They stand in the order in which each lesson brings the fewest new things to learn.

    Raises:
        TypeError: `entries` are not what `handout_entry` returns, or `title` is not text.
    """
    from fretloom.formats.students.handout.collection.entry import IndexEntry
    from fretloom.formats.students.handout.collection.page import index_page

    text_given("title", title)
    if not isinstance(entries, Iterable):
        raise TypeError(f"entries is a list of entries, not {type(entries).__name__}")
    found = tuple(entries)
    for one in found:
        if not isinstance(one, IndexEntry):
            raise TypeError(f"entries are made by handout_entry, not {type(one).__name__}")
    return index_page(found, title)


def _ways(files: object) -> list[tuple[str, str]]:
    """Return files with their ways quoted for an address (RFC 3986)."""
    if isinstance(files, str) or not isinstance(files, Iterable):
        raise TypeError(f"files is a list of words and files, not {type(files).__name__}")
    found = []
    for one in files:
        if not (isinstance(one, (tuple, list)) and [type(part) for part in one] == [str, str]):
            raise TypeError('files has pairs of text, such as ("handout", "weir.handout.html")')
        words, way = one
        if _ELSEWHERE.match(way):
            told = shown_name(short(way))
            raise FretloomError(f"files has the names of files beside the page, not {told}")
        found.append((words, quote(way.encode("utf-8", "surrogateescape"))))
    return found


def play_along(
    lesson: Lesson | Examined,
    to: str = "ogg",
    options: RecordingOptions | None = None,
    *,
    captions: bool = False,
    despite_errors: bool = False,
) -> Iterator[Output]:
    """Yield recordings to play along with, each made while its content is read, all at one level.

    Args:
        lesson: what is played. to: "ogg", "flac" or "wav".
        options: what is heard: a section, bars or a step is one recording; otherwise there is one for each step of
            the practice path, at the tempos of its ladder, and one of the song. By default each is counted in.
        captions: whether the captions of each recording follow it, as WebVTT.
        despite_errors: also of a lesson with errors, unless they make it unclear what is played.

    Raises:
        LessonFaulty: as for `export`.
        FretloomError: what sound needs is not installed, the lesson does not have what was chosen, or a recording
            would be too long.
        TypeError: the lesson or the options are of another class.
    """
    from fretloom.formats.sound.by_step import practice_recordings
    from fretloom.formats.sound.recording.options import RecordingOptions

    wanted = RecordingOptions(count_in=True) if options is None else options
    if not isinstance(wanted, RecordingOptions):
        raise TypeError(f"options are RecordingOptions, not {type(wanted).__name__}")
    reading = without_errors(lesson, despite_errors).reading
    return practice_recordings(reading, wanted, to, captions=captions)
