"""Templates of pages: what is said where the library that fills them in is missing."""

from __future__ import annotations

import sys

import pytest

from fretloom.errors import FretloomError
from fretloom.formats.students.handout import templating


@pytest.mark.parametrize("name", ["jinja2", "markupsafe"])
def test_a_library_that_is_missing_is_named(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """With what to do, and not as a traceback."""
    monkeypatch.setitem(sys.modules, name, None)
    templating._environment.cache_clear()
    said = f"^a page for students needs {name}, which belongs to fretloom: pip install fretloom$"
    with pytest.raises(FretloomError, match=said):
        templating.filled("line.html", bars=[])
