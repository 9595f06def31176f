"""A change of shape as a teacher says it: who stays, who slides, who goes where, and who may come late."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from fretloom.formats.students.telling.deeds import STAYING, Deed, deeds, shift
from fretloom.formats.students.telling.listener import (
    Listener,
    count_words,
    counted_things,
    counts_words,
    number,
    sentence,
)
from fretloom.performance.showing.change_use import ChangeUse, Need
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.phrases.table import phrases, say
from fretloom.trade.playability.moving.changes import Change, FingerMove

#: What may go on in another form of words after what.
_AFTER = {
    "slide": ("slide",), "along": (), "move": ("move", "cross"), "cross": ("move", "cross"), "put": ("put",),
}  # fmt: skip
#: In these a finger keeps its string.
_KEEPING = ("whole", "slide", "slide-barre", "along", "lay-down")
_INDEX = ("1", "2", "3", "4", "T")


def change_sentences(
    before: Voicing,
    after: Voicing,
    change: Change,
    use: ChangeUse,
    listener: Listener,
    *,
    caution: bool = True,
) -> tuple[str, ...]:
    """Say a change, a sentence a string.

    Args:
        before, after: the shapes. change: what the fingers do. use: when the song needs them, and what it does
            on the way; `ChangeUse()` where that is not known.
        listener: how strings and fingers are called. caution: whether to say what strains a hand.
    """
    teller = _ChangeTeller(after, use, listener)
    said = [*_before(use), *teller.all(deeds(change, use), lifted=not any(after.frets))]
    if not said:
        said = [sentence(say("changes.nothing"))]
    if use.released and not use.always:
        said.append(sentence(say("changes.let-go-at-times", count=counts_words(use.released))))
    return (*said, *([caution_sentence(use)] if caution and use.strains else []))


def caution_sentence(use: ChangeUse) -> str:
    """Say what strains a hand in the shape that a change leads to, "" for nothing."""
    if not use.strains:
        return ""
    return sentence(say(f"changes.caution-{'both' if len(use.strains) > 1 else use.strains[0]}"))


def _before(use: ChangeUse) -> Iterator[str]:
    if use.early:
        key = "early" if set(use.early) == set(use.starts) else "early-at-times"
        yield sentence(say(f"changes.{key}", count=counts_words(use.early)))
    if use.always and use.released:
        yield sentence(say("changes.let-go", count=counts_words(use.released)))


class _ChangeTeller:
    """Says what fingers do on the way to a shape."""

    def __init__(self, after: Voicing, use: ChangeUse, listener: Listener) -> None:
        self.after, self.use, self.listener = after, use, listener

    def all(self, done: Sequence[Deed], lifted: bool) -> Iterator[str]:
        """Yield the sentences of what is done, and after those that may come late until when."""
        if self._none_stays(done):
            yield sentence(say("changes.none-stays"))
        if (only := self._only_lifts(done)) and not lifted:
            yield sentence(only)
            return
        last, before = "", False
        for (late, need), group in groupby(done, key=_lateness):
            together = list(group)
            for deed in together:
                said = self._deed(deed, last, lifted)
                last = deed.kind
                if not said:
                    continue
                yield sentence(_late(said, deed, before) if late and len(together) == 1 else said)
                yield from self._first(deed)
            if late and len(together) > 1:
                yield sentence(_all_late(together))
            before = late and need is not None

    def _none_stays(self, done: Sequence[Deed]) -> bool:
        """Whether all fingers of two shapes go, and no two of them together."""
        old = {move.finger for deed in done for move in deed.moves if move.before}
        new = {move.finger for deed in done for move in deed.moves if move.after}
        kept = any(
            deed.kind in (*STAYING, *_KEEPING) or (len(deed.moves) > 1 and deed.moves[0].after)
            for deed in done
        )
        return len(old) > 1 and len(new) > 1 and not kept and not self.use.always

    def _only_lifts(self, done: Sequence[Deed]) -> str:
        """Say that fingers lift and the rest stays, "" if something else is done."""
        leaving = [deed for deed in done if deed.kind in ("lift", "lift-barre")]
        rest = [deed for deed in done if deed not in leaving]
        if len(leaving) != 1 or self.use.always or not rest:
            return ""
        if not all(deed.kind in ("stay", "stay-barre") for deed in rest):
            return ""
        fingers = self.listener.fingers(leaving[0].fingers)
        return say(f"changes.only-{leaving[0].kind}", fingers=fingers)

    def _deed(self, deed: Deed, last: str, lifted: bool) -> str:
        """Say what some fingers do; "" for what has been said: all of them have let go."""
        kind = deed.kind
        if kind in ("lift", "lift-barre", "thumb-back") and self.use.always:
            return ""
        if kind == "whole":
            return self._whole(deed)
        if kind == "lift" and lifted:
            kind_key = "open"
        elif len(deed.moves) > 1 and kind in ("move", "cross"):
            held = [move.after for move in deed.moves if move.after]
            frets = {(one.fret, self.after.fret(one.strings[0])) for one in held}
            kind_key = "move-pair" if len(frets) == 1 else "move-more"
        elif len(deed.moves) > 1 and f"changes.{kind}-more" in phrases():
            kind_key = f"{kind}-more"
        else:
            again = kind in _AFTER.get(last, ())
            kind_key = f"{kind}-next" if again else kind
        return say(f"changes.{kind_key}", **self._names(deed))

    def _names(self, deed: Deed) -> dict[str, object]:
        """Return all that a text about a deed may name."""
        move = deed.moves[0]
        names: dict[str, object] = {"fingers": self.listener.fingers(deed.fingers)}
        if move.after is None:
            return names
        strings = move.after.strings
        names |= {
            "place": self._place(move),
            "fret": self.listener.fret_of(self.after, strings),
            "strings": self.listener.span(strings[0], strings[-1]),
        }
        if move.before is not None and deed.kind not in STAYING:
            names |= _ways(*shift(move))
            if len(deed.moves) > 1:
                lower = sorted(
                    (one.after.strings[0] for one in deed.moves if one.after), reverse=True
                )
                names["places"] = self._landing(deed)
                names["shift"] = _shift_words(*shift(move))
                names["strings"] = self.listener.strings(lower)
        return names

    def _place(self, move: FingerMove) -> str:
        assert move.after is not None
        string = move.after.strings[0]
        return self.listener.place(string, self.after.fret(string) or 0)

    def _landing(self, deed: Deed) -> str:
        """Say where each of several fingers lands."""
        return ", ".join(
            say(
                "changes.lands-next" if at else "changes.lands",
                fingers=self.listener.finger(move.finger),
                place=self._place(move),
            )
            for at, move in enumerate(deed.moves)
        )

    def _whole(self, deed: Deed) -> str:
        along, across = shift(deed.moves[0])
        key = "both" if along and across else "across" if across else "along"
        lead = min(deed.moves, key=lambda one: _INDEX.index(one.finger))
        return say(
            f"changes.whole-{key}",
            **_ways(along, across),
            finger=self.listener.finger(lead.finger),
            place=self._place(lead),
            **({"strings": _over(across)} if across else {}),
        )

    def _first(self, deed: Deed) -> Iterator[str]:
        """Yield where a finger of the new shape is needed before it is in its place."""
        for move in deed.moves:
            place = self.use.first_at.get(move.finger)
            if place is not None and move.after is not None:
                where = self.listener.place(*place)
                fingers = self.listener.finger(move.finger)
                yield sentence(say("changes.first", fingers=fingers, place=where))


def _ways(along: int, across: int) -> dict[str, object]:
    """Return how far and in which direction."""
    return {
        "frets": counted_things(abs(along), "hands.fret"),
        "way": say("hands.to-body" if along > 0 else "hands.to-head"),
        "across": say("hands.to-ceiling" if across > 0 else "hands.to-floor"),
    }


def _over(across: int) -> str:
    return counted_things(abs(across), "hands.over-string")


def _shift_words(along: int, across: int) -> str:
    key = "both" if along and across else "across" if across else "along"
    return say(f"changes.shift-{key}", **_ways(along, across), strings=_over(across))


def _lateness(deed: Deed) -> tuple[bool, Need | None]:
    return (True, deed.need) if _may_be_late(deed) else (False, None)


def _may_be_late(deed: Deed) -> bool:
    return deed.late and any(move.moves for move in deed.moves)


def _late(said: str, deed: Deed, again: bool) -> str:
    more = "-more" if len(deed.moves) > 1 and deed.kind != "whole" else ""
    if deed.need is None:
        after = deed.moves[0].after
        barre = not more and after is not None and len(after.strings) > 1
        return say(f"changes.unplucked{'-barre' if barre else more}", said=said)
    after_that = "-next" if again else ""
    return say(f"changes.late{more}{after_that}", said=said, when=_when(deed.need))


def _all_late(together: Sequence[Deed]) -> str:
    need = together[0].need
    if need is None:
        return say("changes.unplucked-all")
    both = sum(len(deed.moves) for deed in together) == 2
    return say("changes.late-both" if both else "changes.late-all", when=_when(need))


def _when(need: Need) -> str:
    if need.count is None:
        if need.counts == 1:
            return say("changes.when-count")
        return say("changes.when-counts", counts=number(need.counts))
    if not need.bars:
        return count_words(need.count)
    if need.bars == 1:
        return say("changes.when-next-bar", count=count_words(need.count))
    return say("changes.when-bars", bars=number(need.bars))
