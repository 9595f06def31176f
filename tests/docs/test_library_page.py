"""The page of the library, the list of public names and what `import fretloom` gives are one list."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

import fretloom
from fretloom import extending

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "api.md"


def names_on_the_page() -> list[str]:
    text = PAGE.read_text(encoding="utf-8")
    shown = re.findall(r"^\.\. auto(?:function|class|exception):: fretloom\.(\w+)$", text, re.M)
    return [*shown, *re.findall(r"^`fretloom\.(\w+)` is ", text, re.M)]


def test_the_page_names_what_there_is() -> None:
    """Every public name stands there, once, and nothing else does."""
    assert sorted(names_on_the_page()) == fretloom.__all__


@pytest.mark.process
def test_every_name_can_be_had_before_and_after_everything_was_used() -> None:
    """No module of the package takes the place of a name, whatever was imported."""
    code = (
        "import fretloom\n"
        "def kinds(): return {n: type(getattr(fretloom, n)).__name__ for n in fretloom.__all__}\n"
        "assert set(fretloom.__all__) == set(dir(fretloom))\n"
        "before = kinds()\n"
        "one = fretloom.loads('lesson \"Tea\"\\n  plays in C\\nvoicings\\n  C  x32010\\nsection a\\n  C { p , p , p , p }\\n')\n"
        "for call in (fretloom.export_tab, fretloom.export_mxl, fretloom.export_json, fretloom.hands,\n"
        "    fretloom.sounds, fretloom.suggest_capos, fretloom.lesson_to_json, fretloom.dumps): call(one)\n"
        "import pkgutil, importlib\n"
        "for found in pkgutil.walk_packages(fretloom.__path__, 'fretloom.'):\n"
        "    if not found.name.endswith('__main__'): importlib.import_module(found.name)\n"
        "assert kinds() == before, kinds()\n"
        "assert 'module' not in before.values()\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_every_public_thing_says_what_it_is() -> None:
    """Functions and classes have a docstring of their own."""
    for module in (fretloom, extending):
        for name in module.__all__:
            if name != "__version__":
                assert (getattr(module, name).__doc__ or "").strip(), name


def test_what_extends_fretloom_is_a_list_of_its_own() -> None:
    """It is sorted and all there."""
    assert extending.__all__ == sorted(extending.__all__)
    assert all(hasattr(extending, name) for name in extending.__all__)
