"""Reading text files and writing results: every failure becomes one clear sentence.

A file is written completely or not at all (`replacing`), and never over what somebody else has just
saved.
"""

from __future__ import annotations

import codecs
import contextlib
import errno
import os
import re
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from fretloom.errors import LessonUnreadable, NotWritten
from fretloom.limits import LIMITS
from fretloom.replacing import Before, Replacement, changed, look, replace, replace_all
from fretloom.text import shown_name
from fretloom.values import frozen

Data = str | bytes | Iterable[str] | Iterable[bytes]

#: The byte order mark, which a file may begin with and which is no part of its text.
MARK = codecs.BOM_UTF8
_MARKS = (
    (codecs.BOM_UTF32_LE, "UTF-32"),
    (codecs.BOM_UTF32_BE, "UTF-32"),
    (codecs.BOM_UTF16_LE, "UTF-16"),
    (codecs.BOM_UTF16_BE, "UTF-16"),
)
_NOT_TEXT = 0.02
_LINE_END = re.compile(r"\r\n|\r|\n")


def read_text(path: str | Path) -> str:
    """Return the text of a file without its byte order mark; line ends stay as they are.

    Raises:
        LessonUnreadable: the file is missing, is not UTF-8 text, or is too large for a lesson.
    """
    return decode(_read_bytes(path), shown_name(path))


def possible(name: str | Path) -> bool:
    """Whether a file can have a name: it is not empty and holds nothing that names cannot."""
    try:
        return bool(str(name)) and b"\0" not in os.fsencode(name)
    except UnicodeEncodeError:
        return False


def _read_bytes(name: str | Path) -> bytes:
    path, shown = Path(name), shown_name(name)
    if not possible(name):
        raise LessonUnreadable(f"{shown or 'an empty name'} cannot be the name of a file")
    try:
        if path.is_dir():
            raise LessonUnreadable(f"{shown} is a folder, not a file")
        if path.exists() and not path.is_file():
            raise LessonUnreadable(f"{shown} is not an ordinary file")
        with path.open("rb") as file:
            # One character takes up to four bytes; what is longer need not be read to be refused.
            return file.read(4 * LIMITS.characters + 4)
    except FileNotFoundError:
        raise LessonUnreadable(f"there is no file {shown}") from None
    except PermissionError:
        raise LessonUnreadable(f"{shown} cannot be read: its permissions do not allow it") from None
    except (OSError, RuntimeError) as error:
        if getattr(error, "errno", errno.ELOOP) == errno.ELOOP:
            raise LessonUnreadable(
                f"{shown} could not be read: it is a link that leads in circles"
            ) from None
        reason = getattr(error, "strerror", None) or str(error)
        raise LessonUnreadable(f"{shown} could not be read: {reason}") from None


def decode(data: bytes, name: str) -> str:
    """Return bytes as text.

    Raises:
        LessonUnreadable: they are not UTF-8 text, or too many for a lesson.
    """
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            raise LessonUnreadable(f"{name} is saved as {encoding}: save it again as UTF-8")
    data = data.removeprefix(MARK)
    if b"\0" in data:
        raise LessonUnreadable(_zeros(data, name))
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        if error.reason == "unexpected end of data" and len(data) > 4 * LIMITS.characters:
            raise LessonUnreadable(_too_large(name)) from None
        raise LessonUnreadable(_not_utf8(data, error.start, name)) from None
    if len(text) > LIMITS.characters:
        raise LessonUnreadable(_too_large(name))
    return text


def _too_large(name: str) -> str:
    return f"{name} is too large for a lesson: more than {LIMITS.characters:,} characters"


def _zeros(data: bytes, name: str) -> str:
    """Return what is wrong with bytes that hold zeros: UTF-16 without a mark, or not text at all."""
    piece = data[:2000]
    for half in (piece[::2], piece[1::2]):
        if half and half.count(0) > 0.8 * len(half) and piece.count(0) < 0.6 * len(piece) + 1:
            return f"{name} is saved as UTF-16: save it again as UTF-8"
    return f"{name} is not a text file"


def _not_utf8(data: bytes, position: int, name: str) -> str:
    piece = data[:4000]
    odd = sum(byte < 32 and byte not in b"\t\n\r\f" for byte in piece)
    if odd > _NOT_TEXT * len(piece):
        return f"{name} is not a text file"
    before = data[:position].replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    line = before.count(b"\n") + 1
    return f"{name} is not saved as UTF-8 (it shows first on line {line}): save it again as UTF-8"


def write_atomically(path: str | Path, data: Data) -> None:
    """Write a file completely or not at all; text is written as UTF-8 with LF line ends.

    Raises:
        NotWritten: the folder is missing or not writable, the disk is full, or the target is a
            folder, is write-protected, has several names (hard links), cannot keep its owner or
            attributes, or was changed meanwhile. A file that was there before is unchanged.
    """
    with _told(path):
        place = _place(path)
        if place.exists() and not place.is_file():
            _write_through(place, pieces(data))
            return
        replace(place, pieces(data), look(place))


def rewrite(path: str | Path, old: str, new: str, *, same_ends: bool = True) -> None:
    """Put a new text in place of the one that was read; line ends and byte order mark stay the file's.

    With `same_ends` all lines end as most of the old ones do, else as they are in the new text.

    Raises:
        NotWritten: as for `write_atomically`, or the file no longer holds the text `old`.
    """
    with _told(path):
        one = _rewritten(path, old, with_ends_of(old, new) if same_ends else new)
        replace(one.place, iter((one.content,)), one.before)


@frozen
class Rewrite:
    """A file, the text that was read from it, and the one to put in its place; line ends are as in that."""

    path: Path
    old: str
    new: str


def rewrite_all(wanted: Sequence[Rewrite]) -> None:
    """Put new texts in place of those that were read, in all files or in none; byte order marks stay.

    Raises:
        NotWritten: as for `write_atomically`, or one of the files no longer holds its old text.
    """
    made = []
    for one in wanted:
        with _told(one.path):
            made.append(_rewritten(one.path, one.old, one.new))
    try:
        replace_all(made)
    except OSError as error:
        raise NotWritten(_why_not(Path(error.filename), error)) from None


def _rewritten(path: str | Path, old: str, new: str) -> Replacement:
    """Return what replaces a file that holds a text.

    Raises:
        NotWritten: it does not.
    """
    place = _place(path)
    before = look(place)
    content = place.read_bytes() if before.status else b""
    try:
        unchanged = before.status is not None and decode(content, "") == old
    except LessonUnreadable:
        unchanged = False
    if not unchanged:
        raise NotWritten(changed(place))
    mark = MARK if content.startswith(MARK) else b""
    return Replacement(place, mark + new.encode("utf-8"), Before(before.status, content))


def with_ends_of(old: str, new: str) -> str:
    """Return a text with the line ends that most lines of another have; LF if it has none."""
    found = _LINE_END.findall(old)
    end = max(("\n", "\r\n", "\r"), key=found.count)
    return _LINE_END.sub(end, new)


def pieces(data: Data) -> Iterator[bytes]:
    """Yield data, whole or in pieces, as bytes; text as UTF-8."""
    for piece in (data,) if isinstance(data, str | bytes) else data:
        yield piece.encode("utf-8") if isinstance(piece, str) else piece


def _place(path: str | Path) -> Path:
    """Return where a file is written: through a link the file it leads to is replaced, not the link."""
    target = Path(path)
    if not possible(path):
        raise NotWritten(f"{shown_name(path) or 'an empty name'} cannot be the name of a file")
    if target.is_dir():
        raise NotWritten(f"{shown_name(target)} is a folder: name a file in it")
    return Path(os.path.realpath(target)) if target.is_symlink() else target


def _write_through(place: Path, content: Iterator[bytes]) -> None:
    """Write to a pipe, a terminal or the like, which cannot be replaced."""
    with place.open("wb") as file:
        file.writelines(content)


@contextlib.contextmanager
def _told(path: str | Path) -> Iterator[None]:
    """Say in a sentence why a file was not written."""
    try:
        yield
    except OSError as error:
        raise NotWritten(_why_not(Path(path), error)) from None


def _why_not(target: Path, error: OSError) -> str:
    shown, folder = shown_name(target), shown_name(target.parent)
    if error.errno == errno.ENOENT:
        return f"{shown} could not be written: there is no folder {folder}"
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return f"{shown} could not be written: the folder {folder} does not allow it"
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return f"{shown} could not be written: the disk is full; nothing was changed"
    if error.errno == errno.ELOOP:
        return f"{shown} could not be written: it is a link that leads in circles"
    return f"{shown} could not be written: {error.strerror or error}"
