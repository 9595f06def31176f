"""Where PyInstaller finds our hook; it asks through the entry point `pyinstaller40`."""

from __future__ import annotations

import os


def folders() -> list[str]:
    """Return the folders with hooks: this one."""
    return [os.path.dirname(__file__)]  # noqa: PTH120
