"""Finds the grammar and builds the parser, once, on first use."""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lark import Lark

#: The rules of the grammar that read one line each (and `bar`, to go on after a faulty bar).
START_RULES = (
    "lesson_line",
    "setting_line",
    "use_line",
    "home_line",
    "voicing_line",
    "pattern_line",
    "section_line",
    "body_line",
    "bar",
    "form_line",
    "step_line",
    "show_line",
)


def grammar_text() -> str:
    """Return the grammar, from the installed package or from the checkout it runs in.

    The grammar is a file at the top of the project, for people to read; an installed package
    carries its only copy.
    """
    installed = files("fretloom") / "fretloom.lark"
    if installed.is_file():
        return installed.read_text(encoding="utf-8")
    checkout = Path(__file__).parents[3] / "grammar" / "fretloom.lark"
    return checkout.read_text(encoding="utf-8")


@lru_cache(maxsize=1)
def parser() -> Lark:
    """Return the parser; building it takes some 50 ms, so nothing does it at import."""
    from lark import Lark

    return Lark(
        grammar_text(),
        start=list(START_RULES),
        parser="lalr",
        lexer="contextual",
        maybe_placeholders=False,
    )
