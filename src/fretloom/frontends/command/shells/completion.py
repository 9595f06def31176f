"""`fretloom completion`: prints what a shell completes the command's words with."""

from __future__ import annotations

import argparse
from importlib import import_module

SHELLS = ("bash", "zsh", "fish")


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("shell", choices=SHELLS, metavar="SHELL", help=", ".join(SHELLS))


def run(options: argparse.Namespace) -> int:
    """Print the script for a shell; returns the exit code."""
    from fretloom.frontends.command.main import whole_parser
    from fretloom.frontends.command.shells.described import described

    writer = import_module(f"fretloom.frontends.command.shells.{options.shell}")
    print(writer.script(described(whole_parser())), end="")
    return 0
