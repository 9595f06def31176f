"""The lowest versions that are tried are those that pyproject.toml allows."""

from __future__ import annotations

import tomllib

import floors
import pytest


def test_each_dependency_and_extra_for_users_has_its_floor() -> None:
    text = '[project]\nname = "kiln"\ndependencies = ["clay>=1.2", "water"]\n[project.optional-dependencies]\n'
    extras = 'editor = []\npictures = ["glaze[blue]>=4.60,<5"]\nmusic21 = []\npaper = ["ash==2"]\nsound = ["kiln[paper]"]\ntest = ["fire>=3"]\n'
    assert sorted(floors.floors(text + extras)) == ["clay==1.2", "glaze==4.60"]


def test_every_dependency_for_users_names_one() -> None:
    """One without would be tried at its newest version only."""
    text = floors.PYPROJECT.read_text(encoding="utf-8")
    project = tomllib.loads(text)["project"]
    wanted = [
        *project["dependencies"],
        *(one for name in floors.FOR_USERS for one in project["optional-dependencies"][name]),
    ]
    assert len(list(floors.floors(text))) == len(wanted)


@pytest.mark.parametrize("extra", floors.FOR_USERS)
def test_the_extras_are_there(extra: str) -> None:
    assert (
        extra
        in tomllib.loads(floors.PYPROJECT.read_text(encoding="utf-8"))["project"][
            "optional-dependencies"
        ]
    )
