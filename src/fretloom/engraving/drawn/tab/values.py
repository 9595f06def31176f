"""What a drawn tab is made from, how it may look, and its measures in millimetres at scale 1."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import Literal

from fretloom.engraving.drawn.drawing import Drawing
from fretloom.performance.events import TimedBar
from fretloom.performance.manner import Sung
from fretloom.performance.showing.called_strings import CalledStrings
from fretloom.values import frozen

#: Between two strings; a fret's pill is a little lower, so that neighbours never touch.
STRING_GAP = 3.0
#: From a bar's line to its first note, and behind its last place.
LEAD, TAIL = 3.0, 1.0
#: How wide one slot is (the smallest distance of two places of a section), in a picking picture as well.
SLOT, PICKING_SLOT = 4.6, 5.4
#: Sizes of letters: frets, chord names, words, fingers, counts, the word between counts, small ones.
FRET, CHORD, WORDS, FINGER, COUNT, HALF, SMALL = 3.4, 4.4, 3.7, 2.9, 3.3, 2.8, 2.7
#: A paper pill under a fret with one figure.
PILL_HEIGHT, PILL_WIDTH = 2.8, 2.5
#: Room for the letters of the strings before a line.
LETTERS_WIDTH = 4.4
#: Notes of a roll stand so far apart.
ROLL_STEP = 2.7
#: Between two texts of one row.
TEXT_GAP = 1.0
#: How far a bar at the tip of a stem reaches.
FLAG = 1.75
#: How far a finger's stem reaches above the top string, a thumb's foot is below the lowest, and the counts are.
RISE, FOOT, COUNTS = 3.0, 3.7, 8.2


@frozen(kw_only=True)
class TabLook:
    """How a drawn tab looks.

    String 1 is on top for both hands: tab runs from left to right for a left-handed player as well, and
    the thumb's strings lie below, where the thumb is.

    Args:
        k: scale of the whole picture, above 0.
        width: room for a line of bars with the letters before it, in millimetres.
        abreast: how many bars a line has at most, 1 or more.
        with_letters: whether the fingers' letters stand over the stems.
        filled: whether bars are widened, by half at most, so that a full line fills the width.
        called: what strings are called where a bar is said.
    """

    k: float = 1.0
    width: float = 176.0
    abreast: int = 4
    with_letters: bool = True
    filled: bool = False
    called: CalledStrings = CalledStrings()

    @property
    def bar_room(self) -> float:
        """How wide a bar can be that has a line for itself, in millimetres at scale 1."""
        return self.width / self.k - LETTERS_WIDTH


@frozen(kw_only=True)
class StripBar:
    """A bar with all that stands around it.

    Args:
        bar: what is played. label: its number, "" for none (a pickup).
        chords: what is printed for each of the bar's voicings, in their order; "" for none.
        sung: the words under the chord names, a row for each.
        over: words over the bar: how often it is played, speed, loudness, a new meter. cue: the teacher's own.
        again: whether it is the same as the bar before: then it stays empty but for that word.
        closes: whether a "section" or the "song" ends with it.
        held: notes held into it from before: string and how far into the bar, in quarter notes.
    """

    bar: TimedBar
    label: str = ""
    chords: tuple[str, ...] = ()
    sung: tuple[Sung, ...] = ()
    over: tuple[str, ...] = ()
    cue: str = ""
    again: bool = False
    closes: Literal["", "section", "song"] = ""
    held: tuple[tuple[int, Fraction], ...] = ()


@frozen(kw_only=True)
class Strip:
    """Bars drawn in one scale.

    Each has the letters of the strings in a drawing of its own, with the bar's number, to be shown
    before the first bar of a line. Drawings of a line are equally high; others differ, and all are
    alike from the top string down: set side by side in any other way, they stand on one ground.

    Args:
        letters, bars: as many of one as of the other. per_line: how many bars a line has.
        pickup: whether the first of them is a pickup, which the first line has besides.
    """

    letters: tuple[Drawing, ...]
    bars: tuple[Drawing, ...]
    per_line: int
    pickup: bool = False

    @property
    def lines(self) -> tuple[tuple[Drawing, ...], ...]:
        """The lines, each with the letters first."""
        return tuple(
            (self.letters[begin], *self.bars[begin:end])
            for begin, end in pairwise(line_edges(len(self.bars), self.per_line, self.pickup))
        )


def line_edges(count: int, per_line: int, pickup: bool) -> list[int]:
    """Return where lines begin, and the number of bars last; a pickup at the start has no place of its own."""
    before = 1 if pickup and count > 1 else 0
    return [0, *range(before + per_line, count, per_line), count] if count else []
