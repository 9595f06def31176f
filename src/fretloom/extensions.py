"""Rules and formats that other installed packages offer, by the entry points they declare.

An entry point is how an installed package says that it has something for another one (packaging.python.org,
"Entry points specification"). Nothing of such a package is imported before it is needed.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import TypeVar

from attrs import field

from fretloom.errors import ExtensionFaulty
from fretloom.values import frozen

#: The groups of entry points that are looked at.
RULES, FORMATS = "fretloom.rules", "fretloom.formats"
_SIGN = b"[fretloom."
_LONGEST_REASON = 300

T = TypeVar("T")


@frozen
class Offer:
    """Something that an installed package offers: the entry point's name, the package, and where it stands."""

    name: str
    package: str
    place: str
    _load: object = field(eq=False, repr=False)

    def load(self, kind: type[T]) -> T:
        """Import what is offered.

        Raises:
            ExtensionFaulty: it cannot be imported, or is not of the kind.
        """
        try:
            found = self._load()  # type: ignore[operator]
        except (Exception, SystemExit) as error:
            raise ExtensionFaulty(f"{self} could not be loaded: {why(error)}") from error
        if not isinstance(found, kind):
            raise ExtensionFaulty(
                f"{self} is not of the class {kind.__name__}, but {type(found).__name__}"
            )
        return found

    def __str__(self) -> str:
        return f"{self.place}, which the package {self.package} offers,"


def failed(kind: str, name: str, group: str, row: object, what: str) -> ExtensionFaulty:
    """Return the exception about a rule or a format of another package that does not do what it should.

    Args:
        kind: what it is, "rule" or "format"; `name` is its own.
        group: where it is offered; `row` is what was loaded from there.
        what: what it did, as it follows its name.
    """
    packages = (one.package for one in offers(group) if one.load(object) is row)
    package = next((f"the package {one}" for one in packages), "another package")
    return ExtensionFaulty(f"the {kind} {name}, of {package}, {what}")


def why(error: BaseException) -> str:
    """Return what another package raised, in a few words."""
    return f"{type(error).__name__}: {error}"[:_LONGEST_REASON]


@cache
def offers(group: str) -> tuple[Offer, ...]:
    """Return what the installed packages offer in a group, by name; looked up once."""
    if not any(map(_declares_some, sys.path)):
        return ()
    from importlib.metadata import entry_points

    found = {
        Offer(one.name, one.dist.name if one.dist else "?", one.value, one.load)
        for one in entry_points(group=group)
    }
    return tuple(sorted(found, key=lambda one: (one.name, one.package)))


def _declares_some(folder: str) -> bool:
    """Whether a package in a folder of the import path seems to offer something.

    Python's own search takes longer than a whole check, so these files are looked at first.
    """
    place = Path(folder or ".")
    if place.is_file():
        return True  # An archive is for Python's own search.
    return any(_SIGN in declared for declared in _declarations(place))


def _declarations(folder: Path) -> Iterator[bytes]:
    try:
        names = [one for one in folder.iterdir() if one.suffix in (".dist-info", ".egg-info")]
    except OSError:
        return
    for name in names:
        try:
            yield (name / "entry_points.txt").read_bytes()
        except OSError:
            continue
