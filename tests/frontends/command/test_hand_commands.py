"""`fretloom hands` and `fretloom suggest`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from fretloom.frontends.command.main import main

LESSON = """lesson "Two cups"
  plays in C
  tempo 80

voicings
  C  x32010  fingers .32.1.
  F  133211  fingers 134211

patterns
  plain  p , p m , p i , p m

section tune  using plain
  C | F | C | F
"""


@pytest.fixture
def path(tmp_path: Path) -> str:
    """A lesson in a file."""
    place = tmp_path / "cups.lesson"
    place.write_text(LESSON, "utf-8")
    return str(place)


def test_report_puts_the_hardest_first(path: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Changes and voicings come hardest first, with what each finger does and a caution."""
    assert main(["hands", path]) == 0
    assert (
        capsys.readouterr().out
        == """Two cups
  scale 647.7 mm, an average hand, intermediate

Changes, hardest first (1 easy to 5 hard)
  4  C to F  (twice)
       3 stays, 1 lies down to a barre, 2 moves, 4 is put down
       takes about 1.09 s; tightest: finger 1, 0.39 s of 0.38 s, so the note before is cut short
  2  F to C  (once)
       1 and 3 stay, 2 moves, 4 lifts
       takes about 0.56 s; tightest: the hand, 0.56 s of 2.10 s

Voicings, hardest first (1 easy to 5 hard)
  5  F  133211  134211  (2 bars)
       finger 1 bars 6 strings
       another way: fingers 143211
  2  C  x32010  .32.1.  (2 bars)

Figures are estimates for a hand of this size, not a verdict on a person. Warm up first. Rest
before the hand tires, stop if it hurts; ask a teacher or clinician.
"""
    )


def test_report_as_json(path: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The same for programs."""
    assert main(["hands", path, "--format", "json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert [(one["from"], one["to"], one["difficulty"]) for one in found["changes"]] == [
        ("C", "F", 4),
        ("F", "C", 2),
    ]
    assert found["voicings"][0]["barres"] == {"1": 6}


def test_suggested_voicings_are_lines_of_a_lesson(capsys: pytest.CaptureFixture[str]) -> None:
    """Each line can be put into a `voicings` block as it is."""
    from fretloom.api import check, loads

    assert main(["suggest", "voicing", "F#m7b5", "--most", "3"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("F#m7b5")
    assert len(lines) == 4
    for line in lines[1:]:
        errors = [
            one for one in check(loads(f"voicings\n{line}\n")) if one.severity.value == "error"
        ]
        assert errors == []


def test_a_chord_that_cannot_be_read(capsys: pytest.CaptureFixture[str]) -> None:
    """The command says so and ends with 2."""
    assert main(["suggest", "voicing", "Hmm"]) == 2
    assert "Hmm" in capsys.readouterr().err


def test_suggested_capos(path: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The lesson as it is stands among the choices."""
    assert main(["suggest", "capo", path]) == 0
    out = capsys.readouterr().out
    assert out.startswith("Sounding in C, easiest first")
    assert "(as the lesson is)" in out
    assert main(["suggest", "capo", path, "--format", "json"]) == 0
    assert len(json.loads(capsys.readouterr().out)["choices"]) == 8


def test_a_suggested_voicing_is_written_into_a_new_lesson(path: str, tmp_path: Path) -> None:
    """With -o the lesson has it, in place of its own of that name or beside the others."""
    out = tmp_path / "new.lesson"
    before = Path(path).read_text("utf-8")
    for chord, number, frets in (("Am", "1", "x02210"), ("F", "2", "xx3211")):
        words = ["suggest", "voicing", chord, "--lesson", path, "--number", number]
        assert main([*words, "-o", str(out)]) == 0
        lines = [line.split() for line in out.read_text("utf-8").splitlines()]
        assert [line[1] for line in lines if line[:1] == [chord]] == [frets]
    assert Path(path).read_text("utf-8") == before
    assert main(["check", str(out)]) == 0


def test_suggested_voicings_are_written_into_a_file_of_voicings(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Without a lesson it holds all of them, each under a name of its own, for others to `use`."""
    out = tmp_path / "bm.lesson"
    assert main(["suggest", "voicing", "Bm", "--most", "3", "-o", str(out)]) == 0
    names = [line.split()[0] for line in out.read_text("utf-8").splitlines()[1:]]
    assert names == ["Bm", "Bm.shape-2", "Bm.shape-3"]
    assert main(["check", str(out)]) == 0
    assert main(["suggest", "voicing", "Bm", "--most", "3", "--number", "4", "-o", str(out)]) == 2
    assert "there is no suggestion 4 for Bm" in capsys.readouterr().err


def test_capos_for_open_shapes_only(path: str, capsys: pytest.CaptureFixture[str]) -> None:
    """And none above the fret that is named; beyond what a neck has is refused."""
    assert main(["suggest", "capo", path, "--open", "--highest", "5", "--format", "json"]) == 0
    choices = json.loads(capsys.readouterr().out)["choices"]
    assert choices
    for one in choices:
        assert one["capo"] <= 5
        assert all("0" in voicing["frets"] for voicing in one["voicings"])
    assert main(["suggest", "capo", path, "--highest", "12"]) == 2
    assert "at fret 9 at most" in capsys.readouterr().err


def test_the_lesson_written_anew(path: str, tmp_path: Path) -> None:
    """With -o the lesson is written with the capo named, and has no errors."""
    out = tmp_path / "new.lesson"
    assert main(["suggest", "capo", path, "--capo", "5", "-o", str(out)]) == 0
    assert "capo 5" in out.read_text("utf-8")
    assert main(["check", str(out)]) == 0
