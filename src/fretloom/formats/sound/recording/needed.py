"""Libraries that sound needs and that not everybody has."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from fretloom.errors import FretloomError

if TYPE_CHECKING:
    from types import ModuleType

#: What installs the libraries that sound needs.
INSTALL = "pip install 'fretloom[sound]'"


def no_room(error: OSError) -> FretloomError:
    """Return what is said where a sound cannot wait on the disk for its level or its end."""
    return FretloomError(f"there is no room for the sound on this disk: {error.strerror or error}")


def needed(name: str, why: str) -> ModuleType:
    """Return the library of a name; `why` is what a sentence says of what it does.

    Raises:
        FretloomError: it is not installed.
    """
    try:
        return import_module(name)
    except (ImportError, OSError):
        # soundfile brings a library of the system, and says so by an OSError where that is missing.
        raise FretloomError(f"{why}, which is not installed: install it with {INSTALL}") from None
