"""Voicings as written: either frets, or another voicing with what is different about it."""

from __future__ import annotations

from attrs import field

from fretloom.notation.model.limits import (
    Amount,
    Frets,
    MaybeName,
    Name,
    Place,
    WrittenHop,
)
from fretloom.notation.model.margin import BARE, Margin
from fretloom.shapes import shaped
from fretloom.source import Span
from fretloom.trade.guitar.voicing import FrettingFinger
from fretloom.values import frozen


def _wrong_entry(entry: VoicingEntry) -> str:
    """Say why these fields cannot stand in one line."""
    if bool(entry.frets) is bool(entry.like):
        return "frets: a voicing has frets, or is like another one: one of the two"
    if entry.changes and not entry.like:
        return "changes: only a voicing that is like another one has changes"
    if entry.frets and len(entry.frets) < 2:
        return "frets: places for two strings at least"
    if entry.frets and entry.fingers and len(entry.fingers) != len(entry.frets):
        return f"fingers: as many places as frets, {len(entry.frets)}, or none at all"
    return ""


@shaped()
@frozen(kw_only=True)
class Add:
    """`add 2@2:4`: string 2 at fret 2 with finger 4 (None: fretloom finds one)."""

    string: Place
    fret: Place
    finger: FrettingFinger | None = None
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class Lift:
    """`lift 3`: the finger's strings fall back to the barre below it, or are open."""

    finger: FrettingFinger
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class Move:
    """`move 3 to 6@3`: the finger leaves its strings (as when lifted) for another place."""

    finger: FrettingFinger
    string: Place
    fret: Place
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class Mute:
    """`mute 6`: the string is not played."""

    string: Amount
    span: Span | None = field(default=None, eq=False, repr=False)


def _wrong_shift(shift: Shift) -> str:
    """Say why no text could ask for a move of the hand."""
    return "" if shift.frets else "frets: at least one, up or down"


@shaped(also=_wrong_shift)
@frozen(kw_only=True)
class Shift:
    """`up 2` (frets 2) or `down 2` (frets -2): the whole hand moves."""

    frets: Frets
    span: Span | None = field(default=None, eq=False, repr=False)


Change = Add | Lift | Move | Mute | Shift


@shaped(also=_wrong_entry)
@frozen(kw_only=True)
class VoicingEntry:
    """One line of the `voicings` block.

    Either `frets` is given (highest string number first, None for `x`) or `like` names another
    voicing and `changes` says what is different, in order. `fingers` is as long as `frets`, or
    empty if the teacher left them to fretloom; `bass` is empty if it is to be derived.
    """

    name: Name
    frets: tuple[Place | None, ...] = ()
    like: MaybeName = ""
    changes: tuple[Change, ...] = ()
    fingers: tuple[FrettingFinger | None, ...] = ()
    bass: tuple[Amount, ...] = ()
    hops: tuple[WrittenHop, ...] = ()
    margin: Margin = BARE
    name_span: Span | None = field(default=None, eq=False, repr=False)
    frets_span: Span | None = field(default=None, eq=False, repr=False)
    like_span: Span | None = field(default=None, eq=False, repr=False)
    fingers_span: Span | None = field(default=None, eq=False, repr=False)
    bass_span: Span | None = field(default=None, eq=False, repr=False)
    hop_spans: tuple[Span, ...] = field(default=(), eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)
