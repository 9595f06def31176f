"""`python -m fretloom` is the command `fretloom`."""

from __future__ import annotations

import sys

from fretloom.frontends.command.main import main

__all__ = ["main"]

if __name__ == "__main__":
    sys.exit(main())
