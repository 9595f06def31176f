"""The signs of a tab: what each looks like in the legend and what it says there.

Whatever draws a sign also returns it, so that the legend does not have to look for it in the
drawing. They are listed in the order of the legend.
"""

from __future__ import annotations

from enum import Enum


class Sign(Enum):
    """A sign as the legend shows and explains it."""

    NUMBERS = "0 1 2", "frets, 0 the open string; the top line is string 1"
    HAMMER_ON = "h", "hammer-on: a finger comes down, the string is not plucked again"
    PULL_OFF = "p", "pull-off: the finger plucks the string as it leaves"
    SLIDE_UP = "/", "slide up to the fret"
    SLIDE_DOWN = "\\", "slide down to the fret"
    HARMONIC = "<12>", "natural harmonic: touch the string over the fret, do not press"
    DEAD = "x", "on a line: dead note, the string is damped"
    RINGING = "(2)", "still ringing from the bar before, not plucked again"
    ROLLED = "{", "rolled: one string quickly after the other"
    AGAIN = "%", "play the bar before again"
    REPEAT = "|: :|", "repeat what is between them, twice in all unless a number says more"
    HALF = "&", "half way to the next number: say 'and'"
    QUARTERS = "e & a", "the quarters between two numbers: say '1 e and a'"
    THIRDS = "trip let", "the thirds between two numbers: say '1 trip let'"
    SHARES = (
        ".",
        "one more equal part: the signs from one number to the next are equally far apart",
    )
    BETWEEN = ",", "a note between two numbers, in a beat divided too finely to count"
    OPEN = "(open)", "the fretting hand lets go: open strings from here on"
    STOP = "(stop)", "all strings are damped"
    REST = "rest", "silence: all strings are damped"
    ROLL_FINGERS = "{...}", "a roll: the fingers in the order they pluck"
    BRUSH = "p6-4", "a brush: one finger across the strings, from the first to the last"
    ACCENT = ">", "after a finger: accent, play it louder"
    UNPLAYED = "x", "in the table of voicings: do not play the string"

    def __init__(self, shown: str, meaning: str) -> None:
        self.shown = shown
        self.meaning = meaning
