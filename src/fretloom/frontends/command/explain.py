"""`fretloom explain`: the pages of the rules, in the terminal."""

from __future__ import annotations

import argparse

from fretloom import api


def explain(options: argparse.Namespace) -> int:
    """Print the page of a rule, or the list of all; returns the exit code."""
    print(api.rules_list() if options.name is None else api.rule_page(options.name))
    return 0
