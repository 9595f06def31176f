"""The extension for editors is whole: its files are there and agree with the notation."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from places import PROJECT

from fretloom.notation.model.words import OPENERS

FOLDER = PROJECT / "docs/editors/fretloom-lessons"


def _json(name: str) -> Any:
    return json.loads((FOLDER / name).read_text(encoding="utf-8"))


def test_what_it_contributes_is_there() -> None:
    """The language has a file of settings and a grammar, which are those it names."""
    offered = _json("package.json")["contributes"]
    (language,), (grammar,) = offered["languages"], offered["grammars"]
    assert language["extensions"] == [".lesson"]
    assert grammar["language"] == language["id"]
    assert _json(grammar["path"])["scopeName"] == grammar["scopeName"]
    assert _json(language["configuration"])["comments"] == {"lineComment": "#"}


def test_the_lines_that_open_blocks_are_indented_after() -> None:
    """Each block has lines of its own, but for those that are one line."""
    rules = _json("language-configuration.json")["indentationRules"]
    for word in OPENERS:
        assert bool(re.match(rules["increaseIndentPattern"], f"{word} a")) is (
            word not in ("notation", "use")
        )
    assert not re.match(rules["increaseIndentPattern"], "sections")


@pytest.mark.parametrize(
    ("typed", "moves"),
    [("  form", True), ("  section ", True), ('  step "', True), ("  section", False),
     ("  form x2", False), ("  show form", False), ("form", False), ("  Voicings", False)],
)  # fmt: skip
def test_a_line_that_opens_a_block_moves_to_column_one_as_it_is_typed(
    typed: str, moves: bool
) -> None:
    """At the moment when it can hardly be anything else."""
    rules = _json("language-configuration.json")["indentationRules"]
    assert bool(re.search(rules["decreaseIndentPattern"], typed)) is moves


@pytest.mark.parametrize("word", ["C#m7", "F.up", "verse-2", "6@2", "x21202", "a1@5.bend-half"])
def test_a_word_is_what_a_double_click_takes(word: str) -> None:
    """Names, places and plucks are words; what divides them is not."""
    pattern = re.compile(_json("language-configuration.json")["wordPattern"])
    assert pattern.findall(f"({word}| {word}:3") == [word, word, "3"]
