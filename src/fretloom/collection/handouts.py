"""Writes the handouts of many lessons into a folder, and only those that changed, with a page that leads to them."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING

from fretloom import api
from fretloom.collection.sharing import shared_out
from fretloom.errors import (
    ExtensionFaulty,
    FretloomError,
    LessonUnreadable,
    NotWritten,
    own_fault,
)
from fretloom.rule_facts import Severity
from fretloom.text import shown_name
from fretloom.values import frozen

if TYPE_CHECKING:
    from fretloom.api import HandoutOptions, IndexEntry
    from fretloom.formats.shape import Output
    from fretloom.formats.students.handout.pdf import Press

#: What a page of ours says of itself; a file that does not is somebody's own, and stays.
_OURS = {".html": b'<meta name="generator" content="fretloom ', ".pdf": b"/ID [(fretloom"}
#: So much of a page is looked at for it; of a PDF all, for it stands at the end.
_HEAD = 4096
#: What a sheet is called where the page of a collection leads to it.
SHEET_WORDS = {"handout": "handout", "song-sheet": "song sheet", "wall-card": "wall card"}


@frozen(kw_only=True)
class HandoutTask:
    """A lesson to hand out.

    Args:
        name: its file. root: of its collection. folder: where its pages go, `below` in it.
        options: of its pages, one for each sheet. pdf: whether there is a PDF of each as well.
        eased: hand out the easier lesson that `fretloom ease` writes for this level, "" for the lesson itself.
        found: it was found in a folder, not named: without any bars (voicings to share) it is passed over.
    """

    name: str
    root: str
    folder: str
    below: str
    options: tuple[HandoutOptions, ...]
    pdf: bool = False
    despite_errors: bool = False
    eased: str = ""
    found: bool = False


@frozen(kw_only=True)
class HandedOut:
    """What became of a lesson.

    Args:
        written: files that are new or changed; kept: those that were as they should be.
        entry: what the page of the collection says of it; None if nothing was written of it.
        complaints: its errors as text; refused: why nothing was written, "" if it was or there was nothing to write.
        faulty: it was refused because of its own errors, and not because something could not be done.
    """

    name: str
    written: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()
    entry: IndexEntry | None = None
    complaints: tuple[str, ...] = ()
    refused: str = ""
    faulty: bool = False


def hand_out_all(
    tasks: Sequence[HandoutTask],
    jobs: int | None = None,
    remark: Callable[[str], object] = lambda _: None,
) -> Iterable[HandedOut]:
    """Write the pages of lessons, in their order; processes as for `check_all`."""
    return shared_out(hand_out, tasks, jobs, remark)


def hand_out(task: HandoutTask) -> HandedOut:
    """Write the pages of one lesson; whatever happens to it, the others can go on."""
    try:
        return _hand_out(task)
    except api.LessonFaulty as error:
        told = tuple(api.finding_as_text(one) for one in error.diagnostics)
        return HandedOut(name=task.name, complaints=told, refused=str(error), faulty=True)
    except ExtensionFaulty:  # It would be the same with every file.
        raise
    except (FretloomError, LessonUnreadable) as error:
        return HandedOut(name=task.name, refused=str(error))
    except Exception as error:  # One file must not keep the others from being handed out.
        return HandedOut(name=task.name, refused=own_fault(error))


def _hand_out(task: HandoutTask) -> HandedOut:
    lesson = api.examine(api.load(task.name, root=task.root))
    faulty = any(one.severity is Severity.ERROR for one in lesson.findings)
    if task.found and not lesson.timeline.bars and not faulty:
        return HandedOut(name=task.name)
    if task.eased:
        easier = api.ease(lesson, level=task.eased).lesson
        lesson = api.examine(easier) if easier is not None else lesson
    outputs = list(_outputs(task, lesson))
    folder = Path(task.folder, task.below)
    written, kept, files = list[str](), list[str](), list[tuple[str, str]]()
    for words, output in outputs:
        name = _named(task, output.name)
        file = folder / name
        (written if put_if_changed(file, output.data) else kept).append(str(file))
        files.append((words, str(PurePosixPath(task.below, name))))
    return HandedOut(
        name=task.name,
        written=tuple(written),
        kept=tuple(kept),
        entry=api.handout_entry(lesson, files),
    )


def _outputs(task: HandoutTask, lesson: api.Examined) -> Iterator[tuple[str, Output]]:
    """Yield the files of a lesson, each with what the page of a collection calls it."""
    press = _press() if task.pdf else None
    for options in task.options:
        (page,) = api.export(lesson, "handout", options, despite_errors=task.despite_errors)
        words = SHEET_WORDS[options.sheet]
        yield words, page
        if press is not None:
            yield f"{words} (PDF)", press.beside(page, lesson.reading, options)


def _press() -> Press:
    # WeasyPrint takes a while to import, and need not be there.
    from fretloom.formats.students.handout.pdf import Press

    return Press()


def _named(task: HandoutTask, name: str) -> str:
    """Return what a page is called: like the lesson, and with the level of an easier one."""
    ending = name[name.index(".", len(Path(task.name).stem)) :] if task.eased else ""
    return f"{Path(task.name).stem}-{task.eased}{ending}" if task.eased else name


def put_if_changed(file: Path, content: bytes) -> bool:
    """Write a file if it is not there as it should be; its folder is made. Returns whether it was written.

    Raises:
        FretloomError: the file is there and is not a page of ours.
        NotWritten: it could not be written.
    """
    refuse_what_is_not_ours(file)
    if _has(file, content):
        return False
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise FretloomError(_no_folder(file.parent, error)) from None
    try:
        api.write(file, content)
    except NotWritten:
        if not _has(file, content):
            raise
        # Another run has written the same meanwhile.
        return False
    return True


def refuse_what_is_not_ours(file: Path) -> None:
    """Refuse a place where somebody's own file is, or something that cannot be written to as a file.

    Raises:
        FretloomError: there is such a one.
    """
    try:
        if not file.is_file():
            if file.exists():
                raise FretloomError(f"{shown_name(file)} is there and is not a file: {_ELSEWHERE}")
            return
        with file.open("rb") as opened:
            there = opened.read(_HEAD if file.suffix == ".html" else -1)
    except NotADirectoryError as error:
        raise FretloomError(_no_folder(file.parent, error)) from None
    except OSError as error:
        raise FretloomError(f"{shown_name(file)} cannot be read: {_reason(error)}") from None
    if there and _OURS[file.suffix] not in there:
        what = "is there and was not made by fretloom, so it stays as it is"
        raise FretloomError(f"{shown_name(file)} {what}: {_ELSEWHERE}")


_ELSEWHERE = "name another folder with -o"


def _no_folder(folder: Path, error: OSError) -> str:
    return f"the folder {shown_name(folder)} cannot be made: {_reason(error)}"


def _reason(error: OSError) -> object:
    return error.strerror or error


def _has(file: Path, content: bytes) -> bool:
    """Whether a file has this content; a file of another size need not be read."""
    try:
        return file.stat().st_size == len(content) and file.read_bytes() == content
    except OSError:
        return False


def need_pdf(wanted: bool) -> None:
    """Look whether PDFs can be made before any work is done for them.

    Raises:
        FretloomError: they are wanted, and the extra `paper` is not installed.
    """
    if wanted:
        from fretloom.formats.students.handout.pdf import ready

        ready()


def write_index(folder: str, entries: Sequence[IndexEntry], title: str) -> tuple[str, bool]:
    """Write the page that leads to the handouts; returns its name and whether it was written.

    Raises what `put_if_changed` raises.
    """
    file = Path(folder, "index.html")
    changed = put_if_changed(file, api.handout_index(entries, title).encode("utf-8"))
    return str(file), changed


def tasks_for(
    lessons: Iterable[tuple[Path, Path]],
    folders: Sequence[str],
    output: str,
    options: Sequence[HandoutOptions],
    *,
    pdf: bool = False,
    despite_errors: bool = False,
    eased: str = "",
) -> Iterator[HandoutTask]:
    """Yield a task for each lesson; those of a folder keep their places below it, and several folders their names.

    Args:
        lessons: each with the root of its collection. folders: those that were named.

    Raises:
        FretloomError: two lessons would have the same pages.
    """
    places: dict[str, Path] = {}
    for file, root in lessons:
        place = f"{_below(file, folders)}/{file.stem}".casefold()
        if place in places:
            both = f"{shown_name(places[place])} and {shown_name(file)}"
            raise FretloomError(
                f"{both} would have pages of one name: name the folder that holds both, or one at a time"
            )
        places[place] = file
        yield HandoutTask(
            name=str(file),
            root=str(root),
            folder=output,
            below=_below(file, folders),
            options=tuple(options),
            pdf=pdf,
            despite_errors=despite_errors,
            eased=eased,
            found=any(file.is_relative_to(folder) for folder in folders),
        )


def _below(file: Path, folders: Sequence[str]) -> str:
    for folder in folders:
        if file.is_relative_to(folder):
            below = file.relative_to(folder).parent
            named = Path(Path(folder).resolve().name, below) if len(folders) > 1 else below
            return str(named).replace(os.sep, "/")
    return "."


def left_over(output: str, made: Iterable[HandedOut]) -> tuple[str, ...]:
    """Return the pages of ours in a folder that no lesson makes any more, in order."""
    known = {str(Path(file)) for one in made for file in (*one.written, *one.kept)}
    found = (
        file
        for sheet in SHEET_WORDS
        for form in _OURS
        for file in Path(output).rglob(f"*.{sheet}{form}")
    )
    return tuple(sorted(str(file) for file in found if str(file) not in known))
