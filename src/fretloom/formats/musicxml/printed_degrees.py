"""How the suffix of a chord symbol is shared between the text of its `kind` and its `degree`s.

MusicXML 4.0: a program prints the kind's text and then the degrees that are to be printed. So in C7b9
the kind is "7" and the degree "♭9". Some programs print hidden degrees too, and all would show twice
what stood in the kind's text as well.
"""

from __future__ import annotations

import re

from fretloom.formats.musicxml.kinds import DegreeChange
from fretloom.trade.wording import suffix_with_signs
from fretloom.values import frozen

#: What one degree looks like at the end of a suffix: `b9`, `(#11)`, `add9`, `sus4`, `/9`, `no3`.
_LAST = re.compile(
    r"[\s,(]*(?P<word>add|sus|omit|no|/)?\s*(?P<sign>[b#♭♯+−-])?(?P<number>13|11|[2345679])[\s),]*$",
    re.IGNORECASE,
)
_ALTERS = {"b": -1, "♭": -1, "-": -1, "−": -1, "#": 1, "♯": 1, "+": 1, None: 0}


@frozen
class PrintedDegree:
    """A `degree`: its number, alteration and type, and the word that is printed before it.

    `plus_minus` asks for + and - in place of signs.
    """

    number: int
    alter: int
    change: str
    word: str = ""
    plus_minus: bool = False
    hidden: bool = False


@frozen
class PrintedSuffix:
    """The text of a kind, the degrees behind it, and whether these stand in brackets."""

    text: str
    degrees: tuple[PrintedDegree, ...] = ()
    brackets: bool = False


def shared(suffix: str, degrees: tuple[DegreeChange, ...]) -> PrintedSuffix:
    """Share a suffix between its kind and the degrees that complete it.

    Where it does not end with just these degrees, all of it is the kind's and they are hidden.
    """
    rest, kept, waiting, found = suffix, "", list(degrees), list[PrintedDegree]()
    while waiting and (one := _LAST.search(rest)) is not None:
        change = next((change for change in waiting if _is(one, change)), None)
        if change is not None:
            waiting.remove(change)
            found.insert(0, _printed(one, change))
        elif one["sign"]:
            # An alteration that the kind has already, as the fifth of an augmented seventh.
            kept = f"{one['sign']}{one['number']}{kept}"
        else:
            break
        rest = rest[: one.start()]
    if not found or any(kind != "subtract" for _, _, kind in waiting):
        return PrintedSuffix(suffix_with_signs(suffix), tuple(map(_hidden, degrees)))
    brackets = "(" in suffix[len(rest) :]
    return PrintedSuffix(suffix_with_signs(rest + kept), (*found, *map(_hidden, waiting)), brackets)


def _hidden(change: DegreeChange) -> PrintedDegree:
    # Some programs print it all the same: a third that is left out then wants its "no".
    return PrintedDegree(*change, word="no" if change[2] == "subtract" else "", hidden=True)


def _is(one: re.Match[str], change: DegreeChange) -> bool:
    """Whether a degree as it is printed is this one; a second is a ninth, a fourth an eleventh."""
    number, alter, kind = change
    leaves_out = (one["word"] or "").lower() in ("no", "omit")
    if leaves_out != (kind == "subtract") or (int(one["number"]) - number) % 7:
        return False
    return leaves_out or _ALTERS[one["sign"]] == alter


def _printed(one: re.Match[str], change: DegreeChange) -> PrintedDegree:
    # A degree that is altered is one that the kind has; one that is added is named as it was written.
    number = int(one["number"]) if change[2] == "add" else change[0]
    plus_minus = one["sign"] in tuple("+-−")
    return PrintedDegree(number, change[1], change[2], one["word"] or "", plus_minus)
