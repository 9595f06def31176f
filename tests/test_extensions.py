"""Rules and formats of other packages: found by their entry points, and told apart from our own."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from fretloom.extensions import FORMATS, RULES, offers

pytestmark = pytest.mark.process

TUNE = """lesson "Two cups"
  tempo 150

voicings
  C   x32010  fingers .32.1.  bass 5 4 5 4

section verse
  C { p , p , p , p }
"""
RULE = '''
from fretloom.extending import Diagnostic, OwnRule, Severity

PAGE = """
## What it checks
The tempo of lessons for beginners.

## Why
They are to be slow.

## Wrong
Fast.

## Right
Slow.
"""

def too_fast(reading):
    setting = reading.lesson.heading.setting("tempo")
    if setting and reading.timeline.settings.tempo.quarters_per_minute > 120:
        yield Diagnostic(
            rule="kilnlane-fast", severity=Severity.WARNING, message="this is fast", span=setting.span
        )

rule = OwnRule(name="kilnlane-fast", severities=(Severity.WARNING,), check=too_fast, page=PAGE)
'''
FORMAT = """
from fretloom.extending import Format, FormatOptions, Output

class Options(FormatOptions):
    pass

def write(reading, options):
    return (Output("list.kiln", "\\n".join(reading.timeline.voicings) + "\\n"),)

row = Format(name="kilnlane-list", ending=".kiln", says="names", module="kilnlane", options="kilnlane.Options")
"""


def install(folder: Path, code: str, points: str, package: str = "kilnlane") -> None:
    """Put a package into a folder as an installer does (packaging.python.org, "Recording installed projects")."""
    (folder / f"{package}.py").write_text(code)
    described = folder / f"{package}-1.0.dist-info"
    described.mkdir()
    (described / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {package}\nVersion: 1.0\n")
    (described / "entry_points.txt").write_text(points)


def run(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    (folder / "tune.lesson").write_text(TUNE)
    path = os.pathsep.join([str(folder), *filter(None, [os.environ.get("PYTHONPATH")])])
    return subprocess.run(
        [sys.executable, "-m", "fretloom", *words],
        capture_output=True, text=True, cwd=folder, env=os.environ | {"PYTHONPATH": path}, check=False,
    )  # fmt: skip


def test_without_other_packages_nothing_is_offered() -> None:
    """The packages of this environment declare nothing of ours."""
    assert offers(RULES) == ()
    assert offers(FORMATS) == ()


def test_a_rule_of_another_package_is_checked_explained_and_waived(tmp_path: Path) -> None:
    """As one of our own."""
    install(tmp_path, RULE, "[fretloom.rules]\nfast = kilnlane:rule\n")
    done = run(tmp_path, "check", "--strict", "tune.lesson")
    assert done.returncode == 1
    assert "tune.lesson:2:3: warning: this is fast [kilnlane-fast]" in done.stdout
    assert "The tempo of lessons for beginners." in run(tmp_path, "explain", "kilnlane-fast").stdout
    assert "Rules of other packages\n  kilnlane-fast " in run(tmp_path, "explain").stdout
    waived = TUNE.replace("tempo 150", "tempo 150  # allow kilnlane-fast: an evening of reels")
    (tmp_path / "waived.lesson").write_text(waived)
    assert run(tmp_path, "check", "--strict", "waived.lesson").returncode == 0


def test_a_format_of_another_package_is_exported(tmp_path: Path) -> None:
    """By its name and by its ending."""
    install(tmp_path, FORMAT, "[fretloom.formats]\nlist = kilnlane:row\n")
    assert run(tmp_path, "export", "tune.lesson", "--to", "kilnlane-list").stdout == "C\n"
    assert run(tmp_path, "export", "tune.lesson", "-o", "out.kiln").returncode == 0
    assert (tmp_path / "out.kiln").read_text() == "C\n"


@pytest.mark.parametrize(
    ("code", "points", "said"),
    [
        ("rule = 1 / 0", "[fretloom.rules]\nx = kilnlane:rule\n", "could not be loaded: ZeroDivisionError"),
        ("rule = 3", "[fretloom.rules]\nx = kilnlane:rule\n", "is not of the class OwnRule, but int"),
        ("", "[fretloom.rules]\nx = kilnlane:rule\n", "could not be loaded: AttributeError"),
        (
            RULE.replace("kilnlane-fast", "reach"), "[fretloom.rules]\nx = kilnlane:rule\n",
            "cannot be used: there is another rule reach",
        ),
        (RULE, "[fretloom.rules]\nx = kilnlane:rule\ny = kilnlane:rule\n", "there is another rule kilnlane-fast"),
        (
            RULE.replace("## Right", "## Left"), "[fretloom.rules]\nx = kilnlane:rule\n",
            "could not be loaded: ValueError: page lacks the heading: ## Right",
        ),
        (
            RULE.replace("    setting =", "    1 / 0; setting ="), "[fretloom.rules]\nx = kilnlane:rule\n",
            "the rule kilnlane-fast, of the package kilnlane, failed: ZeroDivisionError",
        ),
        (
            RULE.replace("    setting =", "    raise SystemExit('enough'); setting ="), "[fretloom.rules]\nx = kilnlane:rule\n",
            "the rule kilnlane-fast, of the package kilnlane, failed: SystemExit: enough",
        ),
        ("raise SystemExit(0)", "[fretloom.rules]\nx = kilnlane:rule\n", "could not be loaded: SystemExit"),
        (
            RULE.replace('rule="kilnlane-fast"', 'rule="reach"'), "[fretloom.rules]\nx = kilnlane:rule\n",
            "the rule kilnlane-fast yields something else than its own findings",
        ),
        (
            RULE.replace("severity=Severity.WARNING", "severity=Severity.ERROR"), "[fretloom.rules]\nx = kilnlane:rule\n",
            "the rule kilnlane-fast does not list the severity error",
        ),
    ],
)  # fmt: skip
def test_a_faulty_package_is_named(tmp_path: Path, code: str, points: str, said: str) -> None:
    """A sentence that says whose fault it is, and exit code 2."""
    install(tmp_path, code, points)
    done = run(tmp_path, "check", "tune.lesson")
    assert said in done.stderr
    assert "kilnlane" in done.stderr
    assert "Traceback" not in done.stderr
    assert "fretloom itself" not in done.stderr
    assert done.returncode == 2


WRITES = 'return (Output("list.kiln", "\\n".join(reading.timeline.voicings) + "\\n"),)'


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (WRITES, "1 / 0", "failed: ZeroDivisionError"),
        (WRITES, "raise SystemExit(3)", "failed: SystemExit: 3"),
        (WRITES, "return 7", "does not return a tuple of Output"),
        (WRITES, "return (Output('a.kiln', 7),)", "gives neither text nor bytes"),
        (WRITES, "return (Output('a.kiln', [7]),)", "gives neither text nor bytes"),
        (WRITES, "return (Output('a.kiln', '\\udc80'),)", "failed: UnicodeEncodeError"),
        (WRITES, "return (Output('a.kiln', (str(1 // n) for n in (1, 0))),)", "failed: ZeroDivisionError"),
        ("kilnlane.Options", "kilnlane.Nothing", "failed: AttributeError"),
        ("kilnlane.Options", "kilnlane.Output", "failed: TypeError: Output is not a class of FormatOptions"),
        ('module="kilnlane"', 'module="kilnlane_gone"', "failed: ModuleNotFoundError"),
    ],
)  # fmt: skip
def test_a_format_that_fails_is_named_with_its_package(
    tmp_path: Path, old: str, new: str, said: str
) -> None:
    """Whatever it raises, and whenever; no file is left, and fretloom does not take the blame."""
    assert old in FORMAT
    install(tmp_path, FORMAT.replace(old, new), "[fretloom.formats]\nlist = kilnlane:row\n")
    done = run(tmp_path, "export", "tune.lesson", "--to", "kilnlane-list", "-o", "out.kiln")
    assert done.stderr.startswith(
        f"fretloom: the format kilnlane-list, of the package kilnlane, {said}"
    )
    assert "Traceback" not in done.stderr
    assert done.returncode == 2
    assert not (tmp_path / "out.kiln").exists()


def test_a_format_may_say_itself_why_it_cannot(tmp_path: Path) -> None:
    """Its message is shown as it is."""
    code = FORMAT.replace(WRITES, "import fretloom; raise fretloom.FretloomError('no cards today')")
    install(tmp_path, code, "[fretloom.formats]\nlist = kilnlane:row\n")
    done = run(tmp_path, "export", "tune.lesson", "--to", "kilnlane-list")
    assert (done.stderr, done.returncode) == ("fretloom: no cards today\n", 2)


@pytest.mark.parametrize(
    "twin", ['name="tab", ending=".kiln"', 'name="kilnlane-list", ending=".mxl"']
)
def test_a_format_cannot_take_a_name_or_an_ending_that_is_there(tmp_path: Path, twin: str) -> None:
    """Who exports `tab` gets ours."""
    code = FORMAT.replace('name="kilnlane-list", ending=".kiln"', twin)
    install(tmp_path, code, "[fretloom.formats]\nlist = kilnlane:row\n")
    done = run(tmp_path, "export", "tune.lesson", "--to", "mxl", "-o", "out.mxl")
    assert "cannot be used: the format" in done.stderr
    assert done.returncode == 2
