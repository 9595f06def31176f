"""One file in the place of another: whatever fails, and whenever, nobody's text is lost."""

from __future__ import annotations

import errno
import os
import stat
import subprocess
import sys
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from fretloom import replacing
from fretloom.errors import NotWritten
from fretloom.files import Rewrite, rewrite, rewrite_all, write_atomically
from fretloom.replacing import UNFINISHED

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="about files as POSIX has them")

#: The steps of a write, as the system is asked for them.
STEPS = (
    *("access", "close", "fchmod", "fchown", "fstat", "fsync", "listxattr", "getxattr", "lstat"),
    *("open", "replace", "setxattr", "stat", "unlink"),
)
FAULTS: tuple[BaseException, ...] = (
    *(OSError(number, os.strerror(number)) for number in (errno.ENOSPC, errno.EIO)),
    PermissionError(errno.EACCES, "no"),
    KeyboardInterrupt(),
    MemoryError(),
)


class Faulty:
    """A function of the system that fails the `when`th time, before or after its work."""

    def __init__(self, does: Callable[..., Any], when: int, fault: BaseException, late: bool):
        self.does, self.when, self.fault, self.late = does, when, fault, late
        self.failed = False

    def __call__(self, *values: Any, **named: Any) -> Any:
        self.when -= 1
        if self.when or self.failed:
            return self.does(*values, **named)
        self.failed = True
        if self.late:
            self.does(*values, **named)
        raise self.fault


def _tries(step: str, most: int = 7) -> Iterator[Faulty]:
    """Yield a fault for each time that a step may come in one write."""
    for fault in FAULTS:
        for late in (False, True):
            # What was opened and lost with the answer stays open, and the file is removed all the same.
            for when in range(1, most + 1):
                yield Faulty(getattr(os, step), when, fault, late)


@pytest.mark.parametrize("step", [one for one in STEPS if hasattr(os, one)])
@pytest.mark.parametrize("write", ["export", "format"])
def test_a_fault_at_any_step_leaves_the_old_file_or_the_new_one(
    write: str, step: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whole, with its permissions, with nothing beside it; and only a sentence or an interrupt comes out."""
    path = tmp_path / "a.lesson"
    for faulty in _tries(step):
        path.write_bytes(b"old\r\n")
        path.chmod(0o640)
        with monkeypatch.context() as patched:
            patched.setattr(os, step, faulty)
            try:
                if write == "format":
                    rewrite(path, "old\r\n", "new\n")
                else:
                    write_atomically(path, iter([b"ne", b"w\r\n"]))
            except (NotWritten, KeyboardInterrupt, MemoryError):
                assert faulty.failed
        assert path.read_bytes() in (b"old\r\n", b"new\r\n")
        assert path.stat().st_mode & 0o7777 == 0o640
        if step != "unlink":
            assert [one.name for one in tmp_path.iterdir()] == ["a.lesson"]


@pytest.mark.parametrize("step", [one for one in STEPS if hasattr(os, one)])
def test_a_fault_at_any_step_leaves_all_old_files_or_all_new_ones(
    step: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also after some have been moved: these get their old content back."""
    folders = tmp_path / "one", tmp_path / "two"
    for folder in folders:
        folder.mkdir()
    paths = [folders[0] / "a.lesson", folders[1] / "b.lesson", folders[0] / "c.lesson"]
    wanted = [Rewrite(path, "old\r\n", "new\r\n") for path in paths]
    mark, given_back = b"\xef\xbb\xbf", 0
    for faulty in _tries(step, most=3 * 7):
        for path in paths:
            path.write_bytes(mark + b"old\r\n")
            path.chmod(0o640)
        with monkeypatch.context() as patched:
            patched.setattr(os, step, faulty)
            try:
                rewrite_all(wanted)
            except (NotWritten, KeyboardInterrupt, MemoryError) as error:
                assert faulty.failed
                assert not isinstance(error, NotWritten) or "lesson" in str(error)
                given_back += step == "replace"
        (content,) = {path.read_bytes() for path in paths}
        assert content in (mark + b"old\r\n", mark + b"new\r\n")
        assert {path.stat().st_mode & 0o7777 for path in paths} == {0o640}
        if step != "unlink":
            assert sorted(tmp_path.rglob("*")) == sorted([*folders, *paths])
    assert given_back == (3 * 2 * len(FAULTS) if step == "replace" else 0)


def test_one_file_that_cannot_be_written_keeps_all_as_they_are(tmp_path: Path) -> None:
    """Protected, changed meanwhile, or gone: the message is about that one."""
    first, second = tmp_path / "a.lesson", tmp_path / "b.lesson"
    wanted = [Rewrite(first, "old", "new"), Rewrite(second, "old", "new")]
    for path in (first, second):
        path.write_text("old")
    second.chmod(0o444)
    with pytest.raises(NotWritten, match=r"b\.lesson is write-protected"):
        rewrite_all(wanted)
    second.chmod(0o644)
    second.write_text("newer")
    with pytest.raises(NotWritten, match=r"b\.lesson was changed"):
        rewrite_all(wanted)
    second.unlink()
    with pytest.raises(NotWritten, match=r"b\.lesson was changed"):
        rewrite_all(wanted)
    assert first.read_text() == "old"
    assert list(tmp_path.iterdir()) == [first]


def test_what_was_saved_while_others_were_written_is_not_lost(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """All new files are there when the first is moved; until then each old one is looked at."""
    paths = [tmp_path / "a.lesson", tmp_path / "b.lesson"]
    for path in paths:
        path.write_text("old")
    sync, synced = os.fsync, []

    def edited(handle: int) -> None:
        synced.append(handle)
        if len(synced) == 2:
            paths[0].write_text("saved")
        sync(handle)

    monkeypatch.setattr(os, "fsync", edited)
    with pytest.raises(NotWritten, match=r"a\.lesson was changed while"):
        rewrite_all([Rewrite(path, "old", "new") for path in paths])
    assert [path.read_text() for path in paths] == ["saved", "old"]
    assert sorted(tmp_path.iterdir()) == paths


def test_a_new_file_that_somebody_sweeps_away_keeps_all_as_they_are(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another program that writes to one of the files takes ours for what a killed one left."""
    paths = [tmp_path / "a.lesson", tmp_path / "b.lesson"]
    for path in paths:
        path.write_text("old")
    does = os.replace

    def swept(old: Path, new: Path) -> None:
        if str(new).endswith("b.lesson"):
            Path(old).unlink()
        does(old, new)

    monkeypatch.setattr(os, "replace", swept)
    with pytest.raises(NotWritten, match=r"b\.lesson was changed while"):
        rewrite_all([Rewrite(path, "old", "new") for path in paths])
    assert [path.read_text() for path in paths] == ["old", "old"]
    assert sorted(tmp_path.iterdir()) == paths


def test_what_cannot_be_given_back_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A disk that fails for good in the middle leaves files of both kinds, and says which are new."""
    paths = [tmp_path / "a.lesson", tmp_path / "b.lesson"]
    for path in paths:
        path.write_text("old")
    does, done = os.replace, []

    def broken(old: Path, new: Path) -> None:
        done.append(new)
        if len(done) > 1:
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        does(old, new)

    monkeypatch.setattr(os, "replace", broken)
    with pytest.raises(
        NotWritten, match=r"not all files could be written; new already: \S*a\.lesson$"
    ):
        rewrite_all([Rewrite(path, "old", "new") for path in paths])
    assert [path.read_text() for path in paths] == ["new", "old"]


def test_a_fault_while_the_text_is_made_leaves_the_old_file(tmp_path: Path) -> None:
    """After any of its pieces."""

    def broken(after: int) -> Iterator[bytes]:
        yield from (b"piece",) * after
        raise KeyboardInterrupt

    path = tmp_path / "a.lesson"
    path.write_text("old")
    for after in range(3):
        with pytest.raises(KeyboardInterrupt):
            write_atomically(path, broken(after))
        assert path.read_text() == "old"
        assert [one.name for one in tmp_path.iterdir()] == ["a.lesson"]


KILLED = """
import os, signal, sys
from fretloom.files import write_atomically
def text():
    yield b"half"
    os.kill(os.getpid(), signal.SIGKILL)
write_atomically(sys.argv[1], text())
"""


def test_what_a_killed_program_leaves_is_removed_with_the_next_write(tmp_path: Path) -> None:
    """The target is as it was before; what somebody is still writing stays, and so does all else."""
    path = tmp_path / "a.lesson"
    path.write_text("old")
    killed = subprocess.run([sys.executable, "-c", KILLED, path], check=False)
    assert killed.returncode < 0
    assert path.read_text() == "old"
    (left,) = (one for one in tmp_path.iterdir() if one != path)
    assert left.name.startswith(".a.lesson.")
    assert left.name.endswith(UNFINISHED)
    others = [tmp_path / name for name in (f".b{left.name[2:]}", f".a.lesson{UNFINISHED}", "a.new")]
    for other in others:
        other.write_text("mine")

    def meanwhile() -> Iterator[bytes]:
        write_atomically(path, b"second")
        yield b"first"

    with pytest.raises(NotWritten, match="was changed while"):
        write_atomically(path, meanwhile())
    assert path.read_text() == "second"
    assert sorted(tmp_path.iterdir()) == sorted([path, *others])


@pytest.mark.parametrize("mode", [0o444, 0o400, 0o555])
def test_a_write_protected_file_stays(mode: int, tmp_path: Path) -> None:
    """Also for those who may write everything."""
    path = tmp_path / "a.lesson"
    path.write_text("old")
    path.chmod(mode)
    for write in (lambda: write_atomically(path, "new"), lambda: rewrite(path, "old", "new")):
        with pytest.raises(NotWritten, match=r"a\.lesson is write-protected and stays as it is"):
            write()
    assert path.read_text() == "old"
    assert path.stat().st_mode & 0o7777 == mode


@pytest.mark.parametrize("mode", [0o600, 0o4755, 0o2755, 0o6711, 0o1644, 0o666])
def test_permissions_stay(mode: int, tmp_path: Path) -> None:
    """All of them, those that set the user or group at the start of a program included."""
    path = tmp_path / "a.lesson"
    path.write_text("old")
    path.chmod(mode)
    write_atomically(path, "new")
    assert path.read_text() == "new"
    assert stat.S_IMODE(path.stat().st_mode) == mode


def test_owner_and_group_stay_or_the_file_does(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The new file is given to whom the old one belonged; if it cannot be, it is not put there."""
    path = tmp_path / "a.lesson"
    path.write_text("old")
    given: list[tuple[int, int]] = []
    if os.geteuid() == 0:
        os.chown(path, 12345, 54321)
        write_atomically(path, "new")
        assert (path.stat().st_uid, path.stat().st_gid) == (12345, 54321)
        assert path.read_text() == "new"

        def refused(handle: int, *owner: int) -> None:
            given.append(owner)  # type: ignore[arg-type]
            raise PermissionError(errno.EPERM, "no")

        monkeypatch.setattr(os, "fchown", refused)
        with pytest.raises(NotWritten, match="could not have its owner and permissions"):
            write_atomically(path, "newer")
        assert given == [(12345, 54321)]
        assert path.read_text() == "new"
        assert [one.name for one in tmp_path.iterdir()] == ["a.lesson"]


def test_a_file_with_several_names_stays(tmp_path: Path) -> None:
    """Writing would part the names; all of them still name the old text."""
    path = tmp_path / "a.lesson"
    path.write_text("old")
    os.link(path, tmp_path / "b.lesson")
    for write in (lambda: write_atomically(path, "new"), lambda: rewrite(path, "old", "new")):
        with pytest.raises(NotWritten, match=r"is known under 2 names \(hard links\)"):
            write()
    assert path.read_text() == (tmp_path / "b.lesson").read_text() == "old"
    assert path.samefile(tmp_path / "b.lesson")


@pytest.mark.skipif(sys.platform != "linux", reason="extra attributes as Linux has them")
def test_extra_attributes_stay(tmp_path: Path) -> None:
    """Those of the user; a file system may have none."""
    path = tmp_path / "a.lesson"
    path.write_text("old")
    try:
        os.setxattr(path, "user.level", b"beginner")
    except OSError:
        pytest.skip("this file system has no extra attributes")
    write_atomically(path, "new")
    assert path.read_text() == "new"
    assert os.getxattr(path, "user.level") == b"beginner"


@pytest.mark.parametrize("edit", ["written", "replaced", "removed", "touched"])
def test_what_was_saved_meanwhile_is_not_lost(
    edit: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Up to the moment before the new file is put there."""
    path = tmp_path / "a.lesson"
    path.write_text("old")
    sync = os.fsync

    def edited(handle: int) -> None:
        monkeypatch.setattr(os, "fsync", sync)
        if edit == "written":
            before = path.stat()
            path.write_text("OLD")  # As long as before, and by the clock at the same moment.
            os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
        elif edit == "removed":
            path.unlink()
        elif edit == "touched":
            path.chmod(0o600)
        else:
            (tmp_path / "x").write_text("OLD")
            (tmp_path / "x").replace(path)

    monkeypatch.setattr(os, "fsync", edited)
    with pytest.raises(NotWritten, match=r"a\.lesson was changed while fretloom was at work"):
        rewrite(path, "old", "new")
    assert path.exists() == (edit != "removed")
    assert edit == "removed" or path.read_text() in ("OLD", "old")
    assert len(list(tmp_path.iterdir())) == path.exists()


def test_a_file_that_came_meanwhile_is_not_lost(tmp_path: Path) -> None:
    """There was none when the writing began."""
    path = tmp_path / "a.txt"

    def text() -> Iterator[bytes]:
        path.write_text("somebody's")
        yield b"new"

    with pytest.raises(NotWritten, match="was changed while"):
        write_atomically(path, text())
    assert path.read_text() == "somebody's"


def test_a_text_that_is_not_the_one_read_is_not_replaced(tmp_path: Path) -> None:
    """Another text, no text, no file."""
    path = tmp_path / "a.lesson"
    for content in (b"other", b"\xff\xfe", b""):
        path.write_bytes(content)
        with pytest.raises(NotWritten, match="was changed while"):
            rewrite(path, "old", "new")
        assert path.read_bytes() == content
    path.unlink()
    with pytest.raises(NotWritten, match="was changed while"):
        rewrite(path, "old", "new")
    assert list(tmp_path.iterdir()) == []


def test_a_link_is_followed_and_its_file_keeps_what_it_has(tmp_path: Path) -> None:
    """Also over several links, into another folder."""
    real = tmp_path / "far" / "real.lesson"
    real.parent.mkdir()
    real.write_text("old")
    real.chmod(0o640)
    (tmp_path / "one.lesson").symlink_to("far/real.lesson")
    (tmp_path / "two.lesson").symlink_to("one.lesson")
    rewrite(tmp_path / "two.lesson", "old", "new")
    assert (real.read_text(), stat.S_IMODE(real.stat().st_mode)) == ("new", 0o640)
    assert (tmp_path / "two.lesson").is_symlink()
    assert [one.name for one in real.parent.iterdir()] == ["real.lesson"]


def test_links_in_a_circle_are_not_written(tmp_path: Path) -> None:
    """And the sentence says what they are."""
    (tmp_path / "a").symlink_to("b")
    (tmp_path / "b").symlink_to("a")
    with pytest.raises(NotWritten, match="a could not be written: it is a link that leads in circles"):  # fmt: skip
        write_atomically(tmp_path / "a", "new")


class Windows:
    """Files as Windows has them: what is open cannot be moved or removed, and much of POSIX is not there."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.open: dict[str, int] = {}
        self.asked: list[str] = []
        for name in ("fchown", "fchmod", "listxattr", "getxattr", "O_NOFOLLOW", "O_NONBLOCK"):
            monkeypatch.delattr(os, name)
        monkeypatch.setitem(sys.modules, "fcntl", None)
        monkeypatch.setattr(replacing, "sys", SimpleNamespace(platform="win32"))
        for name in ("open", "replace", "unlink"):
            monkeypatch.setattr(os, name, partial(getattr(self, f"on_{name}"), getattr(os, name)))

    def on_open(self, does: Callable[..., Any], path: Any, *values: Any, **named: Any) -> Any:
        """Open a file; folders cannot be."""
        if Path(path).is_dir():
            raise PermissionError(errno.EACCES, "a folder")
        handle = self.open[str(path)] = does(path, *values, **named)
        return handle

    def on_replace(self, does: Callable[..., Any], old: Any, new: Any) -> None:
        """Move a file over another."""
        self._refuse_open(old)
        self.asked.append("replace")
        does(old, new)

    def on_unlink(self, does: Callable[..., Any], path: Any, **named: Any) -> None:
        """Remove a file."""
        self._refuse_open(path)
        self.asked.append("unlink")
        does(path, **named)

    def _refuse_open(self, path: Any) -> None:
        handle = self.open.get(str(path))
        if handle is not None and Path(f"/proc/self/fd/{handle}").resolve() == Path(path).resolve():
            raise PermissionError(errno.EACCES, "in use")


@pytest.mark.skipif(sys.platform != "linux", reason="looks up which files are open")
def test_on_windows_a_file_is_closed_before_it_is_moved(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """There are no owners and locks of POSIX there, and folders are not opened."""
    windows = Windows(monkeypatch)
    path = tmp_path / "a.lesson"
    write_atomically(path, "old")
    rewrite(path, "old", "new")
    assert path.read_text() == "new"
    assert windows.asked == ["replace", "replace"]
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.skipif(sys.platform != "linux", reason="looks up which files are open")
def test_on_windows_what_is_left_is_removed_unless_it_is_open(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The system itself keeps what somebody is writing."""
    path = tmp_path / "a.lesson"
    left, busy = (tmp_path / f".a.lesson.{sign * 16}{UNFINISHED}" for sign in "01")
    for one in (left, busy):
        one.write_text("half")
    windows = Windows(monkeypatch)
    handle = os.open(busy, os.O_RDONLY)
    try:
        write_atomically(path, "new")
        assert sorted(tmp_path.iterdir()) == [busy, path]
    finally:
        os.close(handle)
    write_atomically(path, "newer")
    assert sorted(tmp_path.iterdir()) == [path]
    assert windows.asked.count("unlink") == 2


@pytest.mark.skipif(sys.platform != "linux", reason="looks up which files are open")
def test_on_windows_a_file_changed_meanwhile_stays(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """What is written is closed by then, and is removed."""
    path = tmp_path / "a.lesson"
    path.write_text("old")
    Windows(monkeypatch)

    def pieces() -> Iterator[bytes]:
        yield b"new"
        path.write_text("saved by somebody else")

    with pytest.raises(NotWritten):
        replacing.replace(path, pieces(), replacing.look(path))
    assert path.read_text() == "saved by somebody else"
    assert list(tmp_path.iterdir()) == [path]
