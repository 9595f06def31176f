"""The signs of a tab: what each looks like in the legend and what it says there.

What draws a sign says so with the value, so that the legend need not look for it in what was drawn.
The order is that of the legend.
"""

from __future__ import annotations

from enum import Enum


class Sign(Enum):
    """A sign, as it is shown in the legend and explained there."""

    NUMBERS = "0 1 2", "frets, 0 the open string; the top line is string 1"
    HAMMER_ON = "h", "hammer-on: a finger comes down, the string is not plucked again"
    PULL_OFF = "p", "pull-off: the finger plucks the string as it leaves"
    SLIDE_UP = "/", "slide up to the fret"
    SLIDE_DOWN = "\\", "slide down to the fret"
    HARMONIC = "<12>", "natural harmonic: touch the string over the fret, do not press"
    DEAD = "x", "on a line: dead note, the string is damped"
    RINGING = "(2)", "still ringing from the bar before, not plucked again"
    ROLLED = "{", "rolled: the strings one quickly after the other"
    AGAIN = "%", "the bar before once more"
    REPEAT = "|: :|", "repeat what stands between, twice in all if no number says more"
    HALF = "&", "half way to the next number: say 'and'"
    QUARTERS = "e & a", "the quarters between two numbers: say '1 e and a'"
    THIRDS = "trip let", "the thirds between two numbers: say '1 trip let'"
    SHARES = (
        ".",
        "a further equal share: all signs from one number to the next are equally far apart",
    )
    BETWEEN = ",", "a note between two numbers, where they are divided too finely to be counted"
    OPEN = "(open)", "from here on the fretting hand has let go: open strings"
    STOP = "(stop)", "all strings are damped"
    REST = "rest", "silence: all strings are damped"
    ROLL_FINGERS = "{...}", "the fingers of a roll in the order in which they play"
    BRUSH = "p6-4", "a brush: one finger across the strings, from the first to the last"
    ACCENT = ">", "after a finger: accent, play it louder"
    UNPLAYED = "x", "in the table of voicings: the string is not played"

    def __init__(self, shown: str, meaning: str) -> None:
        self.shown = shown
        self.meaning = meaning
