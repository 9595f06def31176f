"""The signs of a tab: what each looks like in the legend and what it says there.

Whatever draws a sign also returns it, so that the legend does not have to look for it in the
drawing. They are listed in the order of the legend.
"""

from __future__ import annotations

from enum import Enum

from fretloom.trade.phrases.table import say


class Sign(Enum):
    """A sign as the legend shows and explains it."""

    NUMBERS = "0 1 2"
    HAMMER_ON = "H"
    PULL_OFF = "P"
    SLIDE_UP = "/"
    SLIDE_DOWN = "\\"
    GRACE = "g"
    BEND = "3b(1/2)"
    BENT_BEFORE = "b(1/2)3"
    RELEASE = "r"
    TRILL = "3tr(5)"
    VIBRATO = "~"
    HARMONIC = "<12>"
    TOUCHED = "3<15>"
    DEAD = "X"
    DAMPED = "3'"
    LET_RING = "3_"
    HELD = "3==="
    RINGING = "(2)"
    ROLLED = "{"
    ROLLED_SLOWLY = "{{"
    AGAIN = "%"
    REPEAT = "|: :|"
    HALF = "&"
    QUARTERS = "e & a"
    THIRDS = "trip let"
    SHARES = "."
    BETWEEN = ","
    OPEN = "(open)"
    STOP = "(stop)"
    FERMATA = "(fermata)"
    REST = "rest"
    CRESCENDO = "crescendo"
    DIMINUENDO = "diminuendo"
    RITARDANDO = "ritardando"
    ACCELERANDO = "accelerando"
    A_TEMPO = "a tempo"
    FREE_TIME = "free time"
    ROLL_FINGERS = "{...}"
    SLOW_ROLL = "{slow ...}"
    BRUSH_DOWN = "p6-4"
    BRUSH_UP = "i1-3"
    ACCENT = ">"
    GHOST = "(m)"
    SLAP = "S"
    BODY_SLAP = "B"
    OTHER_TIMES = "*"
    UNPLAYED = "x"

    @property
    def shown(self) -> str:
        """What it looks like in the legend."""
        return self.value

    @property
    def meaning(self) -> str:
        """What the legend says of it."""
        return say(f"text-tab.sign-{self.name.lower().replace('_', '-')}")


#: What stands under the strings.
UNDER_THE_STRINGS = (
    Sign.ROLL_FINGERS, Sign.SLOW_ROLL, Sign.BRUSH_DOWN, Sign.BRUSH_UP, Sign.ACCENT, Sign.GHOST,
    Sign.SLAP, Sign.BODY_SLAP, Sign.OTHER_TIMES,
)  # fmt: skip
