"""Reads tab back from plain text, knowing nothing of how it was written."""

from __future__ import annotations

import re

_STRING = re.compile(r" *[A-Ga-g][#b]{0,2}\|[-=0-9X{}<>()HPbgrtful/\\+~_'%:|]+")
#: What is said of a fret in figures: how far it is bent, what it is trilled with, where it is touched.
_FIGURES = re.compile(r"b\([^)]*\)|tr\(\d+\)|(?<=\d)<\d+>")
_FRET = re.compile(r"\(\d+\)|\d+|X")


def tab_systems(text: str) -> list[list[str]]:
    """Return the string lines of each system."""
    systems: list[list[str]] = [[]]
    for line in text.splitlines():
        if _STRING.fullmatch(line):
            systems[-1].append(line)
        elif systems[-1]:
            systems.append([])
    return [system for system in systems if system]


def bar_columns(line: str) -> list[int]:
    """Return where the bar lines stand."""
    return [column for column, sign in enumerate(line) if sign == "|"]


def frets_of(systems: list[list[str]], string: int) -> list[str]:
    """Return all frets written on a string in order, without those that only ring on."""
    found: list[str] = []
    for system in systems:
        inside = system[string - 1].split("|", 1)[1]
        plain = _FIGURES.sub("", inside)
        found += [word for word in _FRET.findall(plain) if not word.startswith("(")]
    return found


def columns_of(line: str) -> dict[int, str]:
    """Return the frets of one line by the column at which they start."""
    label = line.index("|")
    return {match.start(): match[0] for match in _FRET.finditer(line) if match.start() > label}
