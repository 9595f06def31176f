"""`fretloom check` as a workflow uses it: what is chosen, in which form, where to, with which exit code."""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path

import pytest
from jsonschema import Draft7Validator
from lxml import etree

from fretloom.collection.mending.fixing import Mended
from fretloom.frontends.command.main import main

SCHEMAS = Path(__file__).parents[3] / "data" / "schemas"
GOOD = 'lesson "Tea"\n\nvoicings\n  C  x32010\n\nsection tune\n  C { p , p , p , p }\n'
#: Two warnings.
DOUBTFUL = GOOD.replace("  C  x32010\n", "  C  x32010\n  G  320003\n  F  133211\n")
FAULTY = GOOD.replace("  C {", "  D {")

Captured = pytest.CaptureFixture[str]


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    for name, text in (("good", GOOD), ("doubtful", DOUBTFUL), ("faulty", FAULTY)):
        (tmp_path / f"{name}.lesson").write_text(text)
    return tmp_path


def _rules(out: str) -> list[str]:
    return [line.rsplit("[", 1)[1][:-1] for line in out.splitlines() if line.endswith("]") and ".lesson:" in line]  # fmt: skip


@pytest.mark.usefixtures("here")
@pytest.mark.parametrize(
    ("words", "rules", "code"),
    [
        ([], ["unused-voicing", "unused-voicing", "unknown-voicing"], 1),
        (["--select", "unused-voicing"], ["unused-voicing", "unused-voicing"], 0),
        (["--select", "unused-voicing", "--strict"], ["unused-voicing", "unused-voicing"], 1),
        (["--ignore", "unknown-voicing,unused-voicing"], [], 0),
        (["--select", "names", "--ignore", "unused-voicing"], ["unknown-voicing"], 1),
        (["--select", "hands", "--select", "chords, keys"], [], 0),
    ],
)
def test_rules_are_chosen_by_name_or_family(words: list[str], rules: list[str], code: int, capsys: Captured) -> None:  # fmt: skip
    assert main(["check", ".", *words]) == code
    assert _rules(capsys.readouterr().out) == rules


@pytest.mark.usefixtures("here")
@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--select", "name"], "--select: there is no rule and no family of rules name; did you mean names?"),
        (["--ignore", "strech"], "--ignore: there is no rule and no family of rules strech; did you mean stretch?"),
        (["--ignore", ""], '--ignore: there is no rule and no family of rules ""'),
        (["--baseline", "gone.json"], "there is no baseline gone.json: make one with --write-baseline"),
        (["--write-baseline"], "--write-baseline writes the file that --baseline names: name one"),
        (["--baseline", "b.json", "--write-baseline", "--changed", "main"], "leave one out"),
        (["--name", "a.lesson"], "--name is for a text on standard input"),
        (["--cache", "x", "--no-cache"], "--cache and --no-cache contradict each other"),
        (["-o", "good.lesson"], "good.lesson is a lesson, and no report is written over it"),
        (["-o", "fretloom.toml"], "fretloom.toml is a configuration, and no report is written"),
        (
            ["--baseline", "good.lesson", "--write-baseline"],
            "good.lesson is not a baseline, and none is written over it",
        ),
        (["-o", "gone/report.txt"], "there is no folder gone"),
        (["-", "--changed", "main"], "--changed is for files, not for standard input"),
        (["-", "--fix"], "--fix is for files, not for standard input"),
        (["-", "--watch"], "--watch is for files, not for standard input"),
        (["--watch", "--baseline", "b", "--write-baseline"], "do not go together: leave one out"),
    ],
)  # fmt: skip
def test_what_cannot_be_done_is_said(words: list[str], said: str, capsys: Captured, here: Path) -> None:  # fmt: skip
    assert main(["check", ".", *words]) == 2
    assert said in capsys.readouterr().err
    assert (here / "good.lesson").read_text() == GOOD


@pytest.mark.usefixtures("here")
@pytest.mark.parametrize(("most", "code"), [("2", 0), ("1", 1), ("0", 1)])
def test_more_warnings_than_allowed_fail(most: str, code: int, capsys: Captured) -> None:
    assert main(["check", "doubtful.lesson", "--max-warnings", most]) == code
    said = f"fretloom: there are 2 warnings, and --max-warnings allows {most}\n"
    assert capsys.readouterr().err == (said if code else "")


@pytest.mark.usefixtures("here")
def test_max_warnings_is_a_number(capsys: Captured) -> None:
    for wrong in ("-1", "x", "1.5", "9999999999"):
        with pytest.raises(SystemExit) as stopped:
            main(["check", ".", "--max-warnings", wrong])
        assert stopped.value.code == 2
        assert "--max-warnings" in capsys.readouterr().err


@pytest.mark.usefixtures("here")
def test_quiet_shows_findings_and_nothing_else(capsys: Captured) -> None:
    main(["check", "doubtful.lesson", "gone.lesson", "-q"])
    out, err = capsys.readouterr()
    assert _rules(out) == ["unused-voicing", "unused-voicing"]
    assert " in 1 file" not in out
    assert err == "fretloom: there is no file gone.lesson\n"
    assert main(["check", "good.lesson", "--quiet"]) == 0
    assert capsys.readouterr() == ("", "")


@pytest.mark.usefixtures("here")
def test_statistics_stand_before_the_summary(capsys: Captured) -> None:
    """With a document on standard output they go to standard error."""
    main(["check", ".", "--statistics"])
    assert capsys.readouterr().out.endswith(
        "2  warning  unused-voicing   in 1 file\n1  error    unknown-voicing  in 1 file\n\n"
        "1 error, 2 warnings in 3 files\n"
    )
    main(["check", ".", "--statistics", "--format", "json"])
    out, err = capsys.readouterr()
    assert json.loads(out)["files"] == 3
    assert err.startswith("2  warning  unused-voicing")


@pytest.mark.parametrize("form", ["text", "json", "github", "sarif", "junit", "gitlab"])
def test_every_form_goes_to_a_file_as_to_standard_output(form: str, here: Path, capsys: Captured) -> None:  # fmt: skip
    """With the same exit code, and unreadable files on standard error as ever."""
    words = ["check", ".", "gone.lesson", "--format", form]
    assert main(words) == 2
    out, err = capsys.readouterr()
    assert main([*words, "-o", "report.out"]) == 2
    assert (here / "report.out").read_text() == out != ""
    assert capsys.readouterr() == ("", f"{err}wrote report.out\n")
    assert err == "fretloom: there is no file gone.lesson\n"


@pytest.mark.usefixtures("here")
def test_documents_are_valid_by_the_schemas_of_others(capsys: Captured) -> None:
    """SARIF 2.1.0 (OASIS) and JUnit XML, of files that are sound, faulty and not there."""
    main(["check", ".", "gone.lesson", "--format", "sarif"])
    schema = json.loads((SCHEMAS / "sarif-2.1.0.json").read_text(encoding="utf-8"))
    log = json.loads(capsys.readouterr().out)
    Draft7Validator(schema).validate(log)
    invocation = log["runs"][0]["invocations"][0]
    assert invocation["executionSuccessful"] is False
    main(["check", ".", "gone.lesson", "--format", "junit"])
    tree = etree.fromstring(capsys.readouterr().out.encode())
    etree.XMLSchema(etree.parse(SCHEMAS / "junit-10.xsd")).assertValid(tree)
    assert [one.get("name") for one in tree.iter("testcase") if len(one)] == ["doubtful.lesson", "faulty.lesson", "gone.lesson"]  # fmt: skip
    assert tree.get("failures") == "1"


@pytest.mark.usefixtures("here")
def test_with_strict_a_warning_fails_its_test(capsys: Captured) -> None:
    main(["check", "doubtful.lesson", "--format", "junit", "--strict"])
    assert etree.fromstring(capsys.readouterr().out.encode()).get("failures") == "1"


def test_what_is_waived_is_in_sarif_alone(here: Path, capsys: Captured) -> None:
    """As suppressed, with the reason; it does not count, and nothing else shows it."""
    text = DOUBTFUL.replace("G  320003", "G  320003  # allow unused-voicing: for next week")
    (here / "doubtful.lesson").write_text(text.replace("  F  133211\n", ""))
    assert main(["check", "doubtful.lesson", "--strict"]) == 0
    assert capsys.readouterr().out == "no errors in 1 file\n"
    assert main(["check", "doubtful.lesson", "--strict", "--format", "sarif"]) == 0
    (result,) = json.loads(capsys.readouterr().out)["runs"][0]["results"]
    (suppression,) = result["suppressions"]
    assert (suppression["kind"], suppression["justification"]) == ("inSource", "for next week")
    for form in ("json", "gitlab"):
        main(["check", "doubtful.lesson", "--format", form])
        assert "for next week" not in capsys.readouterr().out


def _typed(monkeypatch: pytest.MonkeyPatch, data: bytes) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data)))


def test_a_text_on_standard_input_is_checked(here: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured) -> None:  # fmt: skip
    """Under its name, from whose folder `use` and the configuration go; the file need not be there."""
    _typed(monkeypatch, FAULTY.encode())
    assert main(["check", "-"]) == 1
    assert capsys.readouterr().out.startswith("<text>:7:")
    (here / "tunes").mkdir()
    (here / "shared.lesson").write_text("voicings\n  D  xx0232\n")
    (here / "fretloom.toml").write_text('[rules]\nunused-voicing = "error"\n')
    text = f'use "../shared.lesson"\n\n{FAULTY}'
    _typed(monkeypatch, text.encode())
    assert main(["check", "-", "--name", "tunes/new.lesson"]) == 1
    out = capsys.readouterr().out
    assert out.startswith("tunes/new.lesson:6:3: error: the voicing C")
    (here / "fretloom.toml").write_text('leave-out = ["tunes"]\n')
    _typed(monkeypatch, text.encode())
    assert main(["check", "-", "--name", "tunes/new.lesson", "-q"]) == 0


@pytest.mark.usefixtures("here")
def test_standard_input_that_is_no_text_is_refused(monkeypatch: pytest.MonkeyPatch, capsys: Captured) -> None:  # fmt: skip
    _typed(monkeypatch, b"\xff\xfe\x00")
    assert main(["check", "-"]) == 2
    assert "save it again as UTF-8" in capsys.readouterr().err


def test_only_what_is_new_is_reported(here: Path, capsys: Captured) -> None:
    """Once a baseline is made; what was mended is told, and files that were not checked are not."""
    words = ["check", ".", "--baseline", "known.json"]
    assert main([*words, "--write-baseline"]) == 0
    assert capsys.readouterr() == ("", "wrote known.json, with 3 findings\n")
    assert main([*words, "--strict"]) == 0
    assert capsys.readouterr() == ("no errors in 3 files\n", "")
    (here / "good.lesson").write_text(FAULTY)
    (here / "doubtful.lesson").write_text("# above\n" + DOUBTFUL.replace("  F  133211\n", ""))
    assert main(words) == 1
    out, err = capsys.readouterr()
    assert _rules(out) == ["unknown-voicing"]
    assert err == "fretloom: 1 finding of the baseline is mended: write it anew with --write-baseline\n"  # fmt: skip
    assert main(["check", "faulty.lesson", "--baseline", "known.json"]) == 0
    assert capsys.readouterr().err == ""


def test_no_report_is_written_over_the_baseline(here: Path, capsys: Captured) -> None:
    words = ["check", ".", "--baseline", "known.json"]
    assert main([*words, "--write-baseline"]) == 0
    before = (here / "known.json").read_text()
    assert main([*words, "--format", "json", "-o", "./known.json"]) == 2
    assert "known.json is the baseline, and no report is written over it" in capsys.readouterr().err
    assert (here / "known.json").read_text() == before


def test_a_baseline_needs_all_files(here: Path, capsys: Captured) -> None:
    """One that could not be read would lack its findings."""
    words = ["check", ".", "gone.lesson", "--baseline", "known.json", "--write-baseline"]
    assert main(words) == 2
    assert "the baseline is not written" in capsys.readouterr().err
    assert not (here / "known.json").exists()


def test_results_are_kept_where_it_is_asked_for(here: Path, capsys: Captured) -> None:
    """The second check says the same; a folder that cannot be made is told of, and no failure."""
    assert main(["check", ".", "--cache", "kept"]) == 1
    first = capsys.readouterr()
    assert len(list((here / "kept").iterdir())) == 1
    assert main(["check", ".", "--cache", "kept"]) == 1
    assert capsys.readouterr() == first
    assert main(["check", "good.lesson", "--cache", "good.lesson/kept"]) == 0
    assert "the results are not kept: " in capsys.readouterr().err


def test_few_files_leave_nothing_behind(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(here / "caches"))
    main(["check", "."])
    assert not (here / "caches").exists()


def test_what_is_sure_is_mended_first(here: Path, capsys: Captured) -> None:
    """What is left is reported, of the files as they are then; what was mended is told on standard error."""
    (here / "faulty.lesson").write_text(FAULTY.replace('"Tea"', "“Tea”").replace("  D {", "  C {"))
    assert main(["check", ".", "--fix"]) == 0
    out, err = capsys.readouterr()
    assert _rules(out) == ["unused-voicing", "unused-voicing"]
    assert err == "fretloom: 1 finding is mended in faulty.lesson\n"
    assert (here / "faulty.lesson").read_text() == GOOD
    assert (here / "doubtful.lesson").read_text() == DOUBTFUL


def test_changes_that_are_not_made_are_counted(
    here: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nobody has to wonder why a finding with a sure change is still there."""
    (here / "faulty.lesson").write_text(FAULTY.replace('"Tea"', "“Tea”").replace("  D {", "  C {"))
    for mended, said in (
        (Mended(0, 1), "1 change was not made in faulty.lesson"),
        (Mended(3, 2), "2 changes were not made in faulty.lesson"),
    ):
        monkeypatch.setattr(
            "fretloom.collection.mending.fixing_all.fix_file", lambda *_, one=mended: one
        )
        main(["check", "faulty.lesson", "--fix"])
        assert f"{said}: no proof that nothing else changes\n" in capsys.readouterr().err


def test_rules_that_are_not_asked_for_are_not_mended(here: Path) -> None:
    """Neither by the command line nor by the configuration."""
    text = GOOD.replace("  C  x32010", "  C  x32010  # allow reach: it is small")
    for settled, words in (("", ["--ignore", "waivers"]), ('[rules]\nwaivers = "off"\n', [])):
        (here / "fretloom.toml").write_text(settled)
        (here / "good.lesson").write_text(text)
        main(["check", "good.lesson", "--fix", *words])
        assert (here / "good.lesson").read_text() == text
    (here / "fretloom.toml").write_text("")
    main(["check", "good.lesson", "--fix"])
    assert (here / "good.lesson").read_text() == GOOD


def test_a_file_that_cannot_be_mended_is_told(here: Path, capsys: Captured) -> None:
    """The others are, and the exit code is 2."""
    text = GOOD.replace('"Tea"', "“Tea”")
    (here / "faulty.lesson").write_text(text)
    (here / "good.lesson").write_text(text)
    (here / "linked").hardlink_to(here / "faulty.lesson")
    assert main(["check", "faulty.lesson", "good.lesson", "--fix", "-q"]) == 2
    assert "hard links" in capsys.readouterr().err
    assert (here / "faulty.lesson").read_text() == text
    assert (here / "good.lesson").read_text() == GOOD
