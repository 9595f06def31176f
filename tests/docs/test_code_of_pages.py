"""The Python on the pages of the model and of the lesson's JSON runs, each page as one program."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

REFERENCE = Path(__file__).parents[2] / "docs" / "reference"


@pytest.mark.parametrize("page", ["model", "lesson-json"])
def test_python_of_a_page_runs(page: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What it asserts is so."""
    monkeypatch.chdir(tmp_path)
    codes = re.findall(r"^```python\n(.*?)^```$", (REFERENCE / f"{page}.md").read_text("utf-8"), re.M | re.S)  # fmt: skip
    assert codes
    assert "assert " in "".join(codes)
    exec(compile("\n".join(codes), f"{page}.md", "exec"), {})
