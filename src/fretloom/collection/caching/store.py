"""The file in which results are kept: one for each collection, safe to delete, whole at any time.

An entry holds for a file under its name in a root, as long as the texts of it and of all files read
for it are the same. Two runs at once do no harm: each writes the whole file, and the later one stays.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from fretloom.collection.caching.packing import LAYOUT, digest, packed, unpacked
from fretloom.collection.results import Checked
from fretloom.errors import FretloomError, LessonUnreadable, NotWritten
from fretloom.files import read_text, write_atomically
from fretloom.version import VERSION

#: Entries that are kept although the run did not ask for them.
_MOST_KEPT = 20_000


class Store:
    """The results of earlier checks, and those that are added to them.

    It never makes a check fail: what cannot be read or written is as if nothing had been kept.
    """

    def __init__(self, folder: Path, root: str) -> None:
        self.file = folder / f"check-{digest(root)[:16]}.json"
        self.maker = _maker()
        self.entries: dict[str, Any] = {}
        self.used: set[str] = set()
        self.changed = False
        self._texts: dict[str, tuple[str, str] | None] = {}
        self._folders: dict[str, str] = {}
        self._read()

    def _read(self) -> None:
        try:
            data = json.loads(self.file.read_bytes())
            if data["maker"] == self.maker and isinstance(data["entries"], dict):
                self.entries = data["entries"]
        except (OSError, ValueError, KeyError, TypeError, RecursionError):
            self.entries = {}

    def get(self, name: str, root: str, style: object = None) -> Checked | None:
        """Return what was found in a file before, None if that is not known or no longer holds."""
        key = _key(name, root, style)
        entry = self.entries.get(key)
        if entry is None:
            return None
        self.used.add(key)
        try:
            if all(self._place(file) == place for file, place in entry["places"].items()):
                return unpacked(name, entry, self._same_text)
        except (KeyError, IndexError, TypeError, ValueError, AttributeError, FretloomError):
            pass
        return None

    def put(self, checked: Checked, root: str, style: object = None) -> None:
        """Keep what was found in a file."""
        key = _key(checked.name, root, style)
        entry = packed(checked)
        self.changed = True
        if entry is None:
            self.entries.pop(key, None)
            return
        self.used.add(key)
        entry["places"] = {one.name: self._place(one.name) for one in checked.texts}
        self.entries[key] = entry

    def save(self) -> str:
        """Write what is new; returns why that was not possible, "" if it was."""
        if not self.changed:
            return ""
        entries = self.entries
        if len(entries) > _MOST_KEPT:
            entries = {key: one for key, one in entries.items() if key in self.used}
        try:
            self.file.parent.mkdir(parents=True, exist_ok=True)
            write_atomically(self.file, json.dumps({"maker": self.maker, "entries": entries}))
        except NotWritten as error:
            return str(error)
        except OSError as error:
            return f"{self.file.parent} cannot be made: {error.strerror or error}"
        return ""

    def _same_text(self, file: str, kept: str) -> str | None:
        """Return the text of a file if it has the digest; each file is read once."""
        if file not in self._texts:
            try:
                text = read_text(file)
            except LessonUnreadable:
                self._texts[file] = None
            else:
                self._texts[file] = text, digest(text)
        found = self._texts[file]
        return found[0] if found is not None and found[1] == kept else None

    def _place(self, name: str) -> str:
        """Return where a file is, links followed: one may be turned elsewhere while the text stays the same."""
        if os.path.islink(name):  # noqa: PTH114
            return os.path.realpath(name)
        folder, file = os.path.split(name)
        if folder not in self._folders:
            self._folders[folder] = os.path.realpath(folder)
        return os.path.join(self._folders[folder], file)  # noqa: PTH118


def default_folder(environment: Mapping[str, str] = os.environ) -> Path | None:
    """Return where a system keeps what programs can make again, None if it is not known."""
    if sys.platform == "win32":
        named, usual = environment.get("LOCALAPPDATA"), ""
    elif sys.platform == "darwin":
        named, usual = "", "Library/Caches"
    else:
        named, usual = environment.get("XDG_CACHE_HOME"), ".cache"
    if named and Path(named).is_absolute():
        return Path(named, "fretloom")
    home = environment.get("HOME")
    return Path(home, usual, "fretloom") if home and usual and Path(home).is_absolute() else None


def _key(name: str, root: str, style: object) -> str:
    """Return what a result is kept under: another house style finds other things in the same file."""
    return f"{name}\0{root}" if style is None else f"{name}\0{root}\0{style!r}"


def _maker() -> str:
    """Return what made the results: the version, its code and Python's own version."""
    stamps = sorted(_stamps(Path(__file__).parents[2]))
    python = f"{sys.version_info[0]}.{sys.version_info[1]}"
    return digest("\0".join((VERSION, python, str(LAYOUT), *stamps)))


def _stamps(folder: Path) -> list[str]:
    """Return each module of the package with its size and time; none where they do not lie in folders."""
    found: list[str] = []
    try:
        for entry in os.scandir(folder):
            if entry.is_dir():
                found += _stamps(Path(entry.path)) if entry.name != "__pycache__" else []
            elif not entry.name.endswith(".pyc"):
                status = entry.stat()
                found.append(f"{entry.name} {status.st_size} {status.st_mtime_ns}")
    except OSError:
        return []
    return found
