"""The staves of a score: which there are in each layout, and what stands on them."""

from __future__ import annotations

from fretloom.values import frozen


@frozen(kw_only=True)
class Staff:
    """A staff of a part.

    Args:
        number: its place from the top, "" if it is the only one.
        voices: names of the fingers' and the thumb's voice, and of a further one for each.
        tab: whether it is tablature. fingers: whether all that stands once in a score stands on it:
            rhythm, fingers, accents, rolls, words, chord symbols, loudness.
        places: whether string and fret are kept, out of sight, on a staff of notation.
    """

    number: str = ""
    voices: tuple[str, str, str, str] = ("1", "2", "3", "4")
    tab: bool = False
    fingers: bool = True
    places: bool = False

    @property
    def digits(self) -> bool:
        """Whether it is tablature beside notation: only digits and techniques, rhythm stands above."""
        return self.tab and not self.fingers


#: For each layout its parts, and for each part its staves from the top; the first is the default.
LAYOUTS: dict[str, tuple[tuple[Staff, ...], ...]] = {
    "notation-and-tab": (
        (
            Staff(number="1"),
            Staff(number="2", voices=("5", "6", "7", "8"), tab=True, fingers=False),
        ),
    ),
    "two-parts": ((Staff(),), (Staff(tab=True, fingers=False),)),
    "notation": ((Staff(places=True),),),
    "tab": ((Staff(tab=True),),),
}
