"""The table of printed voicings and the shapes no hand can hold, for the tests of hands."""

from __future__ import annotations

import json
import zlib
from functools import cache
from typing import Any, NamedTuple

from places import DATA


class Row(NamedTuple):
    """A voicing of the table."""

    index: int
    frets: tuple[int | None, ...]
    fingers: tuple[str | None, ...]

    @property
    def well_formed(self) -> bool:
        """Whether every stopped string has a finger and no other string has."""
        return all(
            bool(fret) == bool(finger)
            for fret, finger in zip(self.frets, self.fingers, strict=True)
        )

    @property
    def held_out(self) -> bool:
        """Whether its shape, wherever on the neck, was kept out of the fitting of weights."""
        lowest = min(fret for fret in self.frets if fret)
        moved = [-1 if fret is None else fret and fret - lowest + 1 for fret in self.frets]
        return zlib.crc32(",".join(map(str, moved)).encode()) % 2 == 1


def shape(text: str) -> tuple[int | None, ...]:
    """Read frets such as `x32010`."""
    return tuple(None if fret == "x" else int(fret) for fret in text)


def hand(text: str) -> tuple[str | None, ...]:
    """Read fingers such as `.32.1.`."""
    return tuple(None if finger == "." else finger for finger in text)


@cache
def table() -> tuple[Row, ...]:
    """Return all 2,069 voicings."""
    rows = []
    for line in (DATA / "voicings.tsv").read_text("utf-8").splitlines():
        if line[0].isdigit():
            index, *_, frets, fingers = line.split("\t")
            read = tuple(None if fret == "x" else int(fret) for fret in frets.split("-"))
            rows.append(
                Row(int(index), read, tuple(None if one == "0" else one for one in fingers))
            )
    return tuple(rows)


@cache
def impossible() -> tuple[dict[str, Any], ...]:
    """Return the shapes that no hand can hold."""
    return tuple(json.loads((DATA / "impossible_shapes.json").read_text("utf-8"))["shapes"])
