"""What has been said of a section, and which bars of a later playing can be said by it."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from functools import partial
from typing import TypeAlias

from fretloom.formats.students.words.met import MetBar
from fretloom.values import frozen

#: So many places in which a bar was played so before are tried.
_MOST_TRIED = 16
_Alike: TypeAlias = tuple[int | None, Hashable]


@frozen(eq=False)
class KnownBars:
    """Bars of an earlier playing, `title`, that come again; `as_before` says that they do so in the first one's place.

    `in_place` says that they have the numbers that they had there.
    """

    title: str
    bars: tuple[MetBar, ...]
    as_before: bool
    in_place: bool


class KnownSection:
    """The playings of a section that have been said; "as before" is as in the first of them."""

    def __init__(self) -> None:
        self._asked: dict[int | None, set[tuple[str, ...]]] = {}
        self._home: set[tuple[_Alike, int]] = set()
        self._places: dict[_Alike, list[tuple[str, Sequence[MetBar], int]]] = {}

    def add(self, title: str, met: Sequence[MetBar]) -> None:
        """Take in a playing with something new."""
        if not self._home:
            self._home.update((_alike(one), one.number) for one in met)
        for at, one in enumerate(met):
            self._asked.setdefault(one.played.written, set()).add(one.asked)
            places = self._places.setdefault(_alike(one), [])
            if len(places) < _MOST_TRIED:
                places.append((title, met, at))

    def asked(self, one: MetBar) -> bool:
        """Whether the same was asked in this place of the section before."""
        return one.asked in self._asked.get(one.played.written, ())

    def run(self, met: Sequence[MetBar], at: int) -> KnownBars | None:
        """Return what the bars from `at` on repeat with nothing new asked between; the most bars there are."""
        if size := self._size(met, at, lambda past: self._at_home(met[at + past])):
            return KnownBars("", tuple(met[at : at + size]), True, True)
        best: KnownBars | None = None
        for title, playing, start in self._places.get(_alike(met[at]), ()):
            size = self._size(met, at, partial(self._moved, met, at, playing, start))
            found = playing[start : start + size]
            known = KnownBars(title, tuple(found), False, found[0].number == met[at].number)
            if best is None or _worth(known) > _worth(best):
                best = known
        return best

    def _at_home(self, one: MetBar) -> bool:
        return (_alike(one), one.number) in self._home

    def _moved(
        self, met: Sequence[MetBar], at: int, playing: Sequence[MetBar], start: int, past: int
    ) -> bool:
        if start + past >= len(playing) or self._at_home(met[at + past]):
            return False
        return _alike(playing[start + past]) == _alike(met[at + past])

    def _size(self, met: Sequence[MetBar], at: int, holds: Callable[[int], bool]) -> int:
        """Return for how many bars from `at` on something holds, and nothing new is asked after the first."""
        size = 0
        while at + size < len(met) and holds(size):
            if size and not self.asked(met[at + size]):
                break
            size += 1
        return size


def _worth(found: KnownBars) -> tuple[int, bool]:
    return len(found.bars), found.in_place


def _alike(one: MetBar) -> _Alike:
    return one.played.written, one.look
