"""Options of MusicXML, plain and packed."""

from __future__ import annotations

from fretloom.formats.musicxml.planning.staves import LAYOUTS
from fretloom.formats.options import date, one_of, switch
from fretloom.values import frozen


@frozen(kw_only=True)
class ScoreOptions:
    """How a score is written.

    Args:
        layout: "notation-and-tab" (one part with two staves), "two-parts", "notation" or "tab".
        concert: what sounds is written instead of what the hand plays with the capo.
        ring_ties: every note that rings over a bar line is marked with a let-ring tie. Left off, the
            words "let ring" stand over the first bar: some programs play a bar late after such ties.
        encoding_date: a day, `YYYY-MM-DD`, to be stated in the file; None states none.
    """

    layout: str = one_of(tuple(LAYOUTS), "which staves there are, in one part or two")
    concert: bool = switch("what sounds, instead of what the hand plays under the capo")
    ring_ties: bool = switch("a let-ring tie on each note that rings over a bar line")
    encoding_date: str | None = date("a day to be stated in the file")
