"""Voicings: how the fretting hand stops the strings."""

from __future__ import annotations

import re
from typing import Literal

from attrs import field
from attrs.validators import deep_iterable, ge, optional

from fretloom.shapes import shaped
from fretloom.values import frozen

FrettingFinger = Literal["1", "2", "3", "4", "T"]
FINGERS: tuple[FrettingFinger, ...] = ("1", "2", "3", "4", "T")


@shaped()
@frozen
class Hop:
    """Within a bar, `finger` leaves its place for `string` at `fret` when that string is plucked."""

    finger: FrettingFinger
    string: int
    fret: int


@frozen
class Barre:
    """One finger over several strings at a fret: `first` is the string with the highest number."""

    finger: str
    fret: int
    first: int
    last: int


@frozen(kw_only=True)
class Voicing:
    """Frets and fingers from the string with the highest number to string 1.

    Args:
        name: the name in the lesson (`G.full`), `symbol` the printed part of it (`G`); empty
            symbol for a plain name such as `walkdown`.
        frets: None for a string that is not played, 0 open, else the fret counted from the capo.
        fingers: `1` to `4` or `T`, None for no finger; empty when no fingering is known.
        bass: strings the thumb walks when a pattern says only `p`; never empty once resolved.
        bass_given: whether the teacher wrote the order (else it was derived).
        fingers_given: whether the teacher wrote the fingers (else they were found, or are missing).
    """

    name: str
    symbol: str = ""
    frets: tuple[int | None, ...] = field(validator=deep_iterable(optional(ge(0))))
    fingers: tuple[str | None, ...] = ()
    bass: tuple[int, ...] = ()
    hops: tuple[Hop, ...] = ()
    bass_given: bool = False
    fingers_given: bool = False

    @property
    def silent(self) -> bool:
        """Whether it says that there is no chord, and no string is played."""
        return self.symbol == NO_CHORD and all(fret is None for fret in self.frets)

    def fret(self, string: int) -> int | None:
        """Return the fret of a string (1 is the highest), None if it is not played."""
        return self.frets[len(self.frets) - string]

    def finger(self, string: int) -> str | None:
        """Return the finger that stops a string, None if there is none or it is not known."""
        return self.fingers[len(self.fingers) - string] if self.fingers else None

    def strings_of(self, finger: str) -> tuple[int, ...]:
        """Return the strings a finger is written on, highest number first."""
        count = len(self.fingers)
        return tuple(count - index for index, held in enumerate(self.fingers) if held == finger)

    @property
    def barres(self) -> tuple[Barre, ...]:
        """Its barres: a finger that is on two strings or more of a fret."""
        held: dict[tuple[str, int], list[int]] = {}
        for string in range(len(self.frets), 0, -1):
            finger, fret = self.finger(string), self.fret(string)
            if finger and fret:
                held.setdefault((finger, fret), []).append(string)
        return tuple(
            Barre(finger, fret, strings[0], strings[-1])
            for (finger, fret), strings in held.items()
            if len(strings) > 1
        )

    @property
    def frets_text(self) -> str:
        """The trade's way to write the frets: `x32010`, or `x-10-12-12-11-10` past fret 9."""
        return frets_text(self.frets)

    @property
    def fingers_text(self) -> str:
        """The fingers as a lesson writes them: `.231..`; empty when unknown."""
        return fingers_text(self.fingers)


def frets_text(frets: tuple[int | None, ...]) -> str:
    """Write frets as the trade does: `x32010`, or `x-10-12-12-11-10` past fret 9."""
    places = ["x" if fret is None else str(fret) for fret in frets]
    return ("-" if any(len(place) > 1 for place in places) else "").join(places)


def fingers_text(fingers: tuple[str | None, ...]) -> str:
    """Write fingers as a lesson does: `.231..`; empty when there are none."""
    return "".join(finger or "." for finger in fingers)


#: What is written where no chord is played; people write it in several ways.
NO_CHORD = "N.C."
_NO_CHORD = re.compile(r"n\.?\s?c\.?|no[\s-]chord", re.IGNORECASE)


def is_no_chord(text: str) -> bool:
    """Whether a text says that there is no chord: `N.C.`, `n.c.`, `NC`, `no chord`."""
    return text[:1] in tuple("nN") and _NO_CHORD.fullmatch(text) is not None


def one_no_chord(name: str) -> str:
    """Return the name of a voicing, and `N.C.` for all ways to write that there is no chord."""
    return NO_CHORD if is_no_chord(name) else name


_TAGGED = re.compile(r"(.+?)\.([a-z][a-z0-9_-]*)")


def split_name(name: str) -> tuple[str, str]:
    """Return the chord symbol in a voicing's name and its tag: `G.full` gives ("G", "full").

    The symbol is "" for a plain name, which starts with a small letter.
    """
    match = _TAGGED.fullmatch(name)
    symbol, tag = (match[1], match[2]) if match else (name, "")
    return ("" if symbol[:1].islower() else symbol), tag
