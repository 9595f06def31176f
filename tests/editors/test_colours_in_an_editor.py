"""Our grammar for editors in the engine that editors use: on demand, see README.md."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path

import pytest
from coloured import by_editor, by_reader, first_difference
from lesson_pool import LESSONS
from lesson_texts import shown_lessons
from places import PROJECT

from fretloom.notation.highlighting.kinds import TextKind

MODULES = Path(os.environ.get("EDITOR_TOOLS", "none"))
NODE = shutil.which("node")
if NODE is None or not (MODULES / "vscode-textmate").is_dir():
    pytest.skip("on demand: needs node and vscode-textmate", allow_module_level=True)

GRAMMAR = PROJECT / "docs/editors/fretloom-lessons/syntaxes/lesson.tmLanguage.json"


@pytest.fixture(scope="module")
def texts() -> list[str]:
    """Every lesson that people are shown, generated ones, and texts that nobody would write."""
    generated = [made.text for number in range(LESSONS.shares) for made in LESSONS.share(number)]
    hostile = [text[: len(text) // 2] + '"' + text[len(text) // 3 :] for text in generated[:20]]
    return [*shown_lessons().values(), *generated, *hostile]


@pytest.fixture(scope="module")
def coloured(texts: list[str]) -> list[list[tuple[int, int, str]]]:
    """The pieces of each text, as the engine of an editor finds them."""
    assert NODE is not None
    script = Path(__file__).with_name("colour.js")
    done = subprocess.run(
        [NODE, str(script), str(MODULES), str(GRAMMAR)],
        input=json.dumps(texts), capture_output=True, text=True, check=True,
    )  # fmt: skip
    return [_offsets(text, lines) for text, lines in zip(texts, json.loads(done.stdout), strict=True)]  # fmt: skip


def _offsets(text: str, lines: list[list[tuple[int, int, str]]]) -> list[tuple[int, int, str]]:
    """Turn places in lines, counted in UTF-16 units, into offsets into the text."""
    pieces, start = [], 0
    for line, found in zip(text.split("\n"), lines, strict=True):
        units = [at for at, sign in enumerate(line) for _ in range(1 + (ord(sign) > 0xFFFF))]
        ends = [*units, len(line), len(line)]
        pieces += [
            (start + ends[a], start + ends[min(b, len(units))], name) for a, b, name in found
        ]
        start += len(line) + 1
    return pieces


def test_our_engine_colours_as_theirs(
    texts: list[str], coloured: list[list[tuple[int, int, str]]]
) -> None:
    """What the tests without an editor are made with does the same, on right and on spoiled lessons."""
    for text, pieces in zip(texts, coloured, strict=True):
        assert first_difference(text, by_editor(text, pieces), by_editor(text)) == ""


def test_editors_colour_lessons_as_the_reader_understands_them(
    texts: list[str], coloured: list[list[tuple[int, int, str]]]
) -> None:
    """In every lesson without a fault in its spelling, each sign is of the kind that the grammar of the notation says."""
    right = [
        (text, pieces, by_reader(text))
        for text, pieces in zip(texts, coloured, strict=True)
        if TextKind.FAULT not in by_reader(text) and not text[:1].isspace()
    ]
    assert len(right) > 400
    for text, pieces, kinds in right:
        assert first_difference(text, by_editor(text, pieces), kinds) == ""
