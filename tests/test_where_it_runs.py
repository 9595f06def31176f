"""The core runs where there is little: no disk, no threads, no processes, in a zip file, as a module."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import core_program
import places
import pytest

pytestmark = pytest.mark.process

#: What a page or a small system lacks, or what only brings such things in. Nothing for tests, nothing for building.
NOT_NEEDED = {
    "_multiprocessing", "_socket", "_ssl", "asyncio", "bz2", "concurrent", "ctypes", "email", "lark", "lxml", "lzma",
    "multiprocessing", "shutil", "socket", "ssl", "subprocess", "tempfile", "xml", "zipfile",
}  # fmt: skip


def _same(done: subprocess.CompletedProcess[str]) -> bool:
    assert done.stderr == ""
    return done.stdout == core_program.expected()


def test_the_core_imports_nothing_of_the_kind(tmp_path: Path) -> None:
    """Loading from text, checking, expanding, tab, JSON and MusicXML."""
    shown = "import sys\nprint(*sys.modules, sep='\\n')"
    done = core_program.run(core_program.PROGRAM + shown, tmp_path)
    assert done.returncode == 0, done.stderr
    assert "fretloom.formats.xml" in done.stdout
    imported = {name.partition(".")[0] for name in done.stdout.split("\n")[1:]}
    before = core_program.run(shown, tmp_path).stdout.split("\n")
    assert (imported - {name.partition(".")[0] for name in before}) & NOT_NEEDED == set()


def test_nor_can_it_be_had(tmp_path: Path) -> None:
    """With those modules missing, no thread to be started and no file to be opened, all of it runs."""
    without = f"""\
import sys
for name in {sorted(NOT_NEEDED)!r}:
    sys.modules[name] = None
import _thread, builtins, io, os, threading
import attrs, wcwidth
def refuse(*_, **__):
    raise PermissionError("not here")
_thread.start_new_thread = threading._start_new_thread = threading.Thread.start = refuse
def look(event, given):
    # Python's own modules and ours are read, nothing is written.
    if event == "open" and given[2] & (os.O_WRONLY | os.O_RDWR | os.O_CREAT):
        refuse()
    if event in ("os.mkdir", "os.rename", "os.fork", "os.posix_spawn", "subprocess.Popen", "socket.__new__"):
        refuse()
sys.dont_write_bytecode = True
sys.addaudithook(look)
"""
    assert _same(core_program.run(without + core_program.PROGRAM, tmp_path))


def test_a_python_that_takes_no_renamed_arguments(tmp_path: Path) -> None:
    """attrs makes all classes then, and they do the same."""
    without = """\
from fretloom import values
def refuse(*_):
    raise ValueError("not here")
values._init = refuse
"""
    shown = "from fretloom.source import Span\nassert type(Span) is type, 'ours'\n"
    assert _same(core_program.run(without + core_program.PROGRAM + shown, tmp_path))


def test_a_folder_that_may_not_be_written_and_no_home(tmp_path: Path) -> None:
    """As for a service that runs as nobody."""
    folder = tmp_path / "locked"
    folder.mkdir(mode=0o555)
    assert _same(core_program.run(core_program.PROGRAM, folder, HOME="/nowhere", TMPDIR="/nowhere"))
    assert list(folder.iterdir()) == []


@pytest.mark.parametrize("with_grammar", [True, False])
def test_the_package_in_a_zip_file(tmp_path: Path, with_grammar: bool) -> None:
    """As wheels are, with the grammar in the package; a zip file of the sources alone has none."""
    archive = tmp_path / "packed.zip"
    with zipfile.ZipFile(archive, "w") as packed:
        for file in places.SOURCE.rglob("*"):
            if file.is_file() and "__pycache__" not in file.parts:
                packed.write(file, f"fretloom/{file.relative_to(places.SOURCE)}")
        if with_grammar:
            packed.write(places.PROJECT / "grammar" / "fretloom.lark", "fretloom/fretloom.lark")
    assert _same(core_program.run(core_program.PROGRAM, tmp_path, archive))
    place = f"import fretloom; print(fretloom.__file__.startswith({str(archive)!r}))"
    assert core_program.run(place, tmp_path, archive).stdout == "True\n"
    read = (
        "from fretloom.api import explain; print(explain('pattern-beats'))\n"
        "from fretloom.notation.syntax.parsing import tables; print(tables.kept_lines() is None)"
    )
    done = core_program.run(read, tmp_path, archive)
    assert done.stdout.startswith("pattern-beats\n=====")
    assert done.stdout.endswith("\nFalse\n")


def test_python_m_is_the_command(tmp_path: Path) -> None:
    """By the same name, with the same exit codes."""
    (tmp_path / "tune.lesson").write_text(core_program.LESSON, encoding="utf-8")
    for arguments, code in (("--help", 0), ("check tune.lesson", 0), ("check none.lesson", 2)):
        lines = []
        for module in ("fretloom", "fretloom.frontends.command.main"):
            done = subprocess.run(
                [sys.executable, "-m", module, *arguments.split()],
                capture_output=True, text=True, cwd=tmp_path, check=False,
            )  # fmt: skip
            assert done.returncode == code
            lines.append((done.stdout, done.stderr))
        assert lines[0] == lines[1]
        assert "__main__" not in str(lines[0])
    assert (done.stdout, done.stderr) == ("", "fretloom: there is no file none.lesson\n")
