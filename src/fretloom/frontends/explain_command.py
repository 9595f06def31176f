"""`fretloom explain`: the pages of the rules, in the terminal."""

from __future__ import annotations

import argparse

from fretloom.errors import FretloomError
from fretloom.rules.docs import as_text, near_names, page
from fretloom.rules.registry import FAMILIES, rules_of


def explain(options: argparse.Namespace) -> int:
    """Print the page of a rule, or the list of all; returns the exit code."""
    if options.name is None:
        print(_list())
        return 0
    found = page(options.name)
    if found is None:
        near = near_names(options.name)
        hint = f"did you mean {', '.join(near)}?" if near else "`fretloom explain` lists all"
        raise FretloomError(f"there is no rule called {options.name}; {hint}")
    print(as_text(found))
    return 0


def _list() -> str:
    lines: list[str] = []
    for family, title in FAMILIES.items():
        rules = rules_of(family)
        if rules:
            lines += [
                title,
                *(f"  {rule.name:26} {rule.severities[0].value}" for rule in rules),
                "",
            ]
    return "\n".join(lines) + "\n`fretloom explain NAME` shows the page of a rule."
