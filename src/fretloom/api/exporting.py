"""Exports lessons; each format is imported only when it is asked for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from fretloom.api.checking import without_errors
from fretloom.api.reading import Examined
from fretloom.files import write_atomically
from fretloom.formats.options import FormatOptions, Option
from fretloom.formats.shape import Content, Output, in_words
from fretloom.formats.table import Format, all_formats, all_options, format_named
from fretloom.notation.model.lesson import Lesson

if TYPE_CHECKING:
    from fretloom.formats.musicxml.options import ScoreOptions
    from fretloom.formats.tab.options import TabOptions


def export(
    lesson: Lesson | Examined,
    to: str,
    options: FormatOptions | None = None,
    *,
    despite_errors: bool = False,
) -> tuple[Output, ...]:
    """Return the lesson in one of the formats of `known_formats`, with what it leaves out.

    Args:
        lesson: what to export.
        to: the name of the format: "tab", "musicxml", "mxl", "json", or one of your own.
        options: how it is written, a value of the format's class of options; see there for the
            defaults.
        despite_errors: also export a lesson with errors, unless they make it unclear what is
            played.

    Raises:
        LessonFaulty: the lesson has errors (with `despite_errors`: errors that leave the music
            undefined).
        FretloomError: the format is unknown or cannot carry the lesson at all.
        TypeError: the lesson or the options are of another class.
    """
    form = format_named(to)
    # Wrong options are refused before any work is done.
    wanted = form.checked(options)
    return form.write(without_errors(lesson, despite_errors).reading, wanted)


def known_formats() -> tuple[Format, ...]:
    """Return the formats a lesson can be exported to, those of other packages last."""
    return tuple(all_formats().values())


def options_named(to: str, given: Mapping[str, object]) -> FormatOptions:
    """Return options of a format from their names and values.

    Raises:
        FretloomError: the format is unknown, or does not take an option or its value.
    """
    return format_named(to).chosen(given)


def export_options() -> dict[Option, tuple[str, ...]]:
    """Return the options of all formats, each with the names of the formats that take it."""
    return all_options()


def left_out_as_text(outputs: Iterable[Output]) -> tuple[str, ...]:
    """Return a line for each thing that outputs leave out, with the first places it is in."""
    return in_words(one for output in outputs for one in output.left_out)


def export_tab(
    lesson: Lesson | Examined, options: TabOptions | None = None, *, despite_errors: bool = False
) -> str:
    """Return the lesson as tab in plain text. Raises what `export` raises."""
    return export(lesson, "tab", options, despite_errors=despite_errors)[0].text


def export_musicxml(
    lesson: Lesson | Examined, options: ScoreOptions | None = None, *, despite_errors: bool = False
) -> bytes:
    """Return the lesson as a MusicXML 4.0 document. Raises what `export` raises."""
    return export(lesson, "musicxml", options, despite_errors=despite_errors)[0].data


def export_mxl(
    lesson: Lesson | Examined, options: ScoreOptions | None = None, *, despite_errors: bool = False
) -> bytes:
    """Return the lesson as a compressed MusicXML file (`.mxl`). Raises what `export` raises."""
    return export(lesson, "mxl", options, despite_errors=despite_errors)[0].data


def export_json(lesson: Lesson | Examined, *, despite_errors: bool = False) -> str:
    """Return what is played as JSON: each note with its bar, onset, string, fret, finger and pitch.

    Raises what `export` raises.
    """
    return export(lesson, "json", despite_errors=despite_errors)[0].text


def write(path: str | Path, content: Content) -> None:
    """Write a result as a whole or not at all; text is written as UTF-8.

    Args:
        path: the file. content: text or bytes, or an iterator of pieces of either.

    Raises:
        NotWritten: the folder is missing or not writable, or the disk is full.
        TypeError: the path or the content is something else.
    """
    if not isinstance(path, str | Path):
        raise TypeError(f"path is a str or a Path, not {type(path).__name__}")
    if not isinstance(content, str | bytes | Iterable):
        raise TypeError(f"content is text or bytes, not {type(content).__name__}")
    write_atomically(path, content)
