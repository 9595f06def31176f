"""How one file takes the place of another: step by step, so that a fault at any of them does no harm.

The new file is written beside the old one and moved over it when it is complete. What the old one
was besides its content (permissions, owner, extra attributes) the new one is too, or the old one
stays.
"""

from __future__ import annotations

import contextlib
import errno
import os
import re
import stat
import sys
from collections.abc import Iterator, Sequence
from io import BufferedWriter
from pathlib import Path

from fretloom.errors import NotWritten
from fretloom.text import listed, shown_name
from fretloom.values import frozen

#: How the name of a file ends that is being written; what a killed program left is known by it.
UNFINISHED = ".fretloom-new"
_KEPT_OF_NAME = 40
#: Extra attributes that the system gives by rules of its own.
_OF_THE_SYSTEM = ("security.", "trusted.")
_COMPARED = ("st_dev", "st_ino", "st_size", "st_mtime_ns", "st_mode", "st_uid", "st_gid")


@frozen
class Before:
    """The file in the way: how it was found (None if there is none), and its content if that matters."""

    status: os.stat_result | None
    content: bytes | None = None

    def still(self, place: Path) -> bool:
        """Whether it is the same file as before, with nothing written to it."""
        now = look(place).status
        if now is None or self.status is None:
            return now is self.status
        same = all(getattr(now, name) == getattr(self.status, name) for name in _COMPARED)
        return same and (self.content is None or place.read_bytes() == self.content)


def look(place: Path) -> Before:
    """Look at the file in the way, without its content."""
    try:
        return Before(place.stat())
    except FileNotFoundError:
        return Before(None)


@frozen
class Replacement:
    """A file that is to be, and what was in its place before."""

    place: Path
    content: bytes
    before: Before


def replace(place: Path, content: Iterator[bytes], before: Before) -> None:
    """Put a new file in the place of what was there before, with all of `content` or not at all.

    Raises:
        NotWritten: the old file is protected, cannot be replaced by its like, or was changed.
        OSError: any step failed; the old file is unchanged.
    """
    with _beside(place, content, before) as (new, file):
        if sys.platform == "win32":
            file.close()  # There a file that is open cannot be moved.
        if not before.still(place):
            raise NotWritten(changed(place))
        new.replace(place)
    _settle(place.parent)


def replace_all(wanted: Sequence[Replacement]) -> None:
    """Put new files in the places of old ones: all of them, or none.

    All are complete beside the old ones before the first is moved. If one cannot be moved after others were,
    these get their old content back.

    Raises: as `replace`; all old files are as they were.
    """
    with contextlib.ExitStack() as stack:
        moves: list[tuple[Path, Replacement]] = []
        for one in wanted:
            with _about(one.place):
                beside = _beside(one.place, iter((one.content,)), one.before)
                new, file = stack.enter_context(beside)
                file.close()  # Systems allow some hundred open files.
            moves.append((new, one))
        for _, one in moves:
            if not one.before.still(one.place):
                raise NotWritten(changed(one.place))
        _move(moves)
    for folder in {one.place.parent for one in wanted}:
        _settle(folder)


def _move(moves: Sequence[tuple[Path, Replacement]]) -> None:
    """Move new files over old ones; what was moved before one that cannot be is given its old content back."""
    begun: list[Replacement] = []
    try:
        for new, one in moves:
            begun.append(one)
            try:
                with _about(one.place):
                    new.replace(one.place)
            except (
                FileNotFoundError
            ):  # Somebody who writes to the same file took it for left behind.
                raise NotWritten(changed(one.place)) from None
    except BaseException:
        left = [shown_name(one.place) for one in begun if not _given_back(one)]
        if left:
            raise NotWritten(
                f"not all files could be written; new already: {listed(left)}"
            ) from None
        raise


def _given_back(one: Replacement) -> bool:
    """Put the old content back if the new one stands there, though its move may have failed; returns whether it is."""
    old = one.before.content
    try:
        if old is not None and one.place.read_bytes() == one.content:
            replace(one.place, iter((old,)), look(one.place))
    except (OSError, NotWritten):
        return False
    return True


@contextlib.contextmanager
def _about(place: Path) -> Iterator[None]:
    """Have a fault of the system name the file that was to be written."""
    try:
        yield
    except OSError as error:
        error.filename, error.filename2 = str(place), None
        raise


@contextlib.contextmanager
def _beside(
    place: Path, content: Iterator[bytes], before: Before
) -> Iterator[tuple[Path, BufferedWriter]]:
    """Write a new file beside the one in the way, complete and all that the old one was; yields its path and it, open.

    Whatever fails then, it is removed.
    """
    import secrets

    if before.status is not None:
        _refuse(place, before.status)
    _sweep(place)
    new = place.with_name(_unfinished(place, secrets.token_hex(8)))
    try:
        # What replaces a file may be private until it has that file's permissions.
        handle = os.open(new, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600 if before.status else 0o666)
        with os.fdopen(handle, "wb") as file:
            _hold(handle)
            file.writelines(content)
            file.flush()
            if before.status is not None:
                _as_before(handle, place, before.status)
            os.fsync(handle)
            yield new, file
    except BaseException:
        with contextlib.suppress(OSError):
            new.unlink()
        raise


def _refuse(place: Path, status: os.stat_result) -> None:
    """Refuse to replace a file that is protected, or that would be parted from its other names."""
    shown = shown_name(place)
    if not status.st_mode & 0o222 or not os.access(place, os.W_OK):
        raise NotWritten(
            f"{shown} is write-protected and stays as it is: allow writing to it, or name another file"
        )
    if status.st_nlink > 1:
        raise NotWritten(
            f"{shown} is known under {status.st_nlink} names (hard links), and writing would part "
            "them: copy it to a file of its own, or name another file"
        )


def _as_before(handle: int, place: Path, status: os.stat_result) -> None:
    """Give the new file the owner, the extra attributes and the permissions of the old one."""
    if sys.platform == "win32":
        return
    now = os.fstat(handle)
    try:
        if (now.st_uid, now.st_gid) != (status.st_uid, status.st_gid):
            os.fchown(handle, status.st_uid, status.st_gid)
        if sys.platform == "linux":
            _copy_attributes(handle, place)
        if os.fstat(handle).st_mode != status.st_mode:
            os.fchmod(handle, stat.S_IMODE(status.st_mode))
    except PermissionError:
        raise NotWritten(_not_ours(place)) from None
    now = os.fstat(handle)
    if any(getattr(now, name) != getattr(status, name) for name in ("st_mode", "st_uid", "st_gid")):
        raise NotWritten(_not_ours(place))


def _copy_attributes(handle: int, place: Path) -> None:
    if sys.platform != "linux":
        return
    try:
        wanted = {name: os.getxattr(place, name) for name in os.listxattr(place)}
        now = {name: os.getxattr(handle, name) for name in os.listxattr(handle)}
    except OSError as error:
        if error.errno in (errno.ENOTSUP, errno.ENOSYS, errno.EPERM):
            return  # This file system has none.
        raise
    for name in now.keys() | wanted.keys():
        if now.get(name) == wanted.get(name) or name.startswith(_OF_THE_SYSTEM):
            continue
        if name in wanted:
            os.setxattr(handle, name, wanted[name])
        else:
            os.removexattr(handle, name)


def _unfinished(place: Path, chance: str) -> str:
    return f".{place.name[:_KEPT_OF_NAME]}.{chance}{UNFINISHED}"


def _hold(handle: int) -> None:
    """Show that the file is being written, as long as it is open; the system lets go if we are killed."""
    if sys.platform == "win32":
        return
    import fcntl

    with contextlib.suppress(OSError):  # Some file systems know no locks.
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


def _sweep(place: Path) -> None:
    """Remove what a killed program left of an earlier try to write this file."""
    pattern = re.compile(re.escape(_unfinished(place, "?")).replace(r"\?", "[0-9a-f]{16}"))
    with contextlib.suppress(OSError):
        for path in place.parent.iterdir():
            if path.name.endswith(UNFINISHED) and pattern.fullmatch(path.name):
                _remove_if_left(path)


def _remove_if_left(path: Path) -> None:
    with contextlib.suppress(OSError):
        if sys.platform == "win32":
            path.unlink()  # There a file that somebody is writing cannot be removed.
            return
        import fcntl

        handle = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK)
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            path.unlink()
        finally:
            os.close(handle)


def _settle(folder: Path) -> None:
    """Have the folder written to the disk, so that the new file is there after a power cut."""
    if sys.platform == "win32":
        return
    with contextlib.suppress(OSError):  # The new file is complete, whatever this comes to.
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def changed(place: Path) -> str:
    """Say that somebody else has written to a file."""
    return f"{shown_name(place)} was changed while fretloom was at work, and stays as it is now: try again"


def _not_ours(place: Path) -> str:
    return (
        f"{shown_name(place)} stays as it is: a new file could not have its owner and permissions; "
        "name another file"
    )
