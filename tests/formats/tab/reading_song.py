"""Tab of short lessons for the tests of whole songs, and ways to read parts of it."""

from __future__ import annotations

from itertools import pairwise

from timeline_lessons import expanded

from fretloom.formats.tab.options import TabOptions
from fretloom.formats.tab.page import to_tab


def page(body: str, width: int = 78, unrolled: bool = False) -> list[str]:
    """Return the tab of a lesson with the usual voicings and patterns; there is no error in it."""
    expansion = expanded(body)
    assert [one.message for one in expansion.diagnostics if one.severity.value == "error"] == []
    return to_tab(expansion.timeline, TabOptions(width=width, unrolled=unrolled)).splitlines()


def section(*lines: str, form: str = "verse") -> str:
    head = ["section verse  using plain", *(f"  {line}" for line in lines), "form"]
    return "\n".join([*head, *(f"  {line}" for line in form.split("\n"))]) + "\n"


def marks(lines: list[str]) -> list[str]:
    """Return what stands between the numbers of each line of bars and its chords."""
    found: list[str] = []
    for place, line in enumerate(lines):
        if line.startswith(("bar ", "bars ", "pickup")):
            first = next(n for n in range(place, len(lines)) if lines[n][1:2] == "|")
            found += [" ".join(one.split()) for one in lines[place + 1 : first - 2]]
    return found


def titles(lines: list[str]) -> list[str]:
    return [one for one, rule in pairwise(lines) if one and set(rule) == {"-"}]


def order(lines: list[str]) -> str:
    """Return the order of the sections as one text."""
    start = lines.index("Order") + 2
    return " ".join(" ".join(lines[start : lines.index("", start)]).split())


def rows(lines: list[str]) -> list[str]:
    """Return the rows below the thumb's, of all lines of bars."""
    found: list[str] = []
    for place, line in enumerate(lines):
        if line.startswith("E|"):
            end = lines.index("", place)
            thumb = max(n for n in range(place, end) if set(lines[n]) <= set(" p") or n == place)
            found += lines[thumb + 1 : end]
    return found
