"""Finds the grammar, and has Lark make a parser of it.

Lark works out the tables of our own parser (see `tables.py`); reading a lesson only needs it if the
kept tables are not those of the grammar.
"""

from __future__ import annotations

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
    # Plain paths: importlib.resources would bring in archives and temporary files first.
    installed = Path(__file__).parents[3] / "fretloom.lark"
    if installed.is_file():
        return installed.read_text(encoding="utf-8")
    checkout = Path(__file__).parents[5] / "grammar" / "fretloom.lark"
    return checkout.read_text(encoding="utf-8")


def lark_parser() -> Lark:
    """Return Lark's parser for the grammar."""
    from lark import Lark

    return Lark(
        grammar_text(),
        start=list(START_RULES),
        parser="lalr",
        lexer="contextual",
        maybe_placeholders=False,
    )
