"""Exports lessons; each format is imported only when it is asked for."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

from fretloom.api.checking import without_errors
from fretloom.api.reading import Examined
from fretloom.files import write_atomically
from fretloom.formats.options import Option
from fretloom.formats.shape import Content, LeftOut, Output, in_words
from fretloom.formats.table import FORMATS, Format, all_options, format_named
from fretloom.notation.model.lesson import Lesson

__all__ = [
    "FORMATS",
    "Content",
    "Format",
    "LeftOut",
    "Option",
    "Output",
    "export",
    "export_json",
    "export_musicxml",
    "export_mxl",
    "export_options",
    "export_tab",
    "left_out_as_text",
    "write",
]


def export(
    lesson: Lesson | Examined, *, to: str, despite_errors: bool = False, **options: Any
) -> tuple[Output, ...]:
    """Return the lesson in one of `FORMATS`, with what it leaves out.

    Args:
        lesson: what to export.
        to: the name of the format.
        despite_errors: also export a lesson with errors, unless they make it unclear what is
            played.
        options: those of the format, such as `width` for "tab"; see `export_options`.

    Raises:
        LessonFaulty: the lesson has errors (with `despite_errors`: errors that leave the music
            undefined).
        FretloomError: the format is unknown, does not take an option or its value, or cannot carry
            the lesson at all.
    """
    form = format_named(to)
    # A wrong option is refused before any work is done.
    wanted = form.chosen(options)
    return form.write(without_errors(lesson, despite_errors).reading, wanted)


def export_options() -> dict[Option, tuple[str, ...]]:
    """Return the options of all formats, each with the names of the formats that take it."""
    return all_options()


def left_out_as_text(outputs: Iterable[Output]) -> tuple[str, ...]:
    """Return a line for each thing that outputs leave out, with the first places it is in."""
    return in_words(one for output in outputs for one in output.left_out)


def export_tab(lesson: Lesson | Examined, *, despite_errors: bool = False, **options: Any) -> str:
    """Return the lesson as tab in plain text.

    `width` is the number of columns it is wrapped at, `unrolled` writes every bar as it is played;
    see `fretloom.formats.tab.options.TabOptions`. Raises what `export` raises.
    """
    return _text(export(lesson, to="tab", despite_errors=despite_errors, **options))


def export_musicxml(
    lesson: Lesson | Examined, *, despite_errors: bool = False, **options: Any
) -> bytes:
    """Return the lesson as a MusicXML 4.0 document.

    The options are `layout`, `concert`, `ring_ties` and `encoding_date`; see
    `fretloom.formats.musicxml.options.ScoreOptions`. Raises what `export` raises.
    """
    return _data(export(lesson, to="musicxml", despite_errors=despite_errors, **options))


def export_mxl(lesson: Lesson | Examined, *, despite_errors: bool = False, **options: Any) -> bytes:
    """Return the lesson as a compressed MusicXML file (`.mxl`), with the options of `export_musicxml`."""
    return _data(export(lesson, to="mxl", despite_errors=despite_errors, **options))


def export_json(lesson: Lesson | Examined, *, despite_errors: bool = False) -> str:
    """Return what is played as JSON: each note with its bar, onset, string, fret, finger and pitch."""
    return _text(export(lesson, to="json", despite_errors=despite_errors))


def write(path: str | Path, content: Content) -> None:
    """Write a result as a whole or not at all; text is written as UTF-8.

    Raises:
        NotWritten: the folder is missing or not writable, or the disk is full.
    """
    write_atomically(path, content)


def _text(outputs: tuple[Output, ...]) -> str:
    (output,) = outputs
    assert isinstance(output.content, str)
    return output.content


def _data(outputs: tuple[Output, ...]) -> bytes:
    (output,) = outputs
    assert isinstance(output.content, bytes)
    return output.content
