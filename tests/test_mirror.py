"""Tests lie where the code lies, so that whoever changes a room finds what holds it."""

from __future__ import annotations

import ast
from collections import Counter
from pathlib import Path

from places import SOURCE, TESTS

#: Folders whose code is tested where it is used.
TESTED_AT = {
    "engraving/drawn/tab/painting": "engraving/drawn/tab",
    "formats/musicxml/elements": "formats/musicxml",
    "formats/musicxml/front": "formats/musicxml",
    "formats/musicxml/folding": "formats/musicxml",
    "formats/musicxml/planning": "formats/musicxml",
    "formats/pictures/drawing": "formats/pictures",
    "formats/tab/drawing": "formats/tab",
    "notation/syntax/building": "notation/syntax",
    "notation/syntax/fields": "notation/syntax",
    "notation/syntax/writing": "notation/syntax",
    "performance/expansion/timing": "performance/expansion/bars",
    "trade/harmony/suffix": "trade/harmony",
}
#: Tests of what is not a room: the documentation, whole lessons with slips in them, and other programs that read our scores.
NO_ROOM = {"browsers", "docs", "editors", "lessons", "readers"}


def _has_functions(module: Path) -> bool:
    tree = ast.parse(module.read_text(encoding="utf-8"))
    return any(isinstance(node, ast.FunctionDef) for node in ast.walk(tree))


def _folders(root: Path, pattern: str) -> set[str]:
    return {str(file.parent.relative_to(root)) for file in root.rglob(pattern)} - {"."}


def test_every_folder_of_code_has_tests() -> None:
    """A folder with a function in it has tests in the folder of the same name, or in one listed."""
    code = {
        str(module.parent.relative_to(SOURCE))
        for module in SOURCE.rglob("*.py")
        if _has_functions(module)
    } - {"."}
    tested = _folders(TESTS, "test_*.py")
    assert {folder for folder in code if TESTED_AT.get(folder, folder) not in tested} == set()
    assert TESTED_AT.keys() <= code - tested


def test_every_folder_of_tests_has_its_room() -> None:
    """No tests are left behind where a room was moved or renamed."""
    tested = _folders(TESTS, "test_*.py") - NO_ROOM
    assert {folder for folder in tested if not (SOURCE / folder).is_dir()} == set()


def test_every_module_at_the_top_has_tests() -> None:
    """Modules that lie in no room are imported by a test."""
    top = {module.stem for module in SOURCE.glob("*.py") if _has_functions(module)} - {"__init__"}
    imported = {
        node.module
        for file in TESTS.rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom) and node.module
    }
    assert {name for name in top if f"fretloom.{name}" not in imported} == set()


def test_test_modules_have_names_of_their_own() -> None:
    """pytest takes two of one name in different folders for one module."""
    names = Counter(path.name for path in TESTS.rglob("test_*.py"))
    assert [name for name, count in names.items() if count > 1] == []
