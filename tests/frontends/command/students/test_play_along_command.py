"""`fretloom play-along`, and what it says of what cannot be."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from pathlib import Path

import pytest
from places import EXAMPLES

import fretloom
from fretloom.frontends.command.main import main

LESSON = str(EXAMPLES / "kiln-lane-shuffle.lesson")


def said(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, list[str]]:
    code = main(["play-along", *words])
    out, err = capsys.readouterr()
    assert out == ""
    return code, err.splitlines()


def test_it_writes_what_was_chosen_counted_in(tmp_path: Path, capsys) -> None:
    folder = tmp_path / "sound"
    code, lines = said(capsys, LESSON, "-o", str(folder), "--bars", "1", "--to", "wav")
    assert code == 0
    assert lines[-1] == "fretloom: start with the volume low: loud sound can hurt hearing"
    counted = (folder / "kiln-lane-shuffle.1.wav").stat().st_size
    said(capsys, LESSON, "-o", str(folder), "--bars", "1", "--to", "wav", "--without-count-in")
    bar = 4 * 60 / 96 * 44100 * 4
    assert abs(counted - (folder / "kiln-lane-shuffle.1.wav").stat().st_size - bar) < 8


def test_a_value_is_refused_as_it_was_typed(tmp_path: Path, capsys) -> None:
    code, lines = said(capsys, LESSON, "-o", str(tmp_path / "x"), "--tempos", "5")
    assert (code, lines) == (
        2,
        ["fretloom: --tempos is whole numbers from 10 to 400, with commas between them, not 5"],
    )
    assert not (tmp_path / "x").exists()


def test_what_the_lesson_does_not_have_is_said_and_nothing_written(tmp_path: Path, capsys) -> None:
    code, lines = said(capsys, LESSON, "-o", str(tmp_path / "x"), "--step", "77")
    assert code == 2 and lines[0].startswith(
        "fretloom: there is no step 77: the steps of practice are 1,"
    )
    assert not (tmp_path / "x").exists()


def test_a_file_is_no_folder(tmp_path: Path, capsys) -> None:
    there = tmp_path / "there"
    there.write_text("mine")
    code, lines = said(capsys, LESSON, "-o", str(there))
    assert (code, lines) == (2, [f"fretloom: -o {there} is not a folder"])
    assert there.read_text() == "mine"


def test_several_files_do_not_go_to_the_terminal(capsys) -> None:
    code, lines = said(capsys, LESSON, "-o", "-")
    assert (code, lines) == (2, ["fretloom: this makes several files: name a folder with -o"])


@pytest.mark.skipif(not hasattr(signal, "SIGTERM"), reason="no such signal here")
def test_a_process_that_is_asked_to_end_leaves_no_file_half_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys
) -> None:
    before = signal.getsignal(signal.SIGTERM)

    def pieces() -> Iterator[bytes]:
        yield b"RIFF"
        signal.raise_signal(signal.SIGTERM)
        yield b"more"

    monkeypatch.setattr(
        "fretloom.api.play_along", lambda *_, **__: iter([fretloom.Output("a.wav", pieces())])
    )
    code, lines = said(capsys, LESSON, "-o", str(tmp_path))
    assert (code, lines) == (130, ["fretloom: interrupted"])
    assert list(tmp_path.iterdir()) == []
    assert signal.getsignal(signal.SIGTERM) is before


def test_a_lesson_with_errors_is_refused(tmp_path: Path, capsys) -> None:
    lesson = tmp_path / "wrong.lesson"
    lesson.write_text(
        Path(LESSON).read_text().replace("section verse", "section verse using nothing", 1)
    )
    code, lines = said(capsys, str(lesson), "-o", str(tmp_path / "x"))
    assert code == 1 and "so there is nothing to play along with yet" in lines[-1]
    assert not (tmp_path / "x").exists()
