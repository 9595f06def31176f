"""One word for one thing: what classes, functions and rooms are called."""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

import pytest

import fretloom
from fretloom import api

HOUSE = Path(__file__).parents[1] / "src" / "fretloom"


def _classes() -> dict[str, list[str]]:
    """Return the modules that define each class name, a leading underscore left out."""
    places: dict[str, list[str]] = defaultdict(list)
    for file in sorted(HOUSE.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef):
                places[node.name.lstrip("_")].append(str(file.relative_to(HOUSE)))
    return places


@pytest.mark.source
def test_no_two_classes_have_one_name() -> None:
    """A class name says which thing is meant, wherever it is read."""
    places = _classes()
    assert len(places) > 100
    assert {name: files for name, files in places.items() if len(files) > 1} == {}


def test_no_public_function_is_called_like_a_room() -> None:
    """`fretloom.rules` is a room: a function of that name would hide it, or it the function.

    Rooms within rooms hide nothing of `fretloom` (`performance.hands` and `fretloom.hands`).
    """
    rooms = {file.parent.name for file in HOUSE.glob("*/__init__.py")}
    assert {"api", "rules", "notation"} <= rooms
    assert set(fretloom.__all__) & rooms == set()


def test_no_public_name_is_that_of_a_module_beside_it() -> None:
    """What `fretloom` and `fretloom.api` give out hides none of their own modules."""
    for package in (fretloom, api):
        folder = Path(package.__file__ or "").parent
        beside = {file.stem for file in folder.glob("*.py")} | {
            file.parent.name for file in folder.glob("*/__init__.py")
        }
        assert set(package.__all__) & beside == set()
