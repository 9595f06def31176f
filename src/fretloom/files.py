"""Reading text files and writing results: the only module that touches the disk.

Every failure becomes one clear sentence; a result is written to a new file beside the old one and
moved into its place when it is complete, so no file is ever half written.
"""

from __future__ import annotations

import codecs
import contextlib
import errno
import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from fretloom.errors import LessonUnreadable, NotWritten
from fretloom.limits import LIMITS

_MARKS = (
    (codecs.BOM_UTF32_LE, "UTF-32"),
    (codecs.BOM_UTF32_BE, "UTF-32"),
    (codecs.BOM_UTF16_LE, "UTF-16"),
    (codecs.BOM_UTF16_BE, "UTF-16"),
)
_NOT_TEXT = 0.02


def read_text(path: str | Path) -> str:
    """Return the text of a file without its byte order mark; line ends stay as they are.

    Raises:
        LessonUnreadable: the file is missing, is not UTF-8 text, or is too large for a lesson.
    """
    return decode(_read_bytes(Path(path)), str(path))


def _read_bytes(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise LessonUnreadable(f"{path} is a folder, not a file")
        if path.exists() and not path.is_file():
            raise LessonUnreadable(f"{path} is not an ordinary file")
        with path.open("rb") as file:
            # One character takes up to four bytes; what is longer need not be read to be refused.
            return file.read(4 * LIMITS.characters + 4)
    except FileNotFoundError:
        raise LessonUnreadable(f"there is no file {path}") from None
    except PermissionError:
        raise LessonUnreadable(f"{path} cannot be read: its permissions do not allow it") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise LessonUnreadable(f"{path} could not be read: {reason}") from None


def decode(data: bytes, name: str) -> str:
    """Return bytes as text.

    Raises:
        LessonUnreadable: they are not UTF-8 text, or too many for a lesson.
    """
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            raise LessonUnreadable(f"{name} is saved as {encoding}: save it again as UTF-8")
    data = data.removeprefix(codecs.BOM_UTF8)
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


def write_atomically(path: str | Path, data: str | bytes | Iterable[str] | Iterable[bytes]) -> None:
    """Write a file completely or not at all; text is written as UTF-8 with LF line ends.

    The data, whole or in pieces, go into a temporary file in the same folder, which then takes the
    place of the old one.

    Raises:
        NotWritten: the folder is missing or not writable, the disk is full, or the target is a
            folder.
    """
    target = Path(path)
    content = pieces(data)
    if target.is_dir():
        raise NotWritten(f"{target} is a folder: name a file in it")
    # Through a link the file it leads to is replaced, not the link.
    place = target.resolve() if target.is_symlink() else target
    if place.exists() and not place.is_file():
        _write_through(place, content)
        return
    try:
        _replace(place, content)
    except OSError as error:
        raise NotWritten(_why_not(target, error)) from None


def pieces(data: str | bytes | Iterable[str] | Iterable[bytes]) -> Iterator[bytes]:
    """Yield data, whole or in pieces, as bytes; text as UTF-8."""
    for piece in (data,) if isinstance(data, str | bytes) else data:
        yield piece.encode("utf-8") if isinstance(piece, str) else piece


def _write_through(place: Path, content: Iterator[bytes]) -> None:
    """Write to a pipe, a terminal or the like, which cannot be replaced."""
    try:
        with place.open("wb") as file:
            file.writelines(content)
    except OSError as error:
        raise NotWritten(_why_not(place, error)) from None


def _replace(place: Path, content: Iterator[bytes]) -> None:
    import tempfile

    mode = place.stat().st_mode & 0o777 if place.exists() else 0o666 & ~_umask()
    handle, name = tempfile.mkstemp(dir=place.parent, prefix=f".{place.name[:40]}.", suffix=".new")
    try:
        with os.fdopen(handle, "wb") as file:
            file.writelines(content)
            file.flush()
            os.fsync(file.fileno())
        Path(name).chmod(mode)
        Path(name).replace(place)
    except BaseException:
        with contextlib.suppress(OSError):
            Path(name).unlink()
        raise


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _why_not(target: Path, error: OSError) -> str:
    folder = target.parent
    if error.errno == errno.ENOENT:
        return f"{target} could not be written: there is no folder {folder}"
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return f"{target} could not be written: the folder {folder} does not allow it"
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return f"{target} could not be written: the disk is full; nothing was changed"
    return f"{target} could not be written: {error.strerror or error}"
