"""Prints the lowest versions of what fretloom and its extras depend on, as pyproject.toml allows them, for pip.

With `pip install -c floors.txt -e '.[test]'` just these are installed, and what is promised can be tried.
The tools of the tests may be as new as they like.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

#: Extras for people who use fretloom.
FOR_USERS = ("editor", "pictures", "music21", "paper", "sound")
#: A dependency with its lowest version, whatever comes behind it; nothing but Python is needed to read it.
_LOWEST = re.compile(r"([\w.-]+)(?:\[[^]]*\])?>=([\w.]+)")
PYPROJECT = Path(__file__).parents[2] / "pyproject.toml"


def floors(text: str) -> Iterator[str]:
    """Yield `name==version` for each dependency of the package and of its extras that has a lowest version."""
    project = tomllib.loads(text)["project"]
    extras = project["optional-dependencies"]
    for line in (*project["dependencies"], *(line for name in FOR_USERS for line in extras[name])):
        if found := _LOWEST.match(line):
            yield f"{found[1]}=={found[2]}"


if __name__ == "__main__":
    print(*sorted(set(floors(PYPROJECT.read_text()))), sep="\n")
