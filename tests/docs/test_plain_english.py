"""Pages, messages and docstrings stay clear of turns of phrase that nobody says across a table."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest
from places import EXAMPLES, PROJECT, SOURCE

#: Turns of phrase to avoid, and what to say instead (from memory: the wording that readers stumbled over).
STIFF = (
    r"(?<!\bthere )\bis no\b(?! longer)",  # is not a ...
    r"\btold\b",  # listed, reported, shown
    r"\btakes? .{0,20}away\b",  # remove
    r"\bnone that\b",  # say what it is
    r"\bat one instant\b",  # at once
    r"\banother note than\b",  # a note other than
    r"\btakes? a tempo of\b",  # slow down to
    r"\bis the most\b",  # the limit is
    r"\bcloses nothing\b",  # there is no ... for it to close
    r"\btells? (?:whether|which|what)\b",  # says, return whether
    r"\bso many \w+s\b",  # a number of
)
_STIFF = re.compile("|".join(STIFF), re.IGNORECASE)
_CAUTION = "rest before the hand tires, stop if it hurts; ask a teacher or clinician"
_GENERATED = PROJECT / "docs" / "reference" / "generated"

PAGES = sorted(
    path
    for pattern in ("*.md", "grammar/*.md", "docs/**/*.md", "src/**/*.md", "examples/**/*.lesson")
    for path in PROJECT.glob(pattern)
    if _GENERATED not in path.parents
)


def stiff(text: str) -> list[str]:
    """Return the stiff turns of phrase in a text, whatever its line ends."""
    return [match[0] for match in _STIFF.finditer(" ".join(text.split()))]


def stiff_in_module(path: Path) -> list[str]:
    """Return those in the docstrings and texts of a module, and not in its code or comments."""
    constants = (
        node.value
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    )
    return [found for text in constants for found in stiff(text)]


@pytest.mark.parametrize("path", PAGES, ids=lambda path: str(path.relative_to(PROJECT)))
def test_pages_speak_plain_english(path: Path) -> None:
    """No page and no example has one of the turns of phrase."""
    assert stiff(path.read_text(encoding="utf-8")) == []


@pytest.mark.source
def test_modules_speak_plain_english() -> None:
    """No message, hint, help text or docstring has one of them."""
    found = {str(path.relative_to(SOURCE)): stiff_in_module(path) for path in SOURCE.rglob("*.py")}
    assert {path: phrases for path, phrases in found.items() if phrases} == {}


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("H7 is no chord symbol", ["is no"]),
        ("the slip is\n  told", ["told"]),
        ("there is no bar", []),
        ("take a tempo of 72 or less", ["take a tempo of"]),
        ("Take the last beat away", ["Take the last beat away"]),
        ("fingers pluck at one instant", ["at one instant"]),
        ("a fret that is no longer there, at once, and none of that", []),
    ],
)
def test_stiff_phrases_are_noticed(text: str, found: list[str]) -> None:
    """Line ends and capitals do not hide a phrase; plain English passes."""
    assert stiff(text) == found


def test_texts_in_code_are_read_and_comments_are_not(tmp_path: Path) -> None:
    """Docstrings, plain strings and f-strings count."""
    module = tmp_path / "module.py"
    module.write_text('"""It is no use."""\n# told\nX = f"{1} is no {2}"\ntold = "told"\n')
    assert sorted(stiff_in_module(module)) == ["is no", "is no", "told"]


@pytest.mark.parametrize("path", PAGES, ids=lambda path: str(path.relative_to(PROJECT)))
def test_there_is_one_caution(path: Path) -> None:
    """Wherever a page speaks of pain, it uses the same words."""
    text = " ".join(path.read_text(encoding="utf-8").split()).lower()
    assert len(re.findall(r"\bhurts\b|\baches?\b", text)) == text.count(_CAUTION)


def test_examples_that_stretch_the_hand_have_the_caution() -> None:
    """Barres, slurs and the first week of playing: the student reads it where it counts."""
    names = ("clay-and-water", "kiln-lane-shuffle", "rain-on-slate", "tuesday-rag")
    texts = [(EXAMPLES / f"{name}.lesson").read_text(encoding="utf-8") for name in names]
    assert all(_CAUTION in text.lower() for text in texts)
