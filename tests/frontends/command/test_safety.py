"""The command and a teacher's files: what was read is not written over, and names are shown, not obeyed."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

import pytest

from fretloom.frontends.command.main import main

Captured = pytest.CaptureFixture[str]

BASE = """lesson "Two cups"
  capo 2
  plays in C
  sounds in D
  meter 4/4

use "shared.lesson"

patterns
  plain  p , p m , p i , p m

section tune  using plain
  C | C
"""
SHARED = "voicings\n  C  x32010  fingers .32.1.  bass 5 4 5 4\n"
EASY = 'lesson "Two cups, easy"\n  based on "base.lesson"\n'
WRITING = [
    ["export", "--to", "tab"],
    ["export", "--to", "musicxml"],
    ["transpose", "--capo", "3"],
    ["ease", "--level", "beginner"],
    ["suggest", "capo"],
    ["suggest", "voicing", "Am", "--lesson"],
]


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Work in a folder with a lesson, the one it is based on, and the file that that one uses."""
    monkeypatch.chdir(tmp_path)
    for name, text in (("base", BASE), ("shared", SHARED), ("easy", EASY)):
        (tmp_path / f"{name}.lesson").write_text(text)
    (tmp_path / "sub").mkdir()
    return tmp_path


def texts(folder: Path) -> dict[str, str]:
    """Return what the lessons of a folder hold."""
    return {one.name: one.read_text() for one in folder.glob("*.lesson") if not one.is_symlink()}


def _names_of(file: Path) -> list[str]:
    link, hard = file.with_name("link"), file.with_name("hard")
    link.symlink_to(file.name)
    os.link(file, hard)
    return [file.name, f"./{file.name}", f"sub/../{file.name}", str(file), str(link), str(hard)]


@pytest.mark.skipif(sys.platform == "win32", reason="about links as POSIX has them")
@pytest.mark.parametrize("command", WRITING, ids=" ".join)
@pytest.mark.parametrize("read", ["easy", "base", "shared"])
def test_what_was_read_is_not_written_over(
    read: str, command: list[str], here: Path, capsys: Captured
) -> None:
    """The lesson itself, the one that it is based on, a file that that one uses, by any name."""
    lesson = "base.lesson" if command[0] == "suggest" and read != "easy" else "easy.lesson"
    lesson = "base.lesson" if command[0] == "suggest" else lesson
    if command[0] == "suggest" and read == "easy":
        pytest.skip("a lesson that is based on another gets no capo suggested")
    before = texts(here)
    for name in _names_of(here / f"{read}.lesson"):
        assert main([*command, lesson, "-o", name]) == 2
        err = capsys.readouterr().err
        assert f"{name} is the same file as" in err or "it is not possible" in err
        assert texts(here) == before


def test_an_output_folder_is_refused_where_the_file_in_it_was_read(here: Path, capsys: Captured) -> None:  # fmt: skip
    """The export would be called like a file that the lesson was made from, by a link."""
    (here / "sub" / "easy.txt").symlink_to("../shared.lesson")
    assert main(["export", "easy.lesson", "--to", "tab", "-o", "sub"]) == 2
    assert "sub/easy.txt is the same file as shared.lesson" in capsys.readouterr().err
    assert (here / "shared.lesson").read_text() == SHARED


@pytest.mark.usefixtures("here")
@pytest.mark.parametrize("command", WRITING, ids=" ".join)
def test_a_dash_is_standard_output(command: list[str], here: Path, capfd: Captured) -> None:
    """The same as without `-o` (where that prints the lesson), and no file of that name."""
    assert main([*command, "base.lesson", "-o", "-"]) == 0
    written = capfd.readouterr().out
    assert "Two cups" in written
    assert not (here / "-").exists()
    if command[0] != "suggest":
        assert main([*command, "base.lesson"]) == 0
        assert capfd.readouterr().out == written


@pytest.mark.usefixtures("here")
@pytest.mark.parametrize("command", WRITING, ids=" ".join)
def test_an_empty_output_is_no_file(command: list[str], capsys: Captured) -> None:
    """A variable in a script may be empty."""
    assert main([*command, "base.lesson", "-o", ""]) == 2
    assert "cannot be the name of a file" in capsys.readouterr().err


@pytest.mark.parametrize("easy", ["", "  sounds in Eb\n  capo 3\n"])
@pytest.mark.parametrize("capo", [0, 1, 4])
def test_a_lesson_based_on_another_is_right_with_another_capo(capo: int, easy: str, here: Path) -> None:  # fmt: skip
    """The sounding key may be said in the other one: what is written is checked without a finding."""
    (here / "easy.lesson").write_text(EASY + easy)
    assert main(["transpose", "easy.lesson", "--capo", str(capo), "-o", "new.lesson"]) == 0
    assert main(["check", "--strict", "new.lesson"]) == 0
    assert f"capo {capo}" in (here / "new.lesson").read_text()


ODD_NAMES = [
    "::add-mask::pwn", "##[error]pwn", " ::error::pwn", "\x1b[31mred", "two\nlines", "two\r::error::x",
    "\u202elesson", "a\u2028::error::b", "\x07bell", "a\x85b", "\udce9t\udce9", "\u200b", "é", "שלום",
]  # fmt: skip


@pytest.mark.skipif(sys.platform != "linux", reason="other systems refuse most of these names")
@pytest.mark.parametrize("name", ODD_NAMES, ids=ascii)
def test_names_are_shown_and_not_obeyed(name: str, here: Path, capfd: Captured) -> None:
    """In whatever a command says of a file: that it is missing, faulty, written, not in canonical form."""
    file, gone, out = f"{name}.lesson", f"{name}.gone", f"{name}.txt"
    (here / file).write_text(BASE)
    faulty = f"{name}-faulty.lesson"
    (here / faulty).write_text(BASE.replace("p m , p i", "p m"))
    for arguments in (
        *(["check", "--format", form, file, faulty, gone, "."] for form in ("text", "github", "json")),
        *(["format", "--check", file, faulty, gone], ["format", file], ["explain", name]),
        *(["export", file, "--to", "tab", "-o", out], ["export", gone, "--to", "tab"]),
        *(["export", faulty, "--to", "tab"], ["export", file, "--to", name]),
        *(["check", file, "--root", name], ["check", file, "--jobs", name], [name], ["--" + name]),
        *(["suggest", "voicing", name], ["transpose", file, "--plays", name], ["hands", faulty]),
        *(["export", file, "--to", "tab", "-o", f"{name}/x"], ["sounds", faulty, "--format", "json"]),
        *(["check", f"{name}-empty"], ["check", file, f"--{name}"], ["export", file, "--width", name]),
    ):  # fmt: skip
        (here / f"{name}-empty").mkdir(exist_ok=True)
        try:
            main(arguments)
        except SystemExit as stop:
            assert stop.code == 2
        out_text, err = capfd.readouterr()
        for line in (out_text + err).split("\n"):
            assert line.isprintable() or not set(line) & set("\x1b\x07\x85\u202e\u2028\u200b\r")
            if "github" not in arguments:
                assert not line.lstrip().startswith(("::", "##["))
            else:
                assert not line.lstrip().startswith(("::add-mask", "##[", "::error::"))


@pytest.mark.skipif(sys.platform != "linux", reason="other systems refuse most of these names")
def test_json_names_a_file_as_it_is_called(here: Path, capsys: Captured) -> None:
    """A program can open it: nothing is replaced, nothing is seen that steers a terminal."""
    for name in ("\udce9.lesson", "\x1b[31m\u202e.lesson"):
        (here / name).write_text("x\n")
        assert main(["check", name, "--format", "json"]) == 1
        written = capsys.readouterr().out
        assert written.isascii()
        assert json.loads(written)["findings"][0]["file"] == name
        assert Path(json.loads(written)["findings"][0]["file"]).exists()


ENDS = {"LF": b"\n", "CRLF": b"\r\n", "CR": b"\r"}


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["bare", "marked"])
@pytest.mark.parametrize("end", list(ENDS))
def test_format_keeps_line_ends_and_mark(end: str, mark: bytes, here: Path) -> None:
    """What is in canonical form but for them is, and stays as it is, byte for byte."""
    file = here / "base.lesson"
    canonical = mark + BASE.encode().replace(b"\n", ENDS[end])
    for spoilt in (canonical, canonical.replace(b"  capo", b" capo"), canonical[: -len(ENDS[end])]):
        file.write_bytes(spoilt)
        assert main(["format", "--check", "base.lesson"]) == (spoilt != canonical)
        assert main(["format", "base.lesson"]) == 0
        assert file.read_bytes() == canonical
        assert main(["format", "--check", "base.lesson"]) == 0


def test_format_gives_mixed_lines_the_ends_of_most(here: Path) -> None:
    """And then they are not mixed any more."""
    file = here / "shared.lesson"
    file.write_bytes(b"voicings\r\n  C  x32010\r\n  E  022100\n")
    assert main(["format", "--check", "shared.lesson"]) == 1
    assert main(["format", "shared.lesson"]) == 0
    assert file.read_bytes() == b"voicings\r\n  C  x32010\r\n  E  022100\r\n"


def test_format_takes_folders(here: Path, capsys: Captured) -> None:
    """As `check` does: what lies in folders inside it too, hidden ones passed over."""
    for name in ("sub/deep.lesson", ".hidden/x.lesson"):
        (here / name).parent.mkdir(exist_ok=True)
        (here / name).write_text("voicings\n C x32010\n")
    assert main(["format", "--check", "."]) == 1
    assert capsys.readouterr().out == "sub/deep.lesson is not in canonical form\n"
    assert main(["format", "."]) == 0
    assert (here / "sub" / "deep.lesson").read_text() == "voicings\n  C  x32010\n"
    assert (here / ".hidden" / "x.lesson").read_text() == "voicings\n C x32010\n"
    assert main(["format", "--check", ".", "gone.lesson"]) == 2
    assert main(["format", "."]) == 0
    (here / "empty").mkdir()
    assert main(["format", "empty"]) == 2


def test_format_goes_on_after_a_file_that_it_may_not_write(here: Path, capsys: Captured) -> None:
    """The others are rewritten, and it says which was not."""
    for name in ("a", "b"):
        (here / f"{name}.lesson").write_text("voicings\n C x32010\n")
    (here / "a.lesson").chmod(0o444)
    assert main(["format", "a.lesson", "b.lesson"]) == 2
    out, err = capsys.readouterr()
    assert (out, err.startswith("fretloom: a.lesson is write-protected")) == ("b.lesson rewritten\n", True)  # fmt: skip
    assert (here / "a.lesson").read_text() == "voicings\n C x32010\n"


@pytest.mark.parametrize("loss", ["comment", "music", "order"])
def test_format_leaves_a_file_that_it_would_harm(
    loss: str, here: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever is wrong with the formatter: the file stays, and one message says so."""
    from fretloom.notation import rereading

    text = "voicings\n C x32010  # one\n E 022100  # two\n"
    (here / "a.lesson").write_text(text)
    harmed = {
        "comment": "voicings\n  C  x32010\n  E  022100  # two\n",
        "music": "voicings\n  C  x32010  # one\n  E  022130  # two\n",
        "order": "voicings\n  C  x32010  # two\n  E  022100  # one\n",
    }
    monkeypatch.setattr(rereading, "format_lesson", lambda _: harmed[loss])
    for arguments in (["format", "--check", "a.lesson"], ["format", "a.lesson"]):
        assert main(arguments) == 1
        out, err = capsys.readouterr()
        assert out == ""
        assert err.startswith("fretloom: a.lesson stays as it is: formatting it would ")
        assert len(err.splitlines()) == 1
    assert (here / "a.lesson").read_text() == text


def test_an_edit_saved_while_format_works_is_not_lost(
    here: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An editor saves between reading and writing."""
    from fretloom.api import soundness

    file = here / "a.lesson"
    file.write_text("voicings\n C x32010\n")
    dumps = soundness.dumps

    def saved(lesson):  # type: ignore[no-untyped-def]
        file.write_text("voicings\n C x32010\n E 022100\n")
        return dumps(lesson)

    monkeypatch.setattr(soundness, "dumps", saved)
    assert main(["format", "a.lesson"]) == 2
    assert "a.lesson was changed while fretloom was at work" in capsys.readouterr().err
    assert file.read_text() == "voicings\n C x32010\n E 022100\n"


COMMANDS = [
    ["check"], ["export", "--to", "tab"], ["sounds"], ["hands"], ["transpose", "--capo", "1"],
    ["suggest", "capo"], ["suggest", "voicing", "C", "--lesson"],
]  # fmt: skip


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
@pytest.mark.parametrize("root", ["nope", "", "base.lesson"])
def test_a_root_that_is_no_folder_is_refused(root: str, command: list[str], here: Path, capsys: Captured) -> None:  # fmt: skip
    """By every command, with one message."""
    assert here
    assert main([*command, "base.lesson", "--root", root]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("fretloom: --root")
    assert len(err.splitlines()) == 1


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
@pytest.mark.parametrize("inside", [True, False])
def test_the_root_is_the_same_for_every_command(
    inside: bool, command: list[str], here: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    """The folder one is in, if the lesson lies in it, else the lesson's own; the message says which."""
    lesson = here / "term" / "base.lesson"
    lesson.parent.mkdir()
    lesson.write_text(BASE.replace("shared", "../shared"))
    monkeypatch.chdir(here if inside else here / "sub")
    name = "term/base.lesson" if inside else "../term/base.lesson"
    assert (main([*command, name]) != 0) == (not inside)
    if command == ["check"]:
        assert (main(["check", str(Path(name).parent)]) != 0) == (not inside)
    out, err = capsys.readouterr()
    said = "lies outside the collection (the folder term, where base.lesson lies)"
    assert (said in out + err) == (not inside)
    assert main([*command, name, "--root", str(here)]) == 0
