"""The library's front door: read, check, format and export lessons. The only module that knows every stage."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from attrs import evolve

from fretloom.diagnostics import Diagnostic, Severity
from fretloom.errors import FretloomError, LessonFaulty
from fretloom.files import write_atomically
from fretloom.notation.loading import link_text, load_lesson
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.syntax.read import read
from fretloom.source import Source

if TYPE_CHECKING:
    from fretloom.arranging.find_capos import CapoChoice
    from fretloom.performance.events import Timeline
    from fretloom.performance.expansion.expand import Expansion

#: The formats of `export`, and the ending that a file of each usually has.
FORMATS = {"tab": ".txt", "musicxml": ".musicxml", "mxl": ".mxl", "json": ".json"}


def load(path: str | Path, *, root: str | Path | None = None) -> Lesson:
    """Read a lesson file and the files it names by `use` and `based on`.

    Faults in the text never raise; `check` returns them.

    Args:
        path: the file.
        root: the folder of the collection, outside which nothing is read; by default the file's own.

    Raises:
        LessonUnreadable: the file is missing, is no UTF-8 text, or has over 2,000,000 characters.
    """
    return load_lesson(path, root)


def loads(text: str, *, name: str = "<text>", root: str | Path | None = None) -> Lesson:
    """Read a lesson from a text; `name` is what messages call it, `root` where it finds other files."""
    return link_text(read(Source(name, text.removeprefix("\ufeff"))), root)


def check(lesson: Lesson) -> list[Diagnostic]:
    """Return all findings about a lesson, in the order of its text, waived ones left out."""
    from fretloom.rules.runner import check as run

    return run(_with_text(lesson))


def faults(lesson: Lesson) -> tuple[Diagnostic, ...]:
    """Return what is wrong with how a lesson is laid out, without what the rules find beyond that."""
    return _expansion(lesson).diagnostics


def expand(lesson: Lesson) -> Timeline:
    """Return what is played: bars in performing order with notes at exact times.

    What a faulty lesson leaves open is missing from it; `check` says what that is.
    """
    return _expansion(lesson).timeline


def format_text(lesson: Lesson) -> str:
    """Return the lesson in canonical form: tables aligned, every comment kept."""
    from fretloom.notation.syntax.writing.format import format_lesson

    return format_lesson(lesson)


def export(lesson: Lesson, *, to: str, despite_errors: bool = False, **options: Any) -> str | bytes:
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
    timeline = _sound_timeline(lesson, despite_errors)
    return exporters[to](timeline, **options)


def export_tab(
    lesson: Lesson, *, width: int = 78, unrolled: bool = False, despite_errors: bool = False
) -> str:
    """Return the lesson as tab in plain text, wrapped at `width`; `unrolled` writes every bar played."""
    found = export(lesson, to="tab", despite_errors=despite_errors, width=width, unrolled=unrolled)
    return str(found)


def export_musicxml(lesson: Lesson, *, despite_errors: bool = False, **options: Any) -> bytes:
    """Return the lesson as a MusicXML 4.0 document; options as in `fretloom.formats.musicxml.document`."""
    found = export(lesson, to="musicxml", despite_errors=despite_errors, **options)
    assert isinstance(found, bytes)
    return found


def export_mxl(lesson: Lesson, *, despite_errors: bool = False, **options: Any) -> bytes:
    """Return the lesson as a compressed MusicXML file (`.mxl`)."""
    found = export(lesson, to="mxl", despite_errors=despite_errors, **options)
    assert isinstance(found, bytes)
    return found


def export_json(lesson: Lesson, *, despite_errors: bool = False) -> str:
    """Return what is played as JSON: each note with its bar, onset, string, fret, finger and pitch."""
    return str(export(lesson, to="json", despite_errors=despite_errors))


def sounds(lesson: Lesson, *, form: str = "text") -> str:
    """Return what every voicing of the lesson sounds, as "text" or "json": notes, degrees, names."""
    timeline = expand(lesson)
    if form == "json":
        from fretloom.report.sounds_json import as_json

        return as_json(timeline)
    from fretloom.report.sounds_text import as_text

    return as_text(timeline)


def lesson_to_json(lesson: Lesson, *, places: bool = False) -> str:
    """Return the lesson as written as JSON, without loss; `places` adds where each thing stands."""
    from fretloom.notation.lesson_json.convert import to_lesson_json

    return to_lesson_json(lesson, places=places)


def lesson_from_json(text: str) -> Lesson:
    """Read a lesson from what `lesson_to_json` returned.

    Raises:
        LessonUnreadable: the text is no such JSON; the message says where.
    """
    from fretloom.notation.lesson_json.convert import from_lesson_json

    return from_lesson_json(text)


def transpose(
    lesson: Lesson, *, plays: str | None = None, capo: int | None = None
) -> tuple[str, tuple[str, ...]]:
    """Return the text of the lesson in another key, and remarks on what to look at.

    Args:
        lesson: one without errors.
        plays: the key whose shapes the hand shall play; without `capo` it sounds as before.
        capo: the fret of the capo; without `plays` the shapes stay and it sounds in another key.

    Raises:
        LessonFaulty: the lesson has errors.
        FretloomError: there is no room for the capo, or the lesson does not say its key.
    """
    from fretloom.arranging.new_key import with_capo, with_shapes_of
    from fretloom.trade.music.key import parse_key

    lesson = _with_text(lesson)
    _sound_timeline(lesson, despite_errors=False)
    moved = (
        with_capo(lesson, capo or 0)
        if plays is None
        else with_shapes_of(lesson, parse_key(plays), capo)
    )
    return format_text(moved.lesson), moved.remarks


def hands(lesson: Lesson, *, form: str = "text") -> str:
    """Return voicings and changes from hard to easy, and why, as "text" or "json"."""
    timeline = expand(lesson)
    if form == "json":
        from fretloom.report.hands_json import as_json

        return as_json(timeline) + "\n"
    from fretloom.report.hands_text import as_text

    return as_text(timeline)


def suggest_voicings(
    chord: str,
    lesson: Lesson | None = None,
    *,
    sounding: tuple[int, ...] = (),
    thumb: bool = False,
    limit: int = 8,
    form: str = "text",
) -> str:
    """Return playable voicings of a chord, best first, as "text" or "json".

    Args:
        chord: its symbol, as the hand thinks it (a full capo left out).
        lesson: whose tuning, capo, instrument, hand and picking fingers hold; without it a guitar's.
        sounding: strings that have to sound.
        thumb: whether the thumb may fret over the neck.
        limit: how many at most.
        form: "text" or "json".

    Raises:
        SymbolError: the chord symbol cannot be read.
    """
    from fretloom.arranging.find_voicings import find_voicings
    from fretloom.performance.material.gather import gather
    from fretloom.performance.settings import picking_plan
    from fretloom.report.suggestions import voicings_json, voicings_text

    lesson = lesson or Lesson()
    settings = expand(lesson).settings
    plan = picking_plan(gather(lesson), settings.tuning)
    found = find_voicings(
        chord, settings, plan=plan, needed=frozenset(sounding), thumb=thumb, limit=limit
    )
    return voicings_json(chord, found) + "\n" if form == "json" else voicings_text(chord, found)


def suggest_capos(lesson: Lesson, *, sounds: str | None = None, form: str = "text") -> str:
    """Return capos and shapes that give the sounding key, easiest first, as "text" or "json".

    Raises:
        LessonFaulty: the lesson has errors.
        FretloomError: the lesson does not say its key, is based on another, or has a partial capo.
    """
    from fretloom.report.suggestions import capos_json, capos_text

    choices = _capos(lesson, sounds)
    return capos_json(choices) + "\n" if form == "json" else capos_text(choices)


def with_easiest_capo(lesson: Lesson, *, sounds: str | None = None, capo: int | None = None) -> str:
    """Return the text of the lesson with the easiest capo and its shapes, or with the one named."""
    for choice in _capos(lesson, sounds):
        if capo in (None, choice.capo):
            return format_text(choice.lesson)
    raise FretloomError(f"no shapes were found for a capo at fret {capo}")


def _capos(lesson: Lesson, sounds: str | None) -> tuple[CapoChoice, ...]:
    from fretloom.arranging.find_capos import find_capos
    from fretloom.trade.music.key import parse_key

    lesson = _with_text(lesson)
    _sound_timeline(lesson, despite_errors=False)
    return find_capos(lesson, parse_key(sounds) if sounds else None)


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


def _with_text(lesson: Lesson) -> Lesson:
    """Give a lesson that was built without a text its canonical one, so that findings have places."""
    if lesson.source is not None:
        return lesson
    written = read(Source(lesson.title or "<lesson>", format_text(lesson)))
    return evolve(written, linked=lesson.linked)


def _expansion(lesson: Lesson) -> Expansion:
    from fretloom.performance.expansion.expand import expand as run

    return run(_with_text(lesson))


def _sound_timeline(lesson: Lesson, despite_errors: bool) -> Timeline:
    """Return the music of a lesson whose faults allow to export it."""
    from fretloom.rules.runner import check as run

    lesson = _with_text(lesson)
    expansion = _expansion(lesson)
    errors = [one for one in run(lesson, expansion) if one.severity is Severity.ERROR]
    refused = [one for one in errors if one.music_undefined] if despite_errors else errors
    if refused:
        count = "an error" if len(refused) == 1 else f"{len(refused)} errors"
        reason = "that leave open what is played" if despite_errors else ""
        message = f"{lesson.title or 'the lesson'} has {count} {reason}".rstrip()
        raise LessonFaulty(message, tuple(refused))
    return expansion.timeline
