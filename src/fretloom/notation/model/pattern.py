"""Picking patterns as written: beats, and what is plucked in each share of them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Literal

from attrs import field

from fretloom.limits import LIMITS
from fretloom.notation.model.details.technique import PLAIN, Technique
from fretloom.notation.model.limits import (
    Place,
    Quoted,
    SmallName,
    WrittenMeter,
)
from fretloom.notation.model.margin import BARE, Margin
from fretloom.shapes import shaped
from fretloom.source import Span
from fretloom.trade.guitar.plucking import PickingFinger
from fretloom.trade.guitar.voicing import FrettingFinger
from fretloom.values import frozen

SlurKind = Literal["hammer-on", "pull-off", "slide"]
SlapPlace = Literal["strings", "body"]
SLURS: dict[str, SlurKind] = {"h": "hammer-on", "p": "pull-off", "s": "slide"}


def _wrong_group(group: Group) -> str:
    """Say why nothing can be written for a group: it is empty, or nested too deep."""
    if not group.items:
        return "items: a group holds something"
    depth, inside = 1, [group]
    while inside := [one for each in inside for one in each.items if isinstance(one, Group)]:
        depth += 1
        if depth > LIMITS.depth:
            return f"items: groups are nested {LIMITS.depth} deep at most"
    return ""


def wrong_pluck(pluck: Pluck) -> str:
    """Say what in a pluck does not go together; "" if all does."""
    if pluck.fretting is not None and not pluck.fret:
        return "fretting: a finger is for a fret that the pluck names"
    if pluck.technique.grace and not pluck.slurs:
        return "technique: a grace note is slurred to its main note"
    if pluck.technique.touch is not None and pluck.harmonic:
        return "technique: a harmonic is a natural or an artificial one, not both"
    return ""


def wrong_brush(brush: Brush) -> str:
    """Say what in a brush does not go together; "" if all does."""
    if not brush.technique.only_lasts:
        return "technique: of a brush only its length can be said"
    return ""


def _wrong_slur(slur: Slur) -> str:
    open_string = slur.fretting is not None and not slur.fret
    return "fretting: an open string has no finger" if open_string else ""


def _wrong_roll(roll: Roll) -> str:
    if not roll.parts:
        return "parts: one at least"
    alone = len(roll.parts) == 1 and isinstance(roll.parts[0], Pluck)
    return "parts: a roll goes over two strings or more" if alone else ""


def _empty(name: str) -> Callable[[Any], str]:
    return lambda value: "" if getattr(value, name) else f"{name}: one at least"


@shaped(also=_wrong_slur)
@frozen
class Slur:
    """One more note from the same pluck: `kind` is a value of `SLURS`, `fret` where it ends.

    `fretting` is the finger that takes it, if it is written.
    """

    kind: SlurKind
    fret: Place
    fretting: FrettingFinger | None = None


@shaped(also=wrong_pluck)
@frozen(kw_only=True)
class Pluck:
    """One picking finger on one string: `p`, `i2`, `a@3`, `m2@3:4`, `i3@0h2`, `a1@12*`, `ix`, `m!`.

    `string` None is the finger's home string (for `p` the next of the voicing's bass order);
    `fret` None is the voicing's fret; `fretting` is the finger that stops a named fret, if it is
    written; `technique` is what the words behind it say.
    """

    finger: PickingFinger
    string: Place | None = None
    fret: Place | None = None
    slurs: tuple[Slur, ...] = ()
    accent: bool = False
    harmonic: bool = False
    dead: bool = False
    fretting: FrettingFinger | None = None
    technique: Technique = PLAIN
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=wrong_brush)
@frozen(kw_only=True)
class Brush:
    """One finger sweeping from string `first` to string `last`: `p6-4`, `i1-3`."""

    finger: PickingFinger
    first: Place
    last: Place
    accent: bool = False
    dead: bool = False
    technique: Technique = PLAIN
    span: Span | None = field(default=None, eq=False, repr=False)

    @property
    def strings(self) -> tuple[int, ...]:
        """The strings in the order in which they are struck."""
        step = 1 if self.last >= self.first else -1
        return tuple(range(self.first, self.last + step, step))


@shaped()
@frozen(kw_only=True)
class Slap:
    """A beat of the picking hand without a pitch: `slap` on the strings, `body-slap` on the wood.

    A slap on the strings damps them all.
    """

    place: SlapPlace = "strings"
    accent: bool = False
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_wrong_roll)
@frozen(kw_only=True)
class Roll:
    """Plucks one after the other in one gesture, written as one: `(p i m a)`.

    A `slow` one, `(slow p i m a)`, takes its time, freely, up to the end of its place.
    """

    parts: tuple[Pluck | Brush, ...]
    slow: bool = False
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class Hold:
    """`-`: nothing is plucked; what sounds rings on."""

    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_empty("parts"))
@frozen(kw_only=True)
class Stroke:
    """What happens at once: a single pluck, a pinch `p+a`, a roll, a slap, or a mix of them."""

    parts: tuple[Pluck | Brush | Slap | Roll, ...]
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_wrong_group)
@frozen(kw_only=True)
class Group:
    """`[p i]`: items that share the place of one item equally."""

    items: tuple[Stroke | Hold | Group, ...]
    span: Span | None = field(default=None, eq=False, repr=False)


Item = Stroke | Hold | Group


@shaped(also=_empty("items"))
@frozen(kw_only=True)
class Beat:
    """The items between two commas; they share the beat equally."""

    items: tuple[Item, ...]
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_empty("beats"))
@frozen(kw_only=True)
class PatternBar:
    """The beats of one bar of a pattern, or of the `{ }` of a bar."""

    beats: tuple[Beat, ...]
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_empty("bars"))
@frozen(kw_only=True)
class Pattern:
    """A named picking pattern; `meter` None is the lesson's meter."""

    name: SmallName
    title: Quoted = ""
    meter: WrittenMeter | None = None
    bars: tuple[PatternBar, ...]
    margin: Margin = BARE
    name_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)
