"""Finds the grammar and makes the parser, once, on first use.

Working the parser out from the grammar takes some 60 ms, too long for a command that should answer
at once. So its tables are kept beside this module; they carry a fingerprint of the grammar and of
the version of Lark that made them. When either has changed they are not used, and the parser is
worked out anew: they can be out of date but never wrong. `python -m fretloom.notation.syntax.grammar`
writes them again.
"""

from __future__ import annotations

import zlib
from functools import lru_cache
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
TABLES = Path(__file__).with_name("tables.dump")


def grammar_text() -> str:
    """Return the grammar, from the installed package or from the checkout it runs in.

    The grammar is a file at the top of the project, for people to read; an installed package
    carries its only copy.
    """
    # Plain paths: importlib.resources would bring in archives and temporary files first.
    installed = Path(__file__).parents[2] / "fretloom.lark"
    if installed.is_file():
        return installed.read_text(encoding="utf-8")
    checkout = Path(__file__).parents[4] / "grammar" / "fretloom.lark"
    return checkout.read_text(encoding="utf-8")


def fingerprint() -> str:
    """Return what the tables depend on: the grammar, the start rules, and Lark itself."""
    import lark

    text = "\n".join([lark.__version__, *START_RULES, grammar_text()])
    return f"{zlib.crc32(text.encode()):08x}-{len(text)}"


@lru_cache(maxsize=1)
def parser() -> Lark:
    """Return the parser."""
    return _from_tables() or worked_out()


def worked_out() -> Lark:
    """Return a parser worked out from the grammar."""
    from lark import Lark

    return Lark(
        grammar_text(),
        start=list(START_RULES),
        parser="lalr",
        lexer="contextual",
        maybe_placeholders=False,
    )


def _from_tables() -> Lark | None:
    """Return a parser made from the kept tables, None if they are not for this grammar."""
    from lark import Lark

    try:
        with TABLES.open("rb") as kept:
            if kept.readline().decode("ascii").split()[:1] == [fingerprint()]:
                return Lark.load(kept)
    except (OSError, ValueError):
        pass
    return None


def write_tables(path: Path) -> None:
    """Keep the parser's tables: a line with their fingerprint and Lark's version, then its dump."""
    import lark

    with path.open("wb") as kept:
        kept.write(f"{fingerprint()} lark {lark.__version__}\n".encode("ascii"))
        worked_out().save(kept)


if __name__ == "__main__":
    write_tables(TABLES)
