"""Options of handouts."""

from __future__ import annotations

from fretloom.formats.options import one_of, several_of, switch
from fretloom.formats.students.plan_options import PlanOptions
from fretloom.formats.students.telling.listener import StringsBy
from fretloom.values import frozen

#: The parts of a handout, in the order of the page.
PARTS = ("road", "shapes", "picking", "steps", "song", "signs", "practice")
#: What each sheet has of them.
SHEETS: dict[str, tuple[str, ...]] = {
    "handout": PARTS,
    "song-sheet": ("words",),
    "wall-card": ("road", "shapes", "picking"),
}


@frozen(kw_only=True)
class HandoutOptions(PlanOptions):
    """What a handout holds, and for whom it is made.

    Args:
        sheet: the whole handout; the song sheet: chords over the words; or the wall card: shapes,
            patterns and the road on a page.
        parts: only these parts of the handout; () for all.
        mirrored: for a player who frets with the right hand.
        large: for large print: 18 points, fewer bars a line.
        page_size: a4 or letter, for printing.
        without_player: without what plays the song and the steps in a browser.
        strings: "numbers" (string 5) or "names" (the A string) in what is said.
        minutes, days, ladder, student, begin, level: of the plan of practice, as in `PracticeOptions`.
    """

    sheet: str = one_of(
        tuple(SHEETS), "the whole handout, chords over words, or a card for the wall"
    )
    parts: tuple[str, ...] = several_of(PARTS, "parts of the handout, in place of all")
    mirrored: bool = switch("as the hands of a left-handed player have it")
    large: bool = switch("in large print")
    page_size: str = one_of(("a4", "letter"), "paper to print on")
    without_player: bool = switch("without what plays the song and the steps in a browser")
    strings: StringsBy = one_of(("numbers", "names"), "how strings are called in words")
