"""The signs of a tab: what each looks like in the legend and what it says there.

Whatever draws a sign also returns it, so that the legend does not have to look for it in the
drawing. They are listed in the order of the legend.
"""

from __future__ import annotations

from enum import Enum


class Sign(Enum):
    """A sign as the legend shows and explains it."""

    NUMBERS = "0 1 2", "frets, 0 the open string; the top line is string 1"
    HAMMER_ON = "H", "hammer-on: a finger comes down, the string is not plucked again"
    PULL_OFF = "P", "pull-off: the finger plucks the string as it leaves"
    SLIDE_UP = "/", "slide up to the fret"
    SLIDE_DOWN = "\\", "slide down to the fret"
    GRACE = (
        "g",
        "before a fret: grace note, very quick; what stands under the count is played on it",
    )
    BEND = (
        "3b(1/2)",
        "bend: pluck, then push the string higher, by so many whole tones (full: by one)",
    )
    BENT_BEFORE = "b(1/2)3", "bend the string first, then pluck it"
    RELEASE = "r", "after a bend: let the string back to its fret"
    TRILL = "3tr(5)", "trill: quick hammer-ons and pull-offs between the two frets"
    VIBRATO = "~", "vibrato: rock the string while it sounds"
    HARMONIC = "<12>", "natural harmonic: touch the string over the fret, do not press"
    TOUCHED = (
        "3<15>",
        "artificial harmonic: hold the first fret, touch over the other one with the picking hand",
    )
    DEAD = "X", "dead note: the string is damped and only clicks"
    DAMPED = "3'", "after a fret: damp it at once when the next note is due"
    LET_RING = "3_", "let it ring"
    HELD = "3===", "hold it as long as the double line goes on, then let go"
    RINGING = "(2)", "still ringing from the bar before, not plucked again"
    ROLLED = "{", "rolled: one string quickly after the other"
    ROLLED_SLOWLY = "{{", "rolled slowly: one string after the other, in no hurry"
    AGAIN = "%", "play the bar before again"
    REPEAT = "|: :|", "repeat what is between them, twice in all unless a number says more"
    HALF = "&", "in the count: half way to the next number: say 'and'"
    QUARTERS = "e & a", "in the count: the quarters between two numbers: say '1 e and a'"
    THIRDS = "trip let", "in the count: the thirds between two numbers: say '1 trip let'"
    SHARES = (
        ".",
        "in the count: one more equal part; the signs from one number to the next are equally far apart",
    )
    BETWEEN = ",", "in the count: a note between two numbers, in a beat divided too finely to count"
    OPEN = "(open)", "the fretting hand lets go: open strings from here on"
    STOP = "(stop)", "all strings are damped"
    FERMATA = "(fermata)", "the beat waits: stay on it longer than its time"
    REST = "rest", "silence: all strings are damped"
    CRESCENDO = "crescendo", "grow louder, evenly"
    DIMINUENDO = "diminuendo", "grow softer, evenly"
    RITARDANDO = "ritardando", "slow down, evenly"
    ACCELERANDO = "accelerando", "get faster, evenly"
    A_TEMPO = "a tempo", "back to the tempo at which the section began"
    FREE_TIME = "free time", "no steady beat: take the time that the music wants"
    ROLL_FINGERS = "{...}", "a roll: the fingers in the order they pluck"
    SLOW_ROLL = "{slow ...}", "a slow roll: the fingers in the order they pluck"
    BRUSH_DOWN = (
        "p6-4",
        "a brush down: one finger across the strings, from the low one to the high one",
    )
    BRUSH_UP = "i1-3", "a brush up: one finger across the strings, from the high one to the low one"
    ACCENT = ">", "after a finger: accent, play it louder"
    GHOST = "(m)", "a finger in brackets: ghost note, only hinted at"
    SLAP = "S", "under the fingers: slap the strings with the picking hand, which damps them"
    BODY_SLAP = "B", "under the fingers: slap the body of the guitar"
    OTHER_TIMES = "*", "before words of the song: sung every time that has no words of its own"
    UNPLAYED = "x", "in the table of voicings: do not play the string"

    def __init__(self, shown: str, meaning: str) -> None:
        self.shown = shown
        self.meaning = meaning


#: What stands under the strings.
UNDER_THE_STRINGS = (
    Sign.ROLL_FINGERS, Sign.SLOW_ROLL, Sign.BRUSH_DOWN, Sign.BRUSH_UP, Sign.ACCENT, Sign.GHOST,
    Sign.SLAP, Sign.BODY_SLAP, Sign.OTHER_TIMES,
)  # fmt: skip
