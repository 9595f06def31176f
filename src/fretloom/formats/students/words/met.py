"""Bars as they are met one after the other, and how many of them in a row can be said in one."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from itertools import islice

from fretloom.performance.events import PlayedBar
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

#: So many bars in a row that come again within a playing are said as one.
_LEAST_AGAIN = 4
#: So many places in which they may have come before are tried.
_MOST_TRIED = 16


@frozen(eq=False)
class MetBar:
    """A bar with its number in its playing (0 for a pickup), how it looks, and what is asked, cued and sung in it."""

    played: PlayedBar
    number: int
    look: Hashable
    asked: tuple[str, ...] = ()
    cue: str = ""
    words: str = ""

    @property
    def plain(self) -> bool:
        """Whether it is a whole bar in which nothing is asked, cued or sung."""
        return bool(self.number) and not (self.asked or self.cue or self.words)


def run_again(met: Sequence[MetBar], at: int) -> tuple[int, int]:
    """Return how many bars from `at` on came before in this playing, and from where on; 0 for too few."""
    best, where = 0, 0
    alike = (start for start in range(at) if met[start].look == met[at].look)
    for start in islice(alike, _MOST_TRIED):
        size = 0
        while (
            start + size < at
            and at + size < len(met)
            and met[start + size].look == met[at + size].look
            and not met[at + size].cue
            and not (size and met[at + size].asked)
        ):
            size += 1
        if size > best:
            best, where = size, start
    return (best, where) if best >= _LEAST_AGAIN else (0, 0)


def named(met: Sequence[MetBar], the: str = "") -> str:
    """Name some bars by their numbers: "Bars 1 to 4", "Pickup"; with `the-` as within a sentence."""
    first, last = max(met[0].number, 1), met[-1].number
    if not last:
        return say(f"words.{the}pickup")
    if first >= last:
        return say(f"words.{the}bar", first=last)
    key = "two-bars" if last == first + 1 else "bars"
    return say(f"words.{the}{key}", first=first, last=last)
