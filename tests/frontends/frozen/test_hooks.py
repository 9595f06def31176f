"""PyInstaller is shown our files and modules (its manual, "Providing PyInstaller hooks with your package")."""

from __future__ import annotations

import runpy
import sys
import tomllib
import types
from importlib import import_module
from pathlib import Path

import places
import pytest


def test_the_entry_point_leads_to_the_hook() -> None:
    """The group is `pyinstaller40`, the name `hook-dirs`; the function returns folders as texts."""
    project = tomllib.loads((places.PROJECT / "pyproject.toml").read_text(encoding="utf-8"))
    module, _, name = project["project"]["entry-points"]["pyinstaller40"]["hook-dirs"].partition(
        ":"
    )
    (folder,) = getattr(import_module(module), name)()
    assert isinstance(folder, str)
    assert (Path(folder) / "hook-fretloom.py").is_file()
    assert not (
        Path(folder) / "__init__.py"
    ).exists()  # Whoever imports all our modules passes it over.


def test_the_hook_asks_for_all_of_the_package(monkeypatch: pytest.MonkeyPatch) -> None:
    """All modules, since rules, formats and commands are imported by name; all files beside them."""
    asked: list[tuple[str, str]] = []
    library = types.ModuleType("PyInstaller.utils.hooks")
    for name in ("collect_data_files", "collect_submodules"):

        def collect(package: str, name: str = name) -> list[str]:
            asked.append((name, package))
            return [name]

        setattr(library, name, collect)
    for name in ("PyInstaller", "PyInstaller.utils"):
        monkeypatch.setitem(sys.modules, name, types.ModuleType(name))
    monkeypatch.setitem(sys.modules, "PyInstaller.utils.hooks", library)
    hook = runpy.run_path(
        str(places.SOURCE / "frontends" / "frozen" / "pyinstaller" / "hook-fretloom.py")
    )
    assert hook["hiddenimports"] == ["collect_submodules"]
    assert hook["datas"] == ["collect_data_files"]
    assert {package for _, package in asked} == {"fretloom"}
