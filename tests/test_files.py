"""Reading text and writing results: one clear sentence each, nothing half written."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from fretloom.errors import LessonUnreadable, NotWritten
from fretloom.files import decode, read_text, rewrite, write_atomically
from fretloom.limits import LIMITS

IS_ROOT = hasattr(os, "geteuid") and os.geteuid() == 0


@pytest.mark.parametrize(
    ("data", "said"),
    [
        ("lesson".encode("utf-16"), "saved as UTF-16: save it again as UTF-8"),
        ("lesson".encode("utf-16-le"), "saved as UTF-16: save it again as UTF-8"),
        ("lesson".encode("utf-16-be"), "saved as UTF-16: save it again as UTF-8"),
        ("lesson".encode("utf-32"), "saved as UTF-32: save it again as UTF-8"),
        ("one\r\nT\u00e9nor".encode("latin-1"), "not saved as UTF-8 (it shows first on line 2"),
        (b"PK\x03\x04\x00\x00\x08\x00" * 9, "not a text file"),
        (b"\x89PNG\r\n\x1a\n\xff\x01\x02\x03", "not a text file"),
        (b"a" * (LIMITS.characters + 1), "too large for a lesson: more than 2,000,000 characters"),
        (("é" * LIMITS.characters + "x").encode(), "too large"),
    ],
    ids=[
        "utf16",
        "utf16-le",
        "utf16-be",
        "utf32",
        "latin1",
        "zip",
        "png",
        "large",
        "large-accents",
    ],
)
def test_what_is_no_lesson_text_is_said(data: bytes, said: str) -> None:
    """Each kind of file that is not UTF-8 text has its own sentence."""
    with pytest.raises(LessonUnreadable) as caught:
        decode(data, "kiln.lesson")
    assert said in str(caught.value)
    assert "kiln.lesson" in str(caught.value)


def test_byte_order_mark_is_taken_off_and_line_ends_stay() -> None:
    """A mark means nothing; CR and CRLF are the reader's business."""
    assert decode(b"\xef\xbb\xbfone\r\ntwo\r", "x") == "one\r\ntwo\r"


def test_largest_text_is_read() -> None:
    """Exactly 2,000,000 characters are allowed, however many bytes they take."""
    assert len(decode("é".encode() * LIMITS.characters, "x")) == LIMITS.characters


def test_missing_file_and_folder(tmp_path: Path) -> None:
    """A missing file and a folder have messages of their own."""
    with pytest.raises(LessonUnreadable, match="there is no file"):
        read_text(tmp_path / "gone.lesson")
    with pytest.raises(LessonUnreadable, match="is a folder"):
        read_text(tmp_path)


def test_pipe_is_not_waited_for(tmp_path: Path) -> None:
    """A named pipe is not an ordinary file and is refused, not read for ever."""
    os.mkfifo(tmp_path / "pipe.lesson")
    with pytest.raises(LessonUnreadable, match="not an ordinary file"):
        read_text(tmp_path / "pipe.lesson")


@pytest.mark.skipif(IS_ROOT, reason="root may read everything")
def test_forbidden_file(tmp_path: Path) -> None:
    """A file without permission is said to be one."""
    path = tmp_path / "mine.lesson"
    path.write_text("x")
    path.chmod(0)
    with pytest.raises(LessonUnreadable, match="may not be read"):
        read_text(path)


@pytest.mark.parametrize("name", ["a" * 400, "nul\0nul"])
def test_impossible_names(name: str, tmp_path: Path) -> None:
    """A name that no file can have is an unreadable file."""
    with pytest.raises(LessonUnreadable):
        read_text(f"{tmp_path}/{name}")


def test_writing_replaces_the_file_and_leaves_nothing_else(tmp_path: Path) -> None:
    """The new content is there, the old one gone, no temporary file left."""
    path = tmp_path / "out.txt"
    path.write_text("old")
    path.chmod(0o640)
    write_atomically(path, "neu ♯\n")
    assert path.read_bytes() == "neu ♯\n".encode()
    assert path.stat().st_mode & 0o777 == 0o640
    assert [one.name for one in tmp_path.iterdir()] == ["out.txt"]


def test_pieces_are_joined_and_a_broken_row_of_them_changes_nothing(tmp_path: Path) -> None:
    """What fails half way leaves the old file, and no other."""
    path = tmp_path / "out.txt"
    write_atomically(path, iter(["neu ", "♯\n"]))
    assert path.read_bytes() == "neu ♯\n".encode()

    def broken() -> Iterator[bytes]:
        yield b"half"
        raise KeyError("the rest")

    with pytest.raises(KeyError):
        write_atomically(path, broken())
    assert path.read_bytes() == "neu ♯\n".encode()
    assert [one.name for one in tmp_path.iterdir()] == ["out.txt"]


def test_link_stays_a_link(tmp_path: Path) -> None:
    """Writing through a link changes the file it leads to."""
    (tmp_path / "real.txt").write_text("old")
    (tmp_path / "link.txt").symlink_to("real.txt")
    write_atomically(tmp_path / "link.txt", b"new")
    assert (tmp_path / "link.txt").is_symlink()
    assert (tmp_path / "real.txt").read_text() == "new"


def test_missing_folder_and_folder_in_the_way(tmp_path: Path) -> None:
    """The sentence names what is in the way."""
    with pytest.raises(NotWritten, match="there is no folder"):
        write_atomically(tmp_path / "gone" / "out.txt", "x")
    with pytest.raises(NotWritten, match="is a folder"):
        write_atomically(tmp_path, "x")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_full_device() -> None:
    """Writing to a device that is full is reported as that."""
    with pytest.raises(NotWritten, match="the disk is full"):
        write_atomically("/dev/full", "x" * 10)


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EACCES, errno.EIO])
def test_failure_leaves_the_old_file(
    number: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """If anything fails while writing, the old file and nothing else is there."""
    path = tmp_path / "out.txt"
    path.write_text("old")

    def fail(_: int) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "fsync", fail)
    with pytest.raises(NotWritten, match=r"out\.txt could not be written"):
        write_atomically(path, "new")
    assert path.read_text() == "old"
    assert [one.name for one in tmp_path.iterdir()] == ["out.txt"]


@pytest.mark.parametrize("name", ["", "a\0b", "half \ud83d"])
def test_what_cannot_be_the_name_of_a_file(name: str) -> None:
    """It is neither read nor written, and the sentence can be printed."""
    with pytest.raises(LessonUnreadable, match="cannot be the name of a file") as unread:
        read_text(name)
    with pytest.raises(NotWritten, match="cannot be the name of a file") as unwritten:
        write_atomically(name, "x")
    for caught in (unread, unwritten):
        assert str(caught.value).isprintable()


def test_names_in_sentences_are_shown_and_not_obeyed(tmp_path: Path) -> None:
    """Whatever they are made of."""
    for name in ("\x1b[31mred", "two\nlines", "::error::x", "##[error]x", "a\u202eb", "\udcff"):
        with pytest.raises(LessonUnreadable) as caught:
            read_text(name)
        assert str(caught.value).isprintable()
        assert not str(caught.value).startswith(("::", "##["))
    with pytest.raises(NotWritten, match="␛") as unwritten:
        write_atomically(tmp_path / "\x1b[31m" / "x", "x")
    assert str(unwritten.value).isprintable()


def test_links_in_a_circle_are_said_to_be_that(tmp_path: Path) -> None:
    """It is nobody's fault but the links'."""
    (tmp_path / "a.lesson").symlink_to("b.lesson")
    (tmp_path / "b.lesson").symlink_to("a.lesson")
    with pytest.raises(
        LessonUnreadable, match=r"a\.lesson could not be read: it is a link that leads in circles"
    ):
        read_text(tmp_path / "a.lesson")


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("a\nb\n", "x\ny\n"),
        ("a\r\nb\r\n", "x\r\ny\r\n"),
        ("a\rb\r", "x\ry\r"),
        ("a\r\nb\r\nc\nd\r", "x\r\ny\r\n"),
        ("a\nb\nc\r\n", "x\ny\n"),
        ("a", "x\ny\n"),
        ("", "x\ny\n"),
    ],
)
def test_line_ends_and_byte_order_mark_stay(mark: bytes, old: str, new: str, tmp_path: Path) -> None:  # fmt: skip
    """The ends are those that most lines have, or LF."""
    path = tmp_path / "a.lesson"
    path.write_bytes(mark + old.encode())
    rewrite(path, old, "x\ny\n")
    assert path.read_bytes() == mark + new.encode()
