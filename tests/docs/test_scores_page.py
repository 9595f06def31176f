"""The page of engraved examples shows each of them."""

from __future__ import annotations

import re

from places import EXAMPLES, PROJECT

import fretloom

SCORES = PROJECT / "docs" / "_static" / "scores"
MOST_BYTES = 3_000_000


def test_each_example_is_on_the_page_once_and_no_picture_is_left_over() -> None:
    """Under its title, in the order of the files."""
    page = (PROJECT / "docs" / "reference" / "scores.md").read_text(encoding="utf-8")
    shown = re.findall(
        r"^## (.+)\n\n!\[The first page .*\]\(\.\./_static/scores/(.+)\.svg\)$", page, re.M
    )
    files = sorted(EXAMPLES.glob("*.lesson"))
    assert shown == [(fretloom.load(file).title, file.stem) for file in files]
    assert {one.stem for one in SCORES.glob("*.svg")} == {file.stem for file in files}


def test_each_picture_has_the_title_of_its_lesson() -> None:
    """As it is drawn and not only as the page calls it."""
    for file in EXAMPLES.glob("*.lesson"):
        picture = (SCORES / f"{file.stem}.svg").read_text(encoding="utf-8")
        assert picture.count(fretloom.load(file).title) >= 2, file.stem


def test_the_pictures_are_small() -> None:
    """All together, those of before too."""
    assert sum(one.stat().st_size for one in SCORES.rglob("*.*")) < MOST_BYTES
