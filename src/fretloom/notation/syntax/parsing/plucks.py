"""The text of one pluck or brush to its value, which is the same everywhere except for its place."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache, partial
from typing import cast

from fretloom.notation.model.pattern import SLURS, Brush, Pluck, Slur
from fretloom.trade.guitar.plucking import PickingFinger

#: A pluck as the grammar has it, its parts in groups.
PLUCK = re.compile(r"([pimac])([0-9]{1,2})?(?:@([0-9]{1,2}))?((?:[hps][0-9]{1,2})*)([!*x]*)")
_BRUSH = re.compile(r"([pimac])([0-9]{1,2})-([0-9]{1,2})([!x]*)")
_SLUR = re.compile(r"([hps])([0-9]{1,2})")
#: Longer texts are no plucks that anyone writes, and are not worth remembering.
_LONGEST = 40
#: Different plucks that are remembered: few lessons have fifty.
_REMEMBERED = 1024

#: Makes the value with `span=`, the place where it stands.
Make = Callable[..., Pluck | Brush]


def pluck_maker(text: str) -> Make | None:
    """Return the maker of the pluck or brush that a text means, None if it is neither."""
    return _remembered(text) if len(text) <= _LONGEST else _read(text)


def _read(text: str) -> Make | None:
    found = PLUCK.fullmatch(text)
    if found is not None:
        finger, string, fret, slurs, marks = found.groups()
        return partial(
            Pluck,
            finger=cast("PickingFinger", finger),
            string=int(string) if string else None,
            fret=int(fret) if fret else None,
            slurs=tuple(Slur(SLURS[kind], int(end)) for kind, end in _SLUR.findall(slurs)),
            accent="!" in marks,
            harmonic="*" in marks,
            dead="x" in marks,
        )
    found = _BRUSH.fullmatch(text)
    if found is None:
        return None
    finger, first, last, marks = found.groups()
    return partial(
        Brush,
        finger=cast("PickingFinger", finger),
        first=int(first),
        last=int(last),
        accent="!" in marks,
        dead="x" in marks,
    )


_remembered = lru_cache(maxsize=_REMEMBERED)(_read)
