"""Finds the configuration of a lesson: in its folder or the nearest folder above, wherever one stands."""

from __future__ import annotations

import os
from pathlib import Path

from fretloom.collection.configuration.reading import PLACES, read_configuration
from fretloom.collection.configuration.values import Configuration
from fretloom.errors import FretloomError
from fretloom.text import shown_name


class Configurations:
    """The configurations of many lessons, each read once."""

    def __init__(self) -> None:
        self._known: dict[Path, Configuration] = {}

    def of_folder(self, folder: Path) -> Configuration:
        """Return what holds for the lessons in a folder, given by its resolved path; an empty one if nothing does.

        Raises:
            FretloomError: it is faulty, or two files of one folder settle it.
        """
        found = self._known.get(folder)
        if found is not None:
            return found
        passed: list[Path] = []
        for place in (folder, *folder.parents):
            found = self._known.get(place)
            if found is None:
                passed.append(place)
                found = _in(place)
            if found is not None:
                break
        settled = found if found is not None else Configuration()
        self._known.update(dict.fromkeys(passed, settled))
        return settled


def configuration_of(lesson: str | Path) -> Configuration:
    """Return what holds for a lesson, or for the lessons in a folder; an empty one if nothing does.

    Raises:
        FretloomError: the configuration is faulty.
    """
    place = resolved(Path(lesson))
    return Configurations().of_folder(place if os.path.isdir(place) else place.parent)  # noqa: PTH112


def resolved(path: Path) -> Path:
    """Follow all links; a path that leads in circles stays as it is, and reading it fails later."""
    try:
        return path.resolve()
    except (OSError, RuntimeError, ValueError):
        return path.absolute()


def _in(folder: Path) -> Configuration | None:
    """Return the configuration in a folder itself."""
    # `os.path` takes what cannot be looked at for what is not there.
    files = [folder / name for name in PLACES if os.path.isfile(folder / name)]  # noqa: PTH113
    found = [one for one in map(read_configuration, files) if one is not None]
    if len(found) > 1:
        first, second = (shown_name(one.file) for one in found)
        raise FretloomError(f"{first} and {second} both settle what is checked: keep one of them")
    return found[0] if found else None
