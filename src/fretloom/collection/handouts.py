"""Writes the handouts of many lessons into a folder, and only those that changed, with a page that leads to them."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING
from urllib.parse import quote

from fretloom import api
from fretloom.collection.sharing import shared_out
from fretloom.errors import ExtensionFaulty, FretloomError, LessonUnreadable, own_fault
from fretloom.rule_facts import Severity
from fretloom.text import shown_name
from fretloom.values import frozen

if TYPE_CHECKING:
    from fretloom.api import HandoutOptions, IndexEntry

#: What a page of ours says of itself; a file that does not is somebody's own, and stays.
_OURS = b'<meta name="generator" content="fretloom '
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
    """

    name: str
    written: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()
    entry: IndexEntry | None = None
    complaints: tuple[str, ...] = ()
    refused: str = ""


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
        return HandedOut(name=task.name, complaints=told, refused=str(error))
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
    export = partial(api.export, lesson, despite_errors=task.despite_errors)
    outputs = [
        (options.sheet, form, export(form, options)[0])
        for options in task.options
        for form in ("handout", *(["handout-pdf"] if task.pdf else []))
    ]
    folder = Path(task.folder, task.below)
    written, kept, files = list[str](), list[str](), list[tuple[str, str]]()
    for sheet, form, output in outputs:
        name = _named(task, output.name)
        file = folder / name
        (written if put_if_changed(file, output.data) else kept).append(str(file))
        words = SHEET_WORDS[sheet] + (" (PDF)" if form == "handout-pdf" else "")
        files.append((words, quote(str(PurePosixPath(task.below, name)))))
    return HandedOut(
        name=task.name,
        written=tuple(written),
        kept=tuple(kept),
        entry=api.handout_entry(lesson, files),
    )


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
    try:
        there = file.read_bytes()
    except FileNotFoundError:
        there = b""
    except OSError as error:
        raise FretloomError(
            f"{shown_name(file)} cannot be read: {error.strerror or error}"
        ) from None
    if there == content:
        return False
    if there and file.suffix == ".html" and _OURS not in there[:_HEAD]:
        what = "is there and was not made by fretloom, so it stays as it is"
        raise FretloomError(f"{shown_name(file)} {what}: name another folder with -o")
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        reason = error.strerror or error
        raise FretloomError(
            f"the folder {shown_name(file.parent)} cannot be made: {reason}"
        ) from None
    api.write(file, content)
    return True


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
    """Yield a task for each lesson; those of a folder keep their places below it.

    Args:
        lessons: each with the root of its collection. folders: those that were named.
    """
    for file, root in lessons:
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
            return str(file.relative_to(folder).parent).replace(os.sep, "/")
    return "."
