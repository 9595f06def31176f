"""What stands under a diagram: what it sounds as, and what the picture cannot say.

At most four short lines; where more is to be said, what a student finds out without it is left out first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fretloom.characters import nothing_hidden
from fretloom.engraving.drawn.diagrams.board import on_neck
from fretloom.engraving.drawn.lettering import wrapped
from fretloom.formats.students.telling.listener import (
    Listener,
    count_words,
    counted_things,
    sentence,
)
from fretloom.performance.showing.shape_use import ShapeUse
from fretloom.performance.showing.taken_shapes import TakenShape
from fretloom.text import listed
from fretloom.trade.guitar.voicing import Hop, Voicing
from fretloom.trade.music.meter import Count
from fretloom.trade.phrases.table import say
from fretloom.trade.wording import with_signs
from fretloom.values import frozen

#: The room under a diagram: one of four abreast on A4, in millimetres, with letters of this size.
ROOM, SIZE, MOST_LINES = 36.0, 3.33, 4
#: A barre over fewer strings is seen at a glance.
_LEAST_BARRE = 3


@frozen
class _Hint:
    """A sentence, and how soon it is left out: the highest first. `short` may stand for it."""

    text: str
    spare: int
    short: str = ""


def shape_hints(
    taken: TakenShape,
    sounding: str = "",
    before: Sequence[TakenShape] = (),
    listener: Listener | None = None,
) -> tuple[str, ...]:
    """Say under a shape what its diagram cannot, in sentences that take four lines at most.

    Args:
        sounding: the chord that is heard, "" where it is the one that is written (no capo).
        before: the shapes that come before it on the page, in their order.
        listener: how strings and fingers are called.
    """
    listener = listener or Listener()
    hints = list[_Hint]()
    if sounding:
        name = with_signs(nothing_hidden(sounding))
        hints.append(_Hint(sentence(say("hints.sounds", name=name)), 0))
    alike = _alike(taken.voicing, before, listener)
    hints += (
        [_Hint(sentence(alike), 2)]
        if alike
        else _barres(on_neck(taken.voicing, listener.capo), listener)
    )
    hints += _hops(taken, listener)
    return _as_fits(hints)


def _alike(voicing: Voicing, before: Sequence[TakenShape], listener: Listener) -> str:
    """Say which shape before it is nearly the same for the hand, "" for none; the latest of those there are."""
    for other in reversed(before):
        name = with_signs(nothing_hidden(other.name))
        lifted, added = _one_less(other.voicing, voicing), _one_less(voicing, other.voicing)
        if lifted or added:
            key = "hints.lifted" if lifted else "hints.added"
            return say(key, name=name, finger=listener.finger(lifted or added))
        shift = _shift(other.voicing, voicing)
        if shift:
            key = "hands.to-body" if shift > 0 else "hands.to-head"
            frets = counted_things(abs(shift), "hands.fret")
            return say("hints.moved", name=name, frets=frets, way=say(key))
    return ""


def _one_less(whole: Voicing, less: Voicing) -> str:
    """Return the finger without which the first shape is the second, "" if none is; some other finger stays."""
    if not (whole.fingers and any(less.fingers)) or len(whole.frets) != len(less.frets):
        return ""
    changed = [at for at, one in enumerate(whole.fingers) if one != less.fingers[at]]
    gone = {whole.fingers[at] for at in changed}
    if len(gone) != 1 or None in gone or gone & set(less.fingers):
        return ""
    same = all(
        _freed(whole, less, at) if at in changed else whole.frets[at] == less.frets[at]
        for at in range(len(whole.frets))
    )
    return (gone.pop() or "") if same else ""


def _freed(whole: Voicing, less: Voicing, at: int) -> bool:
    """Whether a string is simply let go: open, not played, or stopped by a barre that lay under the finger."""
    finger, fret, string = less.fingers[at], less.frets[at], len(whole.frets) - at
    if finger is None:
        return not fret
    return any(
        (barre.finger, barre.fret) == (finger, fret) and barre.last <= string <= barre.first
        for barre in whole.barres
    )


def _shift(one: Voicing, other: Voicing) -> int:
    """Return by how many frets the whole hand is moved from one shape to another, 0 if it is not."""
    if one.fingers != other.fingers or sum(map(bool, one.fingers)) < 2:
        return 0
    shifts = set[int]()
    for old, new in zip(one.frets, other.frets, strict=True):
        if bool(old) != bool(new) or (not old and old != new):
            return 0
        if old and new:
            shifts.add(new - old)
    return shifts.pop() if len(shifts) == 1 else 0


def _barres(voicing: Voicing, listener: Listener) -> Iterator[_Hint]:
    for barre in voicing.barres:
        if barre.first - barre.last + 1 >= _LEAST_BARRE:
            strings = listener.span(barre.first, barre.last)
            said = say("hints.barre", finger=listener.finger(barre.finger), strings=strings)
            yield _Hint(sentence(said), 3)


def _hops(taken: TakenShape, listener: Listener) -> Iterator[_Hint]:
    for hop in taken.voicing.hops:
        said, short = (_hop(hop, taken.use, listener, back) for back in (True, False))
        if said:
            yield _Hint(said, 1, short)


def _hop(hop: Hop, use: ShapeUse, listener: Listener, back: bool) -> str:
    """Say when a finger hops, and when it is needed back if that is one count; "" if the song never has it hop."""
    counts = dict(use.hops).get(hop.string, ())
    if not counts:
        return ""
    returns = dict(use.back).get(hop.string, ()) if back else ()
    key = "hints.hop-at-times" if hop.string in use.at_times else "hints.hop"
    said = say(
        key,
        counts=_on(counts),
        finger=listener.finger(hop.finger),
        string=listener.string(hop.string),
    )
    if len(returns) == 1:
        said = say("hints.hop-back", said=said, count=_on(returns))
    return sentence(said)


def _on(counts: Sequence[Count]) -> str:
    """Say counts in short: "3", "1 and 3", "the and of 2"."""
    said = [count_words(one) if one.part else str(one.number) for one in counts]
    return listed(said, say("hands.and"))


def _as_fits(hints: Sequence[_Hint]) -> tuple[str, ...]:
    """Return as many sentences as fit in the lines there are, in their order."""
    kept = list(hints)
    while _lines([one.text for one in kept]) > MOST_LINES:
        last = max(kept, key=lambda one: (one.spare, bool(one.short)))
        at = kept.index(last)
        kept[at : at + 1] = (
            [_Hint(last.short, last.spare)] if last.short not in ("", last.text) else []
        )
    return tuple(one.text for one in kept)


def _lines(texts: Sequence[str]) -> int:
    return len(wrapped(" ".join(texts), SIZE, ROOM))
