"""`fretloom language-server`: what an editor shows of a lesson while it is typed."""

from __future__ import annotations

import argparse

from fretloom.errors import FretloomError

_MISSING = "the language server needs another package: pip install 'fretloom[editor]'"


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes: nothing but what the protocol has editors pass on."""
    # Language Server Protocol 3.17, "Implementation Considerations".
    parser.add_argument(
        "--stdio",
        action="store_true",
        help="speak over standard input and output, which it always does",
    )
    parser.add_argument("--clientProcessId", metavar="ID", help=argparse.SUPPRESS)


def run(options: argparse.Namespace) -> int:
    """Serve one editor until it says that it is done; returns the exit code."""
    try:
        from fretloom.frontends.language_server.features import serve
    except ModuleNotFoundError as error:
        if (error.name or "").partition(".")[0] not in ("pygls", "lsprotocol", "cattrs"):
            raise
        raise FretloomError(_MISSING) from None
    return 0 if serve() else 1
