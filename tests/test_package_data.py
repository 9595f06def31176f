"""Files in the package are read by whatever imported it."""

from __future__ import annotations

import importlib
import sys
from importlib.abc import Loader
from importlib.machinery import ModuleSpec
from pathlib import Path
from types import ModuleType

import pytest

from fretloom.package_data import packaged_text


@pytest.fixture
def package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """A package in a folder, with a file in a folder below it."""
    inside = tmp_path / "kiln_package" / "pages"
    inside.mkdir(parents=True)
    (inside.parent / "__init__.py").write_text("")
    (inside / "one.md").write_bytes("Grüße\r\nzwei\n".encode())
    monkeypatch.syspath_prepend(tmp_path)
    importlib.invalidate_caches()
    monkeypatch.delitem(sys.modules, "kiln_package", raising=False)
    return "kiln_package"


def test_a_file_is_text_with_plain_line_ends(package: str) -> None:
    """UTF-8, however a checkout has changed its line ends."""
    assert packaged_text(package, "pages/one.md") == "Grüße\nzwei\n"


def test_a_loader_that_only_knows_resources_will_do(package: str) -> None:
    """`get_data` is optional (PEP 302); `importlib.resources` is the way without it."""

    class Bare(Loader):
        def __init__(self, old: Loader) -> None:
            self.old = old

        def get_resource_reader(self, name: str) -> object:
            return self.old.get_resource_reader(name)  # type: ignore[attr-defined]

    module: ModuleType = importlib.import_module(package)
    assert isinstance(module.__spec__, ModuleSpec)
    module.__spec__.loader = Bare(module.__loader__)  # type: ignore[arg-type]
    assert packaged_text(package, "pages/one.md") == "Grüße\nzwei\n"
    with pytest.raises(FileNotFoundError):
        packaged_text(package, "pages/two.md")


def test_a_missing_file_is_told(package: str) -> None:
    """By its name and its package, whichever error the loader has for it."""
    with pytest.raises(FileNotFoundError, match=r"pages/two\.md is missing from the package kiln_"):
        packaged_text(package, "pages/two.md")
