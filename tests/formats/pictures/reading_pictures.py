"""Pictures made for tests, and read without the code that writes them."""

from __future__ import annotations

import re
from collections import Counter

from lxml import etree
from places import EXAMPLES, TESTS

import fretloom

SVG = "{http://www.w3.org/2000/svg}"
LINK = "{http://www.w3.org/1999/xlink}href"
LESSONS = sorted(
    [*EXAMPLES.glob("*.lesson"), *(TESTS / "formats" / "musicxml").glob("golden/*.lesson")]
)
SHORT = """
lesson "Two Cups"
  capo 3
  plays in C
  meter 4/4
  tempo 84
voicings
  C x32010 fingers .32.1. bass 5 4 5 4
patterns
  plain p , p m , p i , p m
section verse using plain "Verse"
  C | C | C:3 C:1
"""


def pictures(text: str = SHORT, to: str = "svg", **options: object) -> tuple[fretloom.Output, ...]:
    """Return the pictures of a lesson's text."""
    return fretloom.export(fretloom.loads(text), to, fretloom.PictureOptions(**options))


def tree(output: fretloom.Output) -> etree._Element:
    """Return a picture as lxml reads it."""
    return etree.fromstring(output.data)


def texts(output: fretloom.Output, kind: str) -> list[str]:
    """Return the texts of a class."""
    return [
        "".join(one.itertext())
        for one in tree(output).iter(f"{SVG}text")
        if one.get("class") == kind
    ]


def frets_written(score: bytes) -> Counter[str]:
    """Return the frets that a MusicXML file has on tablature, hidden ones not counted."""
    root = etree.fromstring(score)
    found: Counter[str] = Counter()
    for part in root.iter("part"):
        clefs = {one.get("number", "1"): one.findtext("sign") for one in part.iter("clef")}
        for note in part.iter("note"):
            tab = clefs[note.findtext("staff", "1")] == "TAB"
            if tab and note.get("print-object") != "no":
                found.update(
                    note.xpath("string(notations/technical/fret)") for _ in note.iter("pitch")
                )
    return found


def size_in_mm(output: fretloom.Output) -> tuple[float, float]:
    """Return width and height."""
    root = tree(output)
    return tuple(
        float(re.fullmatch(r"([\d.]+)mm", root.get(name))[1]) for name in ("width", "height")
    )
