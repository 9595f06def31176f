"""The house stays one that a stranger can live in: small modules, short functions, few doors a room."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from places import SOURCE

pytestmark = pytest.mark.source

MODULES = sorted(SOURCE.rglob("*.py"))
LONGEST_MODULE, LONGEST_FUNCTION, MOST_DOORS = 300, 40, 12


def _functions(module: Path) -> Iterator[tuple[str, int]]:
    """Yield the functions of a module with their lengths, docstrings not counted."""
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef):
            said = (ast.get_docstring(node, clean=False) or "").count("\n") + 1
            yield node.name, (node.end_lineno or node.lineno) - node.lineno + 1 - said


def test_modules_and_functions_are_short() -> None:
    """A module holds one idea, a function one step of it."""
    lengths = {
        str(one.relative_to(SOURCE)): len(one.read_text("utf-8").splitlines()) for one in MODULES
    }
    assert {name: length for name, length in lengths.items() if length > LONGEST_MODULE} == {}
    functions = [(str(one), *found) for one in MODULES for found in _functions(one)]
    assert [found for found in functions if found[2] > LONGEST_FUNCTION] == []


def test_a_room_has_a_dozen_doors_at_most() -> None:
    """Who looks for something can read the names in a room at a glance."""
    rooms = {one.parent for one in MODULES} - {SOURCE}
    doors = {
        room: [one for one in room.iterdir() if not one.name.startswith(("__", "."))]
        for room in rooms
    }
    assert {room: len(found) for room, found in doors.items() if len(found) > MOST_DOORS} == {}
    assert len([one for one in SOURCE.iterdir() if (one / "__init__.py").is_file()]) <= MOST_DOORS


def test_rooms_say_what_they_are_for_and_nothing_else() -> None:
    """A sub-package opens with one docstring; only the front doors give names on."""
    for door in SOURCE.rglob("__init__.py"):
        tree = ast.parse(door.read_text(encoding="utf-8"))
        assert ast.get_docstring(tree), door
        if door.parent not in (SOURCE, SOURCE / "api"):
            assert len(tree.body) == 1, door


def test_nothing_is_told_apart_by_its_address() -> None:
    """What has to be told apart has a serial, or is a key itself; no class lists its slots by hand."""
    for module in MODULES:
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
            called = isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
            assert not (called and node.func.id == "id"), module  # type: ignore[attr-defined]
            slots = isinstance(node, ast.Name) and node.id == "__slots__"
            assert not slots or module.name == "values.py", module  # It makes classes.
