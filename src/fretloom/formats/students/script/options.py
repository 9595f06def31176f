"""Options of the teacher's script."""

from __future__ import annotations

from fretloom.formats.options import FormatOptions, number, one_of, switch
from fretloom.values import frozen


@frozen(kw_only=True)
class ScriptOptions(FormatOptions):
    """How a script is written.

    Args:
        rate: words a minute that the teacher speaks, from 60 to 240.
        strings: "numbers" (string 5) or "names" (the A string).
        finger_words: fretting fingers by their "names", or by "figures" as in diagrams.
        mirrored: for a teacher who frets with the right hand.
    """

    rate: int = number(140, "words a minute that are spoken", least=60, most=240)
    strings: str = one_of(("numbers", "names"), "how strings are called in words")
    finger_words: str = one_of(("names", "figures"), "how fretting fingers are called in words")
    mirrored: bool = switch("as the hands of a left-handed player have it")
