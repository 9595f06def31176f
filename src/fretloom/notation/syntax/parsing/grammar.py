"""Finds the grammar, and has Lark make a parser of it.

Lark works out the tables of our own parser (see `tables.py`); reading a lesson only needs it if the
kept tables are not those of the grammar.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from fretloom.package_data import packaged_text

if TYPE_CHECKING:
    from lark import Lark

#: The rules of the grammar that read one line each (and `bar`, to go on after a faulty bar).
START_RULES = (
    "lesson_line",
    "setting_line",
    "notation_line",
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

    Raises:
        FileNotFoundError: it is in neither place.
    """
    try:
        return packaged_text("fretloom", "fretloom.lark")
    except FileNotFoundError:
        return packaged_text("fretloom", "../../grammar/fretloom.lark")


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
