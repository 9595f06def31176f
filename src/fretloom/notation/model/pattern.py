"""Picking patterns as written: beats, and what is plucked in each share of them."""

from __future__ import annotations

from attrs import field
from attrs.validators import in_

from fretloom.notation.model.margin import BARE, Margin
from fretloom.source import Span
from fretloom.trade.guitar.plucking import PICKING_FINGERS
from fretloom.trade.music.meter import Meter
from fretloom.values import frozen

SLURS = {"h": "hammer-on", "p": "pull-off", "s": "slide"}


@frozen
class Slur:
    """One more note from the same pluck: `kind` is a value of `SLURS`, `fret` where it ends."""

    kind: str = field(validator=in_(tuple(SLURS.values())))
    fret: int


@frozen(kw_only=True)
class Pluck:
    """One picking finger on one string: `p`, `i2`, `a@3`, `i3@0h2`, `a1@12*`, `ix`, `m!`.

    `string` None is the finger's home string (for `p` the next of the voicing's bass order);
    `fret` None is the voicing's fret.
    """

    finger: str = field(validator=in_(PICKING_FINGERS))
    string: int | None = None
    fret: int | None = None
    slurs: tuple[Slur, ...] = ()
    accent: bool = False
    harmonic: bool = False
    dead: bool = False
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Brush:
    """One finger sweeping from string `first` to string `last`: `p6-4`, `i1-3`."""

    finger: str = field(validator=in_(PICKING_FINGERS))
    first: int
    last: int
    accent: bool = False
    dead: bool = False
    span: Span | None = field(default=None, eq=False, repr=False)

    @property
    def strings(self) -> tuple[int, ...]:
        """The strings in the order in which they are struck."""
        step = 1 if self.last >= self.first else -1
        return tuple(range(self.first, self.last + step, step))


@frozen(kw_only=True)
class Roll:
    """Plucks one after the other in one gesture, written as one: `(p i m a)`."""

    parts: tuple[Pluck | Brush, ...]
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Hold:
    """`-`: nothing is plucked; what sounds rings on."""

    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Stroke:
    """What is plucked at once: a single pluck, a pinch `p+a`, a roll, or a mix of them."""

    parts: tuple[Pluck | Brush | Roll, ...]
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Group:
    """`[p i]`: items that share the place of one item equally."""

    items: tuple[Stroke | Hold | Group, ...]
    span: Span | None = field(default=None, eq=False, repr=False)


Item = Stroke | Hold | Group


@frozen(kw_only=True)
class Beat:
    """The items between two commas; they share the beat equally."""

    items: tuple[Item, ...]
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class PatternBar:
    """The beats of one bar of a pattern, or of the `{ }` of a bar."""

    beats: tuple[Beat, ...]
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Pattern:
    """A named picking pattern; `meter` None is the lesson's meter."""

    name: str
    title: str = ""
    meter: Meter | None = None
    bars: tuple[PatternBar, ...]
    margin: Margin = BARE
    name_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)
