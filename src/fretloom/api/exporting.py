"""Exports lessons; each format is imported only when it is asked for."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fretloom.api.checking import without_errors
from fretloom.api.reading import Examined
from fretloom.errors import FretloomError
from fretloom.files import write_atomically
from fretloom.notation.model.lesson import Lesson

if TYPE_CHECKING:
    from fretloom.performance.events import Timeline

#: The formats of `export`, and the ending that a file of each usually has.
FORMATS = {"tab": ".txt", "musicxml": ".musicxml", "mxl": ".mxl", "json": ".json"}


def export(
    lesson: Lesson | Examined, *, to: str, despite_errors: bool = False, **options: Any
) -> str | bytes:
    """Return the lesson in one of `FORMATS`: text, or bytes for "musicxml" and "mxl".

    Args:
        lesson: what to export.
        to: "tab", "musicxml", "mxl" or "json".
        despite_errors: export a lesson with errors too, unless they leave open what is played.
        options: those of the format, such as `width` and `unrolled` for "tab".

    Raises:
        LessonFaulty: the lesson has errors (with `despite_errors`: errors that leave the music
            undefined).
        FretloomError: there is no such format.
    """
    exporters = _exporters()
    if to not in exporters:
        raise FretloomError(f"there is no format {to!r}; choose one of {', '.join(FORMATS)}")
    return exporters[to](without_errors(lesson, despite_errors).timeline, **options)


def export_tab(
    lesson: Lesson | Examined,
    *,
    width: int = 78,
    unrolled: bool = False,
    despite_errors: bool = False,
) -> str:
    """Return the lesson as tab in plain text, wrapped at `width`; `unrolled` writes every bar played."""
    found = export(lesson, to="tab", despite_errors=despite_errors, width=width, unrolled=unrolled)
    return str(found)


def export_musicxml(
    lesson: Lesson | Examined, *, despite_errors: bool = False, **options: Any
) -> bytes:
    """Return the lesson as a MusicXML 4.0 document; options as in `fretloom.formats.musicxml.document`."""
    found = export(lesson, to="musicxml", despite_errors=despite_errors, **options)
    assert isinstance(found, bytes)
    return found


def export_mxl(lesson: Lesson | Examined, *, despite_errors: bool = False, **options: Any) -> bytes:
    """Return the lesson as a compressed MusicXML file (`.mxl`)."""
    found = export(lesson, to="mxl", despite_errors=despite_errors, **options)
    assert isinstance(found, bytes)
    return found


def export_json(lesson: Lesson | Examined, *, despite_errors: bool = False) -> str:
    """Return what is played as JSON: each note with its bar, onset, string, fret, finger and pitch."""
    return str(export(lesson, to="json", despite_errors=despite_errors))


def write(path: str | Path, content: str | bytes) -> None:
    """Write a result completely or not at all; text as UTF-8.

    Raises:
        NotWritten: the folder is missing or not writable, or the disk is full.
    """
    write_atomically(path, content)


def _exporters() -> dict[str, Callable[..., str | bytes]]:
    """Return the exporters; each is imported only when it is called."""

    def tab(timeline: Timeline, **options: Any) -> str:
        from fretloom.formats.tab.page import to_tab

        return to_tab(timeline, **options)

    def musicxml(timeline: Timeline, **options: Any) -> bytes:
        from fretloom.formats.musicxml.document import to_musicxml

        return to_musicxml(timeline, **options)

    def mxl(timeline: Timeline, **options: Any) -> bytes:
        from fretloom.formats.musicxml.document import to_mxl

        return to_mxl(timeline, **options)

    def json(timeline: Timeline, **options: Any) -> str:
        from fretloom.formats.music_json.document import to_music_json

        return to_music_json(timeline, **options)

    return {"tab": tab, "musicxml": musicxml, "mxl": mxl, "json": json}
