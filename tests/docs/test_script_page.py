"""The page of the teacher's script shows what the program writes."""

from __future__ import annotations

import re
from pathlib import Path

from places import EXAMPLES

import fretloom

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "script.md"


def test_the_scenes_on_the_page_are_what_comes_out():
    [shown] = re.findall(r"```text\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.DOTALL)
    [output] = fretloom.export(fretloom.load(EXAMPLES / "kiln-lane-shuffle.lesson"), "script")
    assert output.text.startswith(shown)
