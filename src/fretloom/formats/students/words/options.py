"""Options of the lesson in words."""

from __future__ import annotations

from fretloom.formats.options import FormatOptions, one_of, switch
from fretloom.values import frozen


@frozen(kw_only=True)
class WordsOptions(FormatOptions):
    """How a lesson is put into words.

    Args:
        wording: "markdown"; "plain", text without any marks; or "spoken", for those who hear it: bar by bar, with
            every note, and signs as words.
        strings: "numbers" (string 5) or "names" (the A string); those that share a name go by number.
        finger_words: fretting fingers by their "names", or by "figures" as in diagrams.
        mirrored: for a player who frets with the right hand.
    """

    wording: str = one_of(("markdown", "plain", "spoken"), "how the words are set out")
    strings: str = one_of(("numbers", "names"), "how strings are called in words")
    finger_words: str = one_of(("names", "figures"), "how fretting fingers are called in words")
    mirrored: bool = switch("as the hands of a left-handed player have it")
