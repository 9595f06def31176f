"""What may be imported when: the import and the checks stay instant."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.process

#: Never imported by a check: formats, readers of formats, servers, anything that takes its time.
HEAVY = {
    "asyncio",
    "concurrent",
    "email",
    "fontTools",
    "fpdf",
    "http",
    "jsonschema",
    "lxml",
    "multiprocessing",
    "music21",
    "numpy",
    "resvg_py",
    "subprocess",
    "unittest",
    "verovio",
    "xml",
}


def _imported(code: str, folder: Path) -> set[str]:
    """Run code in a new interpreter and return the modules it has in the end but not at first."""
    wrapped = (
        "import sys\nbefore = set(sys.modules)\n"
        + code
        + "\nprint('\\n'.join(sorted(set(sys.modules) - before)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", wrapped], capture_output=True, text=True, cwd=folder, check=True
    )
    return set(done.stdout.split("---\n")[-1].split())


def test_import_brings_nothing_along(tmp_path: Path) -> None:
    """`import fretloom` imports no other module, neither ours nor another's."""
    assert _imported("import fretloom", tmp_path) <= {"fretloom", "__future__"}


def test_check_stays_light(tmp_path: Path) -> None:
    """Checking one lesson imports no exporter and none of the heavy modules."""
    (tmp_path / "tune.lesson").write_text(
        'lesson "Two cups"\n\nvoicings\n  C  x32010  fingers .32.1.  bass 5 4\n\n'
        "patterns\n  plain  p , p m , p i , p m\n\nsection tune  using plain\n  C\n"
    )
    code = "from fretloom.frontends.command.main import main\nmain(['check', 'tune.lesson'])\nprint('---')"
    imported = _imported(code, tmp_path)
    assert {name.partition(".")[0] for name in imported} & HEAVY == set()
    assert not [name for name in imported if name.startswith("fretloom.formats")]


def test_reading_needs_no_grammar(tmp_path: Path) -> None:
    """A check goes by the kept tables, in a lesson with faults too: the parser's maker is not imported."""
    (tmp_path / "tune.lesson").write_text(
        'lesson "Two cups"\n\nvoicings\n  C  x32010\n  D x320)0\n\nsection tune\n  C { p, p m, i [p, p }\n  C using using\n'
    )
    code = "from fretloom.frontends.command.main import main\nmain(['check', 'tune.lesson'])\nprint('---')"
    imported = _imported(code, tmp_path)
    assert "fretloom.notation.syntax.parsing.driver" in imported
    assert not [name for name in imported if name.partition(".")[0] == "lark"]


def test_explaining_a_rule_needs_no_grammar(tmp_path: Path) -> None:
    """Pages are shown without the parser."""
    code = "from fretloom.frontends.command.main import main\nmain(['explain', 'pattern-beats'])\nprint('---')"
    imported = _imported(code, tmp_path)
    assert "lark" not in imported
    assert not [name for name in imported if name.startswith("fretloom.notation")]


def test_the_plugin_of_pytest_imports_nothing_of_ours(tmp_path: Path) -> None:
    """pytest imports it in every run; what checks lessons comes when lessons are asked for."""
    code = "import fretloom.frontends.pytest_plugin.plugin\nprint('---')"
    ours = {name for name in _imported(code, tmp_path) if name.startswith("fretloom")}
    packages = {"fretloom", "fretloom.frontends", "fretloom.frontends.pytest_plugin"}
    assert ours == {*packages, "fretloom.frontends.pytest_plugin.plugin"}
