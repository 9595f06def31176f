"""What a bar is made from, and what is made of it, free of where the bar is written."""

from __future__ import annotations

from fractions import Fraction

from fretloom.notation.model.section import With, Without
from fretloom.performance.events import SlurredNote
from fretloom.performance.expansion.bars.segments import Segment
from fretloom.performance.expansion.bars.strokes import Place
from fretloom.rule_facts import Severity
from fretloom.source import Span
from fretloom.trade.guitar.voicing import Voicing

#: Kinds of what may stop a ringing string, in their order at one instant.
HOLD, RELEASE, CUT, PLUCK = range(4)
Patch = tuple[Fraction, With | Without]
#: When, which kind, which string (0: all of them), and the voicing that is taken.
Event = tuple[Fraction, int, int, Voicing | None]


class Seed:
    """A note before it is known how long it rings and in which written bar it stands.

    `held` is the voicing it was plucked on, None where the hand has left it; `held_fret` the fret
    that is held while it rings (0: nothing has to be held). `after` is the place, among the events
    of its string, of the first one that may stop it.
    """

    __slots__ = (
        "accent", "after", "brush", "dead", "finger", "fret", "fretting", "gesture", "harmonic", "held",
        "held_fret", "length", "literal", "midi", "muted", "onset", "order", "pluck_span",
        "slurs", "string",
    )  # fmt: skip

    def __init__(self, onset: Fraction, length: Fraction, string: int, fret: int) -> None:
        self.onset = onset
        self.length = length
        self.string = string
        self.fret = self.held_fret = fret
        self.finger = "p"
        self.midi = 0
        self.fretting: str | None = None
        self.accent = self.harmonic = self.dead = self.literal = self.muted = False
        self.order: int | None = None
        self.gesture: int | None = None
        self.brush = self.after = 0
        self.slurs: tuple[SlurredNote, ...] = ()
        self.held: Voicing | None = None
        self.pluck_span: Span | None = None


class Finding:
    """A fault in a template; `{where}` in the message stands for the bar."""

    __slots__ = ("hint", "key", "message", "rule", "severity", "span")

    def __init__(self, rule: str, message: str, hint: str, span: Span | None, key: object) -> None:
        self.rule = rule
        self.message = message
        self.hint = hint
        self.span = span
        self.key = key
        self.severity = Severity.ERROR


class Template:
    """The notes of a bar, what may stop a string in it (by string number), and its faults."""

    __slots__ = ("events", "findings", "length", "seeds", "segments")

    def __init__(self, length: Fraction, segments: tuple[Segment, ...]) -> None:
        self.length = length
        self.segments = segments
        self.seeds: tuple[Seed, ...] = ()
        self.events: dict[int, list[Event]] = {}
        self.findings: list[Finding] = []


class BarScore:
    """What a bar is made from. Positions are quarter notes from its start.

    Args:
        silent: a bar of rest, which damps all strings.
    """

    __slots__ = ("length", "patches", "places", "release", "segments", "silent", "stop")

    def __init__(
        self,
        length: Fraction,
        segments: tuple[Segment, ...],
        places: tuple[Place, ...],
        patches: tuple[Patch, ...] = (),
        release: Fraction | None = None,
        stop: Fraction | None = None,
        silent: bool = False,
    ) -> None:
        self.length = length
        self.segments = segments
        self.places = places
        self.patches = patches
        self.release = release
        self.stop = stop
        self.silent = silent
