"""Where PyInstaller finds our hook; it asks through the entry point `pyinstaller40`."""

from __future__ import annotations

from pathlib import Path


def folders() -> list[str]:
    """Return the folders with hooks: not a package, as a hook cannot be imported by others."""
    return [str(Path(__file__).with_name("pyinstaller"))]
