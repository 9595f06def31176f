"""Chord kinds of MusicXML 4.0 (`kind-value`) and the `degree` elements that complete them."""

from __future__ import annotations

from fretloom.trade.harmony.degrees import ROOT, Degree
from fretloom.trade.harmony.quality import Quality

_KINDS: dict[str, str] = {
    "major": "3 5",
    "minor": "b3 5",
    "augmented": "3 #5",
    "diminished": "b3 b5",
    "dominant": "3 5 b7",
    "major-seventh": "3 5 7",
    "minor-seventh": "b3 5 b7",
    "diminished-seventh": "b3 b5 bb7",
    "augmented-seventh": "3 #5 b7",
    "half-diminished": "b3 b5 b7",
    "major-minor": "b3 5 7",
    "major-sixth": "3 5 6",
    "minor-sixth": "b3 5 6",
    "dominant-ninth": "3 5 b7 9",
    "major-ninth": "3 5 7 9",
    "minor-ninth": "b3 5 b7 9",
    "dominant-11th": "3 5 b7 9 11",
    "major-11th": "3 5 7 9 11",
    "minor-11th": "b3 5 b7 9 11",
    "dominant-13th": "3 5 b7 9 11 13",
    "major-13th": "3 5 7 9 11 13",
    "minor-13th": "b3 5 b7 9 11 13",
    "suspended-second": "2 5",
    "suspended-fourth": "4 5",
    "power": "5",
}
_ALTERS = {"": 0, "b": -1, "#": 1, "bb": -2}

#: One `degree`: (degree-value, degree-alter, degree-type), the type being add, alter or subtract.
DegreeChange = tuple[int, int, str]
_ALTERED: tuple[DegreeChange, ...] = (
    (5, -1, "alter"),
    (9, -1, "add"),
    (9, 1, "add"),
    (13, -1, "add"),
)


def _degree(text: str) -> Degree:
    number = text.lstrip("b#")
    return Degree(int(number), _ALTERS[text[: -len(number)]])


KINDS: dict[str, frozenset[Degree]] = {
    name: frozenset({ROOT, *map(_degree, degrees.split())}) for name, degrees in _KINDS.items()
}


def musicxml_kind(quality: Quality | None) -> tuple[str, tuple[DegreeChange, ...]]:
    """Return the kind that needs the fewest `degree` elements, and these; "none" for "no chord".

    A kind is taken only for chords with the same seventh, if any: readers take an added seventh for
    a major one (7sus4 is therefore the dominant kind with 4 added and 3 subtracted). A minor kind is
    never made from a major one, nor the other way round.
    """
    if quality is None:
        return "none", ()
    if quality.altered:
        return "dominant", _ALTERED
    wanted = frozenset(quality.degrees)
    fitting = {
        name: _changes(degrees, wanted)
        for name, degrees in KINDS.items()
        if _on(7, degrees) == _on(7, wanted)
        and not (_on(3, degrees) and _on(3, wanted) and _on(3, degrees) != _on(3, wanted))
    }
    kind = min(fitting, key=lambda name: len(fitting[name]))
    return kind, fitting[kind]


def _on(number: int, degrees: frozenset[Degree]) -> set[int]:
    return {one.alter for one in degrees if one.number == number}


def _changes(kind: frozenset[Degree], wanted: frozenset[Degree]) -> tuple[DegreeChange, ...]:
    missing = sorted(kind - wanted)
    extra = sorted(wanted - kind)
    changes: list[DegreeChange] = []
    for gone in missing:
        other = next((one for one in extra if one.number == gone.number), None)
        if other is None:
            changes.append((gone.number, 0, "subtract"))
        else:
            extra.remove(other)
            changes.append((gone.number, other.alter - gone.alter, "alter"))
    changes += [(one.number, one.alter, "add") for one in extra]
    return tuple(sorted(changes, key=lambda change: (change[2] == "subtract", change)))
