"""What a bar is made from, and what is made of it, whatever place the bar is written in.

Times are whole numbers from the bar's start; a quarter note has `unit` of them.
"""

from __future__ import annotations

from collections.abc import Hashable
from fractions import Fraction
from functools import cached_property

from fretloom.notation.model.details.technique import PLAIN, Technique
from fretloom.notation.model.section import With, Without
from fretloom.performance.events import TimedNote
from fretloom.performance.expansion.timing.strokes import Place
from fretloom.performance.manner import TimedSlap
from fretloom.source import Span
from fretloom.trade.guitar.voicing import Voicing
from fretloom.values import frozen

#: Kinds of what may stop a ringing string, in their order at one instant.
HOLD, RELEASE, CUT, PLUCK = range(4)
Patch = tuple[int, With | Without]
#: When, which kind, which string (0: all of them), and the voicing that is taken.
Event = tuple[int, int, int, Voicing | None]


@frozen(eq=False)
class Segment:
    """A voicing from `onset` on, in quarter notes from the bar's start; None if it is not known."""

    onset: Fraction
    voicing: Voicing | None
    span: Span | None
    early: bool = False


@frozen(eq=False)
class Seed:
    """A note for which it is not known yet how long it rings and which written bar it is in.

    Args:
        note: the note, its ring and its bar left open. onset, length: in units.
        held: the voicing it was plucked on, None where the hand has left it.
        held_fret: the fret that is held while it rings (0: nothing has to be held).
        held_by: the finger that holds it then, if it is known.
        said: what the words behind its pluck say.
    """

    note: TimedNote
    onset: int
    length: int
    held: Voicing | None
    held_fret: int
    held_by: str | None
    said: Technique = PLAIN


@frozen(eq=False)
class BarFault:
    """A fault of a bar; `{where}` in the message stands for the bar.

    Those with the same rule and key are one; `key` names the thing at fault by what and where it is.
    `mended_in` is the voicing in whose bass order or hops it is mended, "" if it is mended in the bar.
    """

    rule: str
    message: str
    hint: str
    span: Span | None
    key: Hashable
    mended_in: str = ""


@frozen(eq=False)
class Template:
    """The notes of a bar, what may stop a string in it (by string number), and its faults.

    `after` gives for each seed the place, among the events of its string, of the first one that may
    stop it.
    """

    unit: int
    length: int
    segments: tuple[Segment, ...]
    seeds: tuple[Seed, ...]
    events: dict[int, list[Event]]
    after: tuple[int, ...]
    faults: tuple[BarFault, ...]
    slaps: tuple[TimedSlap, ...] = ()

    @cached_property
    def sounded(self) -> int:
        """How many notes sound: those that are plucked, those that a slur brings, and slaps."""
        return sum(1 + len(seed.note.slurs) for seed in self.seeds) + len(self.slaps)


@frozen(eq=False)
class BarScore:
    """What a bar is made from.

    Args:
        onsets: where the segments begin. silent: a bar of rest, which damps all strings.
    """

    unit: int
    length: int
    segments: tuple[Segment, ...]
    onsets: tuple[int, ...]
    places: tuple[Place, ...]
    patches: tuple[Patch, ...] = ()
    release: int | None = None
    stop: int | None = None
    silent: bool = False
