"""Voicings as written: either frets, or another voicing with what is different about it."""

from __future__ import annotations

from attrs import field

from fretloom.notation.model.margin import BARE, Margin
from fretloom.source import Span
from fretloom.trade.guitar.voicing import Hop
from fretloom.values import frozen


@frozen(kw_only=True)
class Add:
    """`add 2@2:4`: string 2 at fret 2 with finger 4 (None: fretloom finds one)."""

    string: int
    fret: int
    finger: str | None = None
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Lift:
    """`lift 3`: the finger's strings fall back to the barre below it, or are open."""

    finger: str
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Move:
    """`move 3 to 6@3`: the finger leaves its strings (as when lifted) for another place."""

    finger: str
    string: int
    fret: int
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Mute:
    """`mute 6`: the string is not played."""

    string: int
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Shift:
    """`up 2` (frets 2) or `down 2` (frets -2): the whole hand moves."""

    frets: int
    span: Span | None = field(default=None, eq=False, repr=False)


Change = Add | Lift | Move | Mute | Shift


@frozen(kw_only=True)
class VoicingEntry:
    """One line of the `voicings` block.

    Either `frets` is given (highest string number first, None for `x`) or `like` names another
    voicing and `changes` says what is different, in order. `fingers` is as long as `frets`, or
    empty if the teacher left them to fretloom; `bass` is empty if it is to be derived.
    """

    name: str
    frets: tuple[int | None, ...] = ()
    like: str = ""
    changes: tuple[Change, ...] = ()
    fingers: tuple[str | None, ...] = ()
    bass: tuple[int, ...] = ()
    hops: tuple[Hop, ...] = ()
    margin: Margin = BARE
    name_span: Span | None = field(default=None, eq=False, repr=False)
    frets_span: Span | None = field(default=None, eq=False, repr=False)
    like_span: Span | None = field(default=None, eq=False, repr=False)
    fingers_span: Span | None = field(default=None, eq=False, repr=False)
    bass_span: Span | None = field(default=None, eq=False, repr=False)
    hop_spans: tuple[Span, ...] = field(default=(), eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)
