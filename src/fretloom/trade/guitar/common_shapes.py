"""Common shapes of chords in standard tuning: open ones by name, movable ones by kind of chord.

Common practice, no single source; the tests hear every shape and compare it with its name.
"""

from __future__ import annotations

Frets = tuple[int | None, ...]

#: Open shapes by the chord's canonical name, from string 6 to string 1.
_OPEN = {
    "C": "x32010", "C7": "x32310", "Cmaj7": "x32000", "Cadd9": "x32030", "C6": "x32210",
    "C/G": "332010", "C/E": "032010", "C/B": "x22010", "C/Bb": "x12010",
    "D": "xx0232", "Dm": "xx0231", "D7": "xx0212", "Dm7": "xx0211", "Dmaj7": "xx0222", "D6": "xx0202",
    "Dm6": "xx0201", "Dsus2": "xx0230", "Dsus4": "xx0233", "D7sus4": "xx0213", "D5": "xx023x",
    "D/F#": "2x0232", "D/A": "x00232", "Dm/A": "x00231",
    "E": "022100", "Em": "022000", "E7": "020100", "Em7": "020000", "Emaj7": "021100", "E6": "022120",
    "Em6": "022020", "Esus4": "022200", "E7sus4": "020200", "Eadd9": "022102", "Emadd9": "024000",
    "E9": "020102", "Em9": "020002", "E5": "022xxx", "Em/B": "x22000", "E/B": "x22100",
    "Em/D": "xx0000",
    "F": "133211", "Fmaj7": "xx3210", "F/C": "x33211", "F/A": "x03211",
    "G": "320003", "G7": "320001", "Gmaj7": "320002", "G6": "320000", "Gadd9": "3x0203",
    "Gsus4": "330013", "Gsus2": "300033", "G5": "3x0033", "G/B": "x20003", "G/D": "xx0003",
    "G/F#": "2x0003",
    "A": "x02220", "Am": "x02210", "A7": "x02020", "Am7": "x02010", "Amaj7": "x02120", "A6": "x02222",
    "Am6": "x02212", "Asus2": "x02200", "Asus4": "x02230", "A7sus4": "x02030", "Aadd9": "x02420",
    "Am9": "x02413", "A5": "x022xx", "A/E": "002220", "Am/E": "002210", "A/C#": "x42220",
    "Am/C": "x32210", "Am/G": "302210", "Am/F#": "202210",
    "B7": "x21202", "Bm7": "x20202", "B7sus4": "x22202",
}  # fmt: skip
_X = None
#: Movable shapes by canonical suffix: the string of the root, and each string's fret above the root's.
_MOVABLE: dict[str, tuple[tuple[int, Frets], ...]] = {
    "": ((6, (0, 2, 2, 1, 0, 0)), (5, (_X, 0, 2, 2, 2, 0))),
    "m": ((6, (0, 2, 2, 0, 0, 0)), (5, (_X, 0, 2, 2, 1, 0))),
    "7": ((6, (0, 2, 0, 1, 0, 0)), (5, (_X, 0, 2, 0, 2, 0))),
    "m7": ((6, (0, 2, 0, 0, 0, 0)), (5, (_X, 0, 2, 0, 1, 0))),
    "maj7": ((6, (0, _X, 1, 1, 0, _X)), (5, (_X, 0, 2, 1, 2, 0))),
    "6": ((6, (0, _X, 2, 1, 2, 0)), (5, (_X, 0, 2, 2, 2, 2))),
    "m6": ((6, (0, 2, 2, 0, 2, 0)), (5, (_X, 0, 2, 2, 1, 2))),
    "sus4": ((6, (0, 2, 2, 2, 0, 0)), (5, (_X, 0, 2, 2, 3, 0))),
    "sus2": ((5, (_X, 0, 2, 2, 0, 0)),),
    "7sus4": ((6, (0, 2, 0, 2, 0, 0)), (5, (_X, 0, 2, 0, 3, 0))),
    "5": ((6, (0, 2, 2, _X, _X, _X)), (5, (_X, 0, 2, 2, _X, _X))),
    "add9": ((5, (_X, 0, 2, 4, 2, 0)),),
    "9": ((6, (0, 2, 0, 1, 0, 2)), (5, (_X, 0, -1, 0, 0, _X))),
    "m9": ((5, (_X, 0, -2, 0, 0, _X)),),
    "maj9": ((5, (_X, 0, -1, 1, 0, _X)),),
    "7b9": ((5, (_X, 0, -1, 0, -1, _X)),),
    "7#9": ((5, (_X, 0, -1, 0, 1, _X)),),
    "aug": ((5, (_X, 0, 3, 2, 2, _X)),),
    "m(maj7)": ((5, (_X, 0, 2, 1, 1, 0)),),
    "m7b5": ((6, (0, _X, 0, 0, -1, _X)), (5, (_X, 0, 1, 0, 1, _X))),
    "dim7": ((6, (0, _X, -1, 0, -1, _X)), (5, (_X, 0, 1, -1, 1, _X))),
    "13": ((6, (0, _X, 0, 1, 2, _X)),),
}
_OPEN_ROOTS = {6: 4, 5: 9}


def open_shape(name: str) -> Frets | None:
    """Return the open shape of a chord by its canonical name, if there is a common one."""
    text = _OPEN.get(name)
    return None if text is None else tuple(None if one == "x" else int(one) for one in text)


def movable_shape(root: int, suffix: str) -> Frets | None:
    """Return the lowest movable shape of a kind of chord on a root (a pitch class, 0 is C)."""
    found = []
    for string, frets in _MOVABLE.get(suffix, ()):
        place = (root - _OPEN_ROOTS[string]) % 12
        if place + min(fret for fret in frets if fret is not None) < 1:
            place += 12
        found.append((place, tuple(None if fret is None else fret + place for fret in frets)))
    return min(found, key=lambda one: one[0])[1] if found else None


def all_shapes() -> list[tuple[str, Frets]]:
    """Return every open shape with its name, and every movable one on C and on F#."""
    shapes = [(name, frets) for name in _OPEN if (frets := open_shape(name))]
    for suffix in _MOVABLE:
        for note, root in (("C", 0), ("F#", 6)):
            frets = movable_shape(root, suffix)
            if frets is not None:
                shapes.append((note + suffix, frets))
    return shapes
