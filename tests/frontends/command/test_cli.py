"""The command: what goes where, and with which exit code."""

from __future__ import annotations

import io
import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from fretloom.api import Output
from fretloom.frontends.command.main import main
from fretloom.frontends.command.terminal import put
from fretloom.version import VERSION

GOOD = """lesson "Two cups"
  meter 4/4

voicings
  C  x32010  fingers .32.1.  bass 5 4 5 4

patterns
  plain  p , p m , p i , p m

section tune  using plain
  C | C
"""
UNUSED = GOOD.replace("\nsection", "  slow   p , m , p , i\n\nsection")
FAULTY = GOOD.replace("p i , p m", "p i")


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Work in a folder with one good, one doubtful and one faulty lesson."""
    monkeypatch.chdir(tmp_path)
    for name, text in (("good", GOOD), ("unused", UNUSED), ("faulty", FAULTY)):
        (tmp_path / f"{name}.lesson").write_text(text)
    return tmp_path


Captured = pytest.CaptureFixture[str]


@pytest.mark.usefixtures("here")
@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (["good.lesson"], 0),
        (["good.lesson", "--strict"], 0),
        (["unused.lesson"], 0),
        (["unused.lesson", "--strict"], 1),
        (["faulty.lesson"], 1),
        (["gone.lesson"], 2),
        (["."], 1),
        (["faulty.lesson", "gone.lesson"], 2),
    ],
)
def test_exit_codes_of_check(arguments: list[str], code: int) -> None:
    """0 without errors, 1 with errors (and warnings, if strict), 2 if a file could not be read."""
    assert main(["check", *arguments]) == code


@pytest.mark.usefixtures("here")
def test_findings_go_to_stdout_and_troubles_to_stderr(capsys: Captured) -> None:
    """What was found is the result; what could not be done is a message."""
    main(["check", "faulty.lesson", "gone.lesson"])
    out, err = capsys.readouterr()
    assert out.startswith("faulty.lesson:8:")
    assert "[pattern-beats]" in out
    assert out.endswith("1 error in 1 file\n")
    assert err == "fretloom: there is no file gone.lesson\n"


@pytest.mark.usefixtures("here")
def test_folder_is_checked_in_order_without_hidden_or_outer_files(
    here: Path, capsys: Captured, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Lessons below a folder are found in order; hidden folders and links out of it are not."""
    outside = tmp_path_factory.mktemp("outside") / "x.lesson"
    outside.write_text("secret\n")
    (here / "aaa.lesson").symlink_to(outside)
    (here / ".git").mkdir()
    (here / ".git" / "z.lesson").write_text("z\n")
    (here / "sub").mkdir()
    (here / "sub" / "also.lesson").write_text(FAULTY)
    main(["check", "."])
    out = capsys.readouterr().out
    assert "secret" not in out
    assert out.index("faulty.lesson:") < out.index("unused.lesson:") < out.index("sub/also.lesson:")
    assert out.endswith("in 4 files\n")


@pytest.mark.usefixtures("here")
def test_json_report(capsys: Captured) -> None:
    """JSON is one document, with the files that could not be read."""
    assert main(["check", ".", "gone.lesson", "--format", "json"]) == 2
    report = json.loads(capsys.readouterr().out)
    assert report["files"] == 3
    assert {one["rule"] for one in report["findings"]} == {"pattern-beats", "unused-pattern"}
    assert [one["file"] for one in report["unreadable"]] == ["gone.lesson"]


@pytest.mark.usefixtures("here")
def test_github_report(capsys: Captured) -> None:
    """Annotations are one line each and nothing else."""
    main(["check", ".", "--format", "github"])
    lines = capsys.readouterr().out.splitlines()
    assert [line.split(" ")[0] for line in lines] == ["::error", "::warning"]


@pytest.mark.parametrize("jobs", ["1", "2", "3"])
def test_processes_change_nothing(jobs: str, here: Path, capsys: Captured) -> None:
    """Many files give the same report however many processes share them."""
    for number in range(30):
        (here / f"n{number:02}.lesson").write_text(FAULTY if number % 3 else GOOD)
    assert main(["check", ".", "--jobs", jobs]) == 1
    out = capsys.readouterr().out
    assert out.endswith("21 errors, 1 warning in 33 files\n")
    assert out.index("n01.lesson") < out.index("n02.lesson") < out.index("n29.lesson")


def test_fault_of_a_shared_file_is_reported_once(tmp_path: Path, capsys: Captured) -> None:
    """What several lessons meet in a file they all use is one fault."""
    shared = "voicings\n  C7  like G7  lift 4\n  G7  like C7  lift 4\n"
    (tmp_path / "shared.lesson").write_text(shared)
    text = GOOD.replace("\nvoicings", '\nuse "shared.lesson"\n\nvoicings').replace("| C", "| C7")
    for name in ("one", "two"):
        (tmp_path / f"{name}.lesson").write_text(text)
    assert main(["check", str(tmp_path)]) == 1
    out = capsys.readouterr().out
    assert out.count("[like-cycle]") == 1
    assert out.endswith("1 error in 3 files\n")


def test_folder_without_lessons(tmp_path: Path, capsys: Captured) -> None:
    """Nothing to check is not a success."""
    assert main(["check", str(tmp_path)]) == 2
    assert "no .lesson files" in capsys.readouterr().err


@pytest.mark.usefixtures("here")
def test_export_to_stdout_and_to_a_file(here: Path, capsys: Captured) -> None:
    """The result goes to stdout or to the file; what is said about it to stderr."""
    assert main(["export", "good.lesson", "--to", "json"]) == 0
    written = capsys.readouterr().out
    assert json.loads(written)["title"] == "Two cups"
    assert main(["export", "good.lesson", "-o", "out.json"]) == 0
    out, err = capsys.readouterr()
    assert (out, err) == ("", "wrote out.json\n")
    assert (here / "out.json").read_text() == written


def test_export_of_a_faulty_lesson_is_refused(here: Path, capsys: Captured) -> None:
    """A lesson with errors is not exported, and the errors are reported."""
    assert main(["export", "faulty.lesson", "--to", "json", "-o", "out.json"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert "[pattern-beats]" in err
    assert "nothing was exported" in err
    assert not (here / "out.json").exists()


def test_export_despite_errors_that_leave_the_music_clear(here: Path, capsys: Captured) -> None:
    """An error that leaves no doubt about the music may be passed over, but it is reported."""
    text = GOOD.replace("section tune", "section tune 9 bars")
    (here / "long.lesson").write_text(text)
    assert main(["export", "long.lesson", "--to", "json"]) == 1
    capsys.readouterr()
    assert main(["export", "long.lesson", "--to", "json", "--despite-errors"]) == 0
    out, err = capsys.readouterr()
    assert json.loads(out)["notes"]
    assert "[section-length]" in err
    assert main(["export", "faulty.lesson", "--to", "json", "--despite-errors"]) == 1


def test_an_export_refused_for_a_name_says_how_to_go_on(here: Path, capsys: Captured) -> None:
    """A wrong name leaves no doubt about the music: a comment with a reason allows it, or an option."""
    text = GOOD.replace("  C  x", "  Am7  x").replace("C | C", "Am7 | Am7")
    (here / "named.lesson").write_text(text)
    assert main(["export", "named.lesson", "--to", "json"]) == 1
    said = capsys.readouterr().err
    assert "# allow name-does-not-sound: ..." in said
    assert "--despite-errors" in said
    assert main(["export", "named.lesson", "--to", "json", "--despite-errors"]) == 0


@pytest.mark.usefixtures("here")
def test_export_needs_a_format(capsys: Captured) -> None:
    """Without --to the ending of the file must show the format."""
    assert main(["export", "good.lesson", "-o", "out.doc"]) == 2
    assert "--to tab" in capsys.readouterr().err


@pytest.mark.usefixtures("here")
def test_export_takes_the_options_of_the_format(capsys: Captured) -> None:
    """What the library's formats take stands on the command line under the same names."""
    assert main(["export", "good.lesson", "--to", "musicxml", "--layout", "tab", "--concert"]) == 0
    assert "<sign>TAB</sign>" in (score := capsys.readouterr().out)
    assert "<sign>G</sign>" not in score
    assert main(["export", "good.lesson", "--to", "tab", "--width", "40", "--unrolled"]) == 0
    tab = capsys.readouterr().out
    assert "string 6 to string 1:\n         E2" in tab
    assert "Order" not in tab


@pytest.mark.usefixtures("here")
@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (["tab", "--width", "39"], "--width is a whole number from 40 to 10000, not 39"),
        (["tab", "--width", "-5"], "--width is a whole number from 40 to 10000, not -5"),
        (["tab", "--width", "wide"], "--width is a whole number from 40 to 10000, not 'wide'"),
        (["musicxml", "--layout", "sideways"], "layout is one of notation-and-tab, two-parts"),
        (["mxl", "--encoding-date", "today"], "--encoding-date is a day written YYYY-MM-DD"),
        (["json", "--width", "60"], "json does not take --width: it is for tab, shapes-text"),
    ],
)
def test_export_refuses_a_wrong_option(typed: list[str], said: str, capsys: Captured) -> None:
    """The library's sentence, exit code 2, and nothing written."""
    assert main(["export", "good.lesson", "--to", *typed]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err


def test_export_into_a_folder(here: Path, capsys: Captured) -> None:
    """A file in a folder is called like the lesson."""
    (here / "out").mkdir()
    assert main(["export", "good.lesson", "--to", "tab", "-o", "out"]) == 0
    assert capsys.readouterr().err == f"wrote {Path('out', 'good.txt')}\n"
    assert (here / "out" / "good.txt").read_text().startswith("Two cups\n")


def test_export_says_what_is_left_out(here: Path, capsys: Captured) -> None:
    """Each thing once, with its place, on stderr."""
    text = GOOD.replace("  C  x32010", "  steps  x32010").replace("C | C", "steps | steps")
    (here / "steps.lesson").write_text(text)
    assert main(["export", "steps.lesson", "-o", "steps.musicxml"]) == 0
    left_out = (
        "fretloom: left out: the diagram of steps, which is not a chord symbol, in bar 1 (tune)\n"
    )
    assert capsys.readouterr().err == f"wrote steps.musicxml\n{left_out}"
    assert main(["export", "steps.lesson", "-o", "none/steps.musicxml"]) == 2
    assert "left out" not in capsys.readouterr().err


def test_export_names_the_pages_that_an_earlier_one_left(
    here: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    """They are no longer of this lesson; nothing is removed, since nobody knows whose they are."""

    def files(*names: str) -> None:
        made = tuple(Output(name, "page") for name in names)
        monkeypatch.setattr("fretloom.api.export", lambda *_, **__: made)

    def others() -> str:
        assert main(["export", "good.lesson", "--to", "tab", "-o", "."]) == 0
        said = [line for line in capsys.readouterr().err.splitlines() if "folder" in line]
        return said[0].partition(" in the same folder")[0] if said else ""

    files("good-1.svg", "good-2.svg", "good-3.svg", "good-4.svg")
    assert others() == ""
    files("good-1.svg", "good-2.svg")
    assert others() == "fretloom: good-3.svg and good-4.svg"
    files("good.svg")
    assert others() == "fretloom: good-1.svg, good-2.svg, good-3.svg and good-4.svg"
    files("good-1.svg", "good-2.svg", "good-3.svg")
    assert others() == "fretloom: good.svg and good-4.svg"
    assert (here / "good-4.svg").exists()
    (here / "tune-1.svg").touch()
    files("tune.svg")
    assert others() == ""
    (here / "a-3.svg").touch()
    files("a.svg", "b.svg")
    assert others() == ""


def test_a_folder_that_is_not_there_is_not_made_a_file(here: Path, capsys: Captured) -> None:
    """A stroke at the end says that a folder is meant."""
    assert main(["export", "good.lesson", "--to", "tab", "-o", "none/"]) == 2
    assert "there is no folder none/: make it first" in capsys.readouterr().err
    assert not (here / "none").exists()


@pytest.mark.usefixtures("here")
def test_the_longest_ending_says_the_format(here: Path) -> None:
    """`.shapes.txt` is no tab."""
    assert main(["export", "good.lesson", "-o", "good.shapes.txt"]) == 0
    assert "The nut or the capo is on top" in (here / "good.shapes.txt").read_text(encoding="utf-8")


@pytest.mark.usefixtures("here")
def test_export_of_several_files_needs_a_folder(
    here: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    """Outputs in pieces are joined as they are written, each under its own name."""
    several = (Output("a.txt", iter(["Ta", "tü"])), Output("b.bin", iter([b"\0", b"1"])))
    monkeypatch.setattr("fretloom.api.export", lambda *_, **__: several)
    assert main(["export", "good.lesson", "--to", "tab", "-o", "out.txt"]) == 2
    several_files = "this makes 2 files: name a folder that exists with -o"
    assert f"{several_files}; out.txt is none\n" in capsys.readouterr().err
    assert main(["export", "good.lesson", "--to", "tab"]) == 2
    assert f"{several_files}\n" in capsys.readouterr().err
    assert main(["export", "good.lesson", "--to", "tab", "-o", "."]) == 0
    assert (here / "a.txt").read_text(encoding="utf-8") == "Tatü"
    assert (here / "b.bin").read_bytes() == b"\x001"


def test_pieces_go_to_stdout_as_well(capfd: pytest.CaptureFixture[str]) -> None:
    """What comes in pieces comes out in one."""
    put(iter(["Two ", "cups\n"]), None)
    assert capfd.readouterr().out == "Two cups\n"


@pytest.mark.usefixtures("here")
def test_export_into_a_missing_folder(capsys: Captured) -> None:
    """A place that cannot be written is reported, and nothing is left behind."""
    assert main(["export", "good.lesson", "--to", "json", "-o", "gone/out.json"]) == 2
    assert "there is no folder gone" in capsys.readouterr().err


def test_format_rewrites_and_checks(here: Path, capsys: Captured) -> None:
    """--check names what would change; without it the file is rewritten, once."""
    path = here / "untidy.lesson"
    path.write_text(GOOD.replace("  plain  p , p m", "     plain p, p m"))
    assert main(["format", "--check", "untidy.lesson"]) == 1
    assert "untidy.lesson" in capsys.readouterr().out
    assert main(["format", "untidy.lesson"]) == 0
    assert main(["format", "--check", "untidy.lesson"]) == 0
    assert main(["check", "untidy.lesson", "--strict"]) == 0


def test_format_leaves_what_it_cannot_read(here: Path, capsys: Captured) -> None:
    """A file with lines that were not understood stays as it is."""
    text = GOOD.replace("C | C", "C | C using")
    (here / "broken.lesson").write_text(text)
    assert main(["format", "broken.lesson"]) == 1
    assert (here / "broken.lesson").read_text() == text
    assert "stays as it is" in capsys.readouterr().err


def test_explain(capsys: Captured) -> None:
    """A rule's page, the list of all, and the nearest names of one that is not there."""
    assert main(["explain", "thumb-off-bass"]) == 0
    assert "What it checks" in capsys.readouterr().out
    assert main(["explain"]) == 0
    assert "  pattern-beats" in capsys.readouterr().out
    assert main(["explain", "hands"]) == 0
    assert "\nreach\n  " in capsys.readouterr().out
    assert main(["explain", "patern-beats"]) == 2
    assert "did you mean pattern-beats" in capsys.readouterr().err


def _run(*arguments: str, **options: object) -> subprocess.CompletedProcess[str]:
    environment = os.environ | {"PYTHONIOENCODING": "utf-8"} | options.pop("env", {})  # type: ignore[operator]
    command = [sys.executable, "-m", "fretloom.frontends.command.main", *arguments]
    return subprocess.run(  # type: ignore[call-overload, no-any-return]
        command, capture_output=True, text=True, env=environment, check=False, **options
    )


@pytest.mark.process
def test_wrong_arguments_are_reported_on_stderr() -> None:
    """A command that is none ends with 2."""
    done = _run("chekc")
    assert done.returncode == 2
    assert done.stdout == ""


@pytest.mark.process
def test_reader_that_goes_away(here: Path) -> None:
    """A pipe closed early ends the command without a traceback."""
    for number in range(20):
        (here / f"n{number:02}.lesson").write_text(FAULTY)
    command = f"{sys.executable} -m fretloom.frontends.command.main check . | head -n 1"
    done = subprocess.run(
        command, shell=True, capture_output=True, text=True, cwd=here, check=False
    )
    assert done.stderr == ""


@pytest.mark.process
def test_terminal_without_unicode(here: Path) -> None:
    """What an encoding lacks is replaced and no reason to stop."""
    text = FAULTY.replace("Two cups", "Zwei Tassen für Ténor ♯").replace("plain", "ä\u00fcß")
    (here / "accents.lesson").write_text(text, encoding="utf-8")
    done = _run("check", "accents.lesson", cwd=here, env={"PYTHONIOENCODING": "ascii"})
    assert done.returncode == 1
    assert "Traceback" not in done.stderr


@pytest.mark.process
def test_no_colour_off_a_terminal(here: Path) -> None:
    """What is piped has no escape sequences."""
    assert "\x1b" not in _run("check", ".", cwd=here).stdout


class _Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def _on_terminals(monkeypatch: pytest.MonkeyPatch) -> tuple[_Terminal, _Terminal]:
    """Let both standard streams be terminals; called in the test, since capturing swaps them before."""
    out, err = _Terminal(), _Terminal()
    monkeypatch.setattr(sys, "stdout", out)
    monkeypatch.setattr(sys, "stderr", err)
    return out, err


@pytest.fixture
def willing(monkeypatch: pytest.MonkeyPatch) -> pytest.MonkeyPatch:
    """Let the environment say nothing against colour."""
    for name in ("NO_COLOR", "FORCE_COLOR"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TERM", "xterm")
    return monkeypatch


@pytest.mark.usefixtures("here")
def test_colour_on_a_terminal(willing: pytest.MonkeyPatch) -> None:
    """A terminal gets colour."""
    out, _ = _on_terminals(willing)
    main(["check", "faulty.lesson"])
    assert "\x1b[31;1merror" in out.getvalue()


@pytest.mark.usefixtures("here")
@pytest.mark.parametrize(("name", "value"), [("NO_COLOR", "1"), ("TERM", "dumb")])
def test_no_colour_where_it_is_not_wanted(
    name: str, value: str, willing: pytest.MonkeyPatch
) -> None:
    """NO_COLOR (no-color.org: any value that is not empty) and dumb terminals are honoured."""
    willing.setenv(name, value)
    out, _ = _on_terminals(willing)
    main(["check", "faulty.lesson"])
    assert "error" in out.getvalue()
    assert "\x1b" not in out.getvalue()


@pytest.mark.parametrize(
    ("set_to", "coloured"),
    [
        ({"FORCE_COLOR": "1"}, True),
        ({"FORCE_COLOR": "0"}, True),
        ({"FORCE_COLOR": ""}, False),
        ({"FORCE_COLOR": "1", "TERM": "dumb"}, True),
        ({"FORCE_COLOR": "1", "NO_COLOR": "1"}, False),
        ({"FORCE_COLOR": "1", "NO_COLOR": ""}, True),
    ],
)
def test_colour_where_it_is_forced(
    here: Path,
    set_to: dict[str, str],
    coloured: bool,
    willing: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """FORCE_COLOR (force-color.org: any value that is not empty) colours what no terminal shows, but for files that are named.

    Of both, NO_COLOR holds: so do Python's own programs (docs.python.org, "Controlling color").
    """
    for name, value in set_to.items():
        willing.setenv(name, value)
    main(["check", "faulty.lesson"])
    said = capsys.readouterr().out
    assert ("\x1b[31;1merror\x1b[0m" in said) is coloured
    main(["check", "-o", "found.txt", "faulty.lesson"])
    written = (here / "found.txt").read_text(encoding="utf-8")
    assert written == re.sub(r"\x1b\[[\d;]*m", "", said)


@pytest.mark.parametrize("option", ["-V", "--version"])
def test_the_version_is_shown(option: str, capsys: pytest.CaptureFixture[str]) -> None:
    """By either option."""
    with pytest.raises(SystemExit) as done:
        main([option])
    assert done.value.code == 0
    assert capsys.readouterr().out == f"fretloom {VERSION}\n"


def test_progress_of_a_long_folder(here: Path, willing: pytest.MonkeyPatch) -> None:
    """On a terminal a long check says how far it is, and wipes the line before a finding."""
    for number in range(40):
        (here / f"n{number:02}.lesson").write_text(GOOD)
    out, err = _on_terminals(willing)
    main(["check", ".", "--jobs", "1"])
    assert "\rchecked 8 of 43 files" in err.getvalue()
    assert err.getvalue().endswith("\r\x1b[K")
    assert "checked" not in out.getvalue()
    willing.setenv("TERM", "dumb")
    _, err = _on_terminals(willing)
    main(["check", ".", "--jobs", "1"])
    assert err.getvalue() == ""


@pytest.mark.usefixtures("here")
def test_a_terminal_gets_no_signs_that_clear_what_was_not_shown(
    willing: pytest.MonkeyPatch,
) -> None:
    """A short check shows no progress, and so has none to wipe away."""
    _, err = _on_terminals(willing)
    main(["check", "faulty.lesson"])
    assert err.getvalue() == ""


@pytest.mark.usefixtures("here")
def test_packed_score_is_not_poured_into_a_terminal(willing: pytest.MonkeyPatch) -> None:
    """A binary format needs a file when the result would go to a terminal."""
    _, err = _on_terminals(willing)
    assert main(["export", "good.lesson", "--to", "mxl"]) == 2
    assert "name a file with -o" in err.getvalue()


@pytest.mark.skipif(sys.platform == "win32", reason="needs terminals that are files")
@pytest.mark.usefixtures("here")
def test_packed_score_is_not_poured_into_a_terminal_that_is_named(capsys: Captured) -> None:
    """Nor where the file is one, as /dev/tty; other devices take what they are given."""
    ours, theirs = os.openpty()
    assert main(["export", "good.lesson", "--to", "mxl", "-o", os.ttyname(theirs)]) == 2
    assert "name a file with -o" in capsys.readouterr().err
    assert main(["export", "good.lesson", "--to", "tab", "-o", os.ttyname(theirs)]) == 0
    assert os.read(ours, 8) == b"Two cups"
    assert main(["export", "good.lesson", "--to", "mxl", "-o", os.devnull]) == 0
    os.close(ours)
    os.close(theirs)


@pytest.mark.usefixtures("here")
def test_interruption(monkeypatch: pytest.MonkeyPatch, capsys: Captured) -> None:
    """Ctrl-C ends with 130 and one line."""

    def interrupt(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("fretloom.api.load", interrupt)
    assert main(["check", "good.lesson"]) == 130
    assert capsys.readouterr().err == "fretloom: interrupted\n"
