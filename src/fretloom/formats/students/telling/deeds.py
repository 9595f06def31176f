"""What fingers do in a change, sorted into what is said at once: who stays, who goes together, who is late."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypeAlias

from fretloom.performance.showing.change_use import ChangeUse, Need
from fretloom.trade.playability.moving.changes import GUIDED, Change, FingerMove
from fretloom.trade.playability.shape import THUMB
from fretloom.values import frozen

DeedKind: TypeAlias = Literal[
    "stay", "stay-barre", "narrow", "narrow-barre", "home",
    "whole", "slide", "slide-barre", "along", "move", "cross", "move-barre", "lay-move", "lay",
    "lay-down", "tip", "put", "thumb-over", "lift", "lift-barre", "thumb-back",
]  # fmt: skip
STAYING = ("stay", "stay-barre", "narrow", "narrow-barre", "home")
LEAVING = ("lift", "lift-barre", "thumb-back")
#: Those that several fingers can do together.
_TOGETHER = ("slide", "along", "move", "cross")
_ORDER = (
    "whole",
    "slide",
    "slide-barre",
    "along",
    "tip",
    "move-barre",
    "lay-move",
    "lay-down",
    "lay",
)


@frozen
class Deed:
    """What some fingers do in the same way.

    `need` is when the first of them is needed; None if nothing that they hold is plucked, or if the change
    is never made. `known` says which of the two it is.
    """

    kind: DeedKind
    moves: tuple[FingerMove, ...]
    need: Need | None = None
    known: bool = False

    @property
    def fingers(self) -> tuple[str, ...]:
        """The fingers that do it."""
        return tuple(move.finger for move in self.moves)

    @property
    def late(self) -> bool:
        """Whether it has time: a count goes by before it is needed, or nobody needs it."""
        return self.known and (self.need is None or self.need.counts >= 1)


def deeds(change: Change, use: ChangeUse) -> list[Deed]:
    """Return what the fingers do, in the order in which a teacher says it.

    Who stays comes first, then who has to be there at once or frees a string that is plucked at once, then
    the others, and at last those that have time.
    """
    done = [_deed(one, use) for one in _joined(change, use)]
    staying = [one for one in done if one.kind in STAYING]
    leaving = [one for one in done if one.kind in LEAVING]
    going = sorted((one for one in done if one.kind not in STAYING + LEAVING), key=_place)
    at_once = [one for one in leaving if one.need is not None and not one.need.counts]
    return [
        *sorted(staying, key=lambda one: STAYING.index(one.kind)),
        *at_once,
        *(one for one in going if not one.late),
        *(one for one in leaving if one not in at_once),
        *(one for one in going if one.late),
    ]


def shift(move: FingerMove) -> tuple[int, int]:
    """Return by how many frets toward the body and strings toward the ceiling a finger goes."""
    assert move.before is not None
    assert move.after is not None
    return move.after.fret - move.before.fret, move.after.strings[0] - move.before.strings[0]


def _joined(change: Change, use: ChangeUse) -> Iterator[tuple[DeedKind, list[FingerMove]]]:
    """Yield what each finger does, those together that do it in the same way."""
    if _whole(change, use):
        yield "whole", list(change.moves)
        return
    groups: dict[tuple[object, ...], list[FingerMove]] = {}
    for move in change.moves:
        kind = _kind(move, use)
        key: tuple[object, ...] = (kind, move.finger)
        if kind in ("stay", "lift"):
            key = (kind,)
        elif kind in _TOGETHER and move.before is not None and not _out(move, use):
            key = ("move" if kind == "cross" else kind, *shift(move))
        groups.setdefault(key, []).append(move)
    for moves in groups.values():
        yield _kind(moves[0], use), moves


def _whole(change: Change, use: ChangeUse) -> bool:
    """Whether the hand goes from one place to another as it is."""
    return (
        not use.always
        and len(change.moves) > 1
        and all(move.kind in ("guide", "move") for move in change.moves)
        and len({shift(move) for move in change.moves}) == 1
        and not any(_out(move, use) or _changes_size(move) for move in change.moves)
    )


def _out(move: FingerMove, use: ChangeUse) -> bool:
    """Whether a finger may be elsewhere than its voicing says, before or after the change."""
    return move.finger in use.away or move.finger in use.unsteady


def _changes_size(move: FingerMove) -> bool:
    assert move.before is not None
    assert move.after is not None
    return len(move.before.strings) != len(move.after.strings)


def _deed(one: tuple[DeedKind, list[FingerMove]], use: ChangeUse) -> Deed:
    kind, moves = one
    needs = []
    for move in moves:
        held = move.after or move.before
        assert held is not None
        needs += [use.needs[string] for string in held.strings if string in use.needs]
        if move.after is not None and move.finger in use.fingers:
            needs.append(use.fingers[move.finger])
    first = min(needs, key=lambda need: need.key, default=None)
    return Deed(kind, tuple(moves), first, use.times > 0)


def _place(deed: Deed) -> tuple[object, ...]:
    """Return what to put deeds in order by: who is needed first, who slides, who holds the lowest string."""
    key = deed.need.key if deed.need is not None else (9999, 0, 0)
    kind = _ORDER.index(deed.kind) if deed.kind in _ORDER else len(_ORDER)
    after = deed.moves[0].after
    return (key if deed.known else (), kind, -after.strings[0] if after is not None else 0)


def _kind(move: FingerMove, use: ChangeUse) -> DeedKind:
    if move.after is None:
        return _leaving(move)
    if move.before is None or use.always:
        if len(move.after.strings) > 1:
            return "lay"
        return "thumb-over" if move.finger == THUMB else "put"
    if move.kind == "anchor":
        return _staying(move, use)
    if move.kind == "extend":
        return "lay-down"
    along = move.kind == "guide" and not _out(move, use)
    return _along(move) if along else _moving(move)


def _leaving(move: FingerMove) -> DeedKind:
    if move.finger == THUMB:
        return "thumb-back"
    return "lift-barre" if move.before is not None and len(move.before.strings) > 1 else "lift"


def _staying(move: FingerMove, use: ChangeUse) -> DeedKind:
    assert move.before is not None
    assert move.after is not None
    if _out(move, use):
        return "home"
    old, new = move.before.strings, move.after.strings
    if len(new) > 1:
        same = (old[0], old[-1]) == (new[0], new[-1])
        return "stay-barre" if same else "narrow-barre"
    return "narrow" if len(old) > 1 else "stay"


def _along(move: FingerMove) -> DeedKind:
    if move.after is not None and len(move.after.strings) > 1:
        return "slide-barre"
    return "slide" if abs(shift(move)[0]) <= GUIDED else "along"


def _moving(move: FingerMove) -> DeedKind:
    assert move.before is not None
    assert move.after is not None
    if len(move.after.strings) > 1:
        return "lay-move" if len(move.before.strings) < len(move.after.strings) else "move-barre"
    if len(move.before.strings) > 1:
        return "tip"
    return "cross" if move.before.fret == move.after.fret else "move"
