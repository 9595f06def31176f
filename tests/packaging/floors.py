"""Prints the lowest version of each dependency that pyproject.toml allows, as constraints for pip.

`pip install -c floors.txt -e '.[test]'` then installs just these: what is promised there can be tried.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path

from packaging.requirements import Requirement

#: What people install; those for working on the project itself may be as new as they like.
FOR_USERS = ("pictures", "music21", "paper", "sound", "test")
PYPROJECT = Path(__file__).parents[2] / "pyproject.toml"


def floors(text: str) -> Iterator[str]:
    """Yield `name==version` for each dependency of the package and of its extras that has a lowest version."""
    project = tomllib.loads(text)["project"]
    extras = project["optional-dependencies"]
    for line in (*project["dependencies"], *(line for name in FOR_USERS for line in extras[name])):
        wanted = Requirement(line)
        lowest = [one.version for one in wanted.specifier if one.operator == ">="]
        if wanted.name != project["name"] and lowest:
            yield f"{wanted.name}=={lowest[0]}"


if __name__ == "__main__":
    print(*sorted(set(floors(PYPROJECT.read_text()))), sep="\n")
