"""The gallery shows each example's handout, and each picture leads to its page."""

from __future__ import annotations

import re

from places import EXAMPLES, PROJECT

import fretloom

DOCS = PROJECT / "docs"
PICTURES = DOCS / "_static" / "handouts"
MOST_BYTES = 1_500_000


def test_each_example_is_in_the_gallery_once_and_no_picture_is_left_over() -> None:
    """With its title, in the order of the page of scores."""
    page = (DOCS / "gallery.md").read_text(encoding="utf-8")
    shown = re.findall(
        r'href="handouts/([^"]+)\.handout\.html"><img src="_static/handouts/([^"]+)\.png"', page
    )
    names = {file.stem for file in EXAMPLES.glob("*.lesson")}
    assert [one for one, other in shown if one != other] == []
    assert sorted(one for one, _ in shown) == sorted(names)
    assert {one.stem for one in PICTURES.glob("*.png")} == names
    for name in names:
        assert f"<b>{fretloom.load(EXAMPLES / f'{name}.lesson').title}</b>" in page, name


def test_the_front_page_shows_some() -> None:
    page = (DOCS / "index.md").read_text(encoding="utf-8")
    assert len(re.findall(r'<img src="_static/handouts/[^"]+\.png"', page)) >= 3


def test_the_pictures_are_small() -> None:
    assert sum(one.stat().st_size for one in PICTURES.glob("*.png")) < MOST_BYTES
