"""The Python on pages runs: each page is one program, its blocks one after the other, in this process.

Blocks under the name of a file are written to that file as well, so that others can import it. What they assert is so.
"""

from __future__ import annotations

import re
import shutil
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest
from places import EXAMPLES, PROJECT

DOCS = PROJECT / "docs"
#: Pages whose blocks assert what the page says of them.
PAGES = (
    "reference/model", "reference/lesson-json", "howto/embed", "howto/build-a-lesson", "howto/web-service",
    "howto/notes-as-a-table", "howto/export-a-folder", "howto/threads-and-processes", "howto/freeze",
)  # fmt: skip
_BLOCK = re.compile(r"(?:^`([\w/]+\.py)`:\n\n)?^```python\n(.*?)^```$", re.M | re.S)
#: Blocks that import one of these run where it is installed.
ON_DEMAND = ("pandas",)


def blocks_of(page: str) -> list[tuple[str, str]]:
    """Return the blocks of Python on a page, each with the name of its file if it has one."""
    return _BLOCK.findall((DOCS / f"{page}.md").read_text("utf-8"))


def _can_run(code: str) -> bool:
    wanted = [name for name in ON_DEMAND if re.search(rf"^import {name}$", code, re.M)]
    return all(find_spec(name) is not None for name in wanted)


@pytest.mark.parametrize("page", PAGES)
def test_python_of_a_page_runs(page: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Beside the examples, with nothing of the page before it."""
    shutil.copytree(EXAMPLES, tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    monkeypatch.syspath_prepend(tmp_path)
    blocks = blocks_of(page)
    assert blocks
    assert page == "howto/embed" or any("assert " in code for _, code in blocks)
    for name, code in blocks:
        if name:
            (tmp_path / name).write_text(code, encoding="utf-8")
    # What is run is no program that was started, so that it only does what it does when it is imported.
    names: dict[str, object] = {"__name__": "page"}
    before = set(sys.modules)
    try:
        for number, (name, code) in enumerate(blocks, 1):
            if _can_run(code):
                exec(compile(code, name or f"{page}, block {number}", "exec"), names)
    finally:
        for name, _ in blocks:
            module = name.removesuffix(".py")
            if name and module not in before:
                sys.modules.pop(module, None)


def test_pages_for_embedders_are_all_tried() -> None:
    """A how-to with Python on it is in the list, or its programs are tried by tests of their own."""
    own = {"howto/analyse", "howto/own-rules-and-formats", "howto/lessons-as-tests", "howto/lessons-in-colour",
           "howto/lessons-in-documentation"}  # fmt: skip
    shown = {
        f"howto/{page.stem}"
        for page in (DOCS / "howto").glob("*.md")
        if blocks_of(f"howto/{page.stem}")
    }
    assert shown <= own | set(PAGES)
