"""What holds for a lesson or a folder, and where it was settled, as a person reads it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from fretloom.api import known_rules
from fretloom.collection.configuration.reading import PLACES
from fretloom.collection.configuration.values import AskedFor, Configuration, RuleChoice
from fretloom.text import listed, shown_name, table


def as_lines(configuration: Configuration, root: Path) -> Iterator[str]:
    """Yield lines that say which file holds, which root follows, and what is set.

    Args:
        configuration: what was found.
        root: of the collection.
    """
    file = configuration.file
    if file is None:
        yield f"no {listed(PLACES, 'or')} settles anything here, so all is as it comes"
        yield f"root: {shown_name(root)}"
        return
    yield f"settled in {shown_name(file)}"
    yield f"root: {shown_name(root)}, the folder of that file"
    yield from _block(
        "left out:", [(shown_name(one.pattern), f"line {one.line}") for one in configuration.files]
    )
    yield from _block(
        "house style:", [(one.name, _value(one), f"line {one.line}") for one in configuration.asked]
    )
    chosen = ((one, configuration.choice_for(one)) for one in known_rules())
    rows = [
        (one.name, choice.word, _where(one.name, choice))
        for one, choice in chosen
        if choice is not None
    ]
    yield from _block("rules:", rows)


def _block(title: str, rows: Sequence[tuple[str, ...]]) -> Iterator[str]:
    if rows:
        yield title
        yield from (f"  {line}" for line in table(rows))


def _value(one: AskedFor) -> str:
    if isinstance(one.value, bool):
        return "asked for" if one.value else "not asked for"
    return listed(one.value) if one.value else "no lines"


def _where(rule: str, choice: RuleChoice) -> str:
    line = f"line {choice.line}"
    return line if choice.name == rule else f"{line}, with all of {choice.name}"
