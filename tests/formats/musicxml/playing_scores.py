"""Plays a score through: its measures in the order that repeats, endings and jumps ask for.

Written from the text of MusicXML 4.0 and nothing else: `repeat` ("times", "after-jump"), `ending`
(the number says which times it is played), `sound` ("a dalsegno or dacapo attribute indicates that
the jump should occur the first time through, while a tocoda attribute indicates the jump should
occur the second time through"; "time-only" changes that), `lyric` ("time-only"). What the standard
leaves to custom is taken as players do: after a jump repeats are left out, with every ending but the
last, unless `after-jump` says otherwise.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Any

from lxml import etree


@dataclass(frozen=True)
class Visit:
    """A measure by its place in the file, and which time it is played, from 1."""

    place: int
    time: int


def numbers(text: str) -> list[int]:
    return [int(one) for one in text.split(",")]


class Player:
    """Goes through the measures of a part."""

    def __init__(self, part: Any) -> None:
        self.measures = part.findall("measure")
        self.at = self.start = 0
        self.round = 1
        self.jumped = False
        self.visits: Counter[int] = Counter()

    def find(self, path: str, place: int) -> Any:
        return self.measures[place].find(path)

    def ending(self, place: int) -> list[int]:
        """The times of an ending that begins with a measure."""
        found = self.find("barline[@location='left']/ending", place)
        return [] if found is None else numbers(found.get("number"))

    def closes(self, place: int) -> bool:
        return self.find("barline[@location='right']/ending", place) is not None

    def after(self, place: int) -> int:
        """The place behind the ending that begins with a measure."""
        while not self.closes(place):
            place += 1
        return place + 1

    def endings(self, place: int) -> list[int]:
        """Where the endings begin that stand one behind the other, from the one at a place on."""
        found = []
        while place < len(self.measures) and self.ending(place):
            found.append(place)
            place = self.after(place)
        return found

    def back(self, place: int) -> Any:
        return self.find("barline[@location='right']/repeat[@direction='backward']", place)

    def played_after_jump(self, place: int) -> bool:
        return self.back(place).get("after-jump") == "yes"

    def sounds(self, name: str, place: int, usual: int) -> bool:
        """Whether a jump is made at this time."""
        for sound in self.measures[place].iter("sound"):
            if sound.get(name):
                times = numbers(sound.get("time-only") or str(usual))
                return self.visits[place] in times
        return False

    def place_of(self, name: str) -> int:
        (found,) = (
            place
            for place, one in enumerate(self.measures)
            if any(sound.get(name) for sound in one.iter("sound"))
        )
        return found

    def go_to(self, place: int) -> None:
        self.at, self.round = place, 1
        self.jumped = True

    def choose(self) -> bool:
        """At an ending go to the one that is played now; say whether the way leads elsewhere."""
        group = self.endings(self.at)
        if not group:
            return False
        skips = self.jumped and not any(
            self.played_after_jump(self.after(one) - 1)
            for one in group
            if self.back(self.after(one) - 1) is not None
        )
        now = max(max(self.ending(one)) for one in group) if skips else self.round
        wanted = next(one for one in group if now in self.ending(one))
        moved, self.at = wanted != self.at, wanted
        return moved

    def goes_back(self) -> bool:
        repeat = self.back(self.at)
        if repeat is None or (self.jumped and repeat.get("after-jump") != "yes"):
            return False
        if self.closes(self.at):
            first = next(
                one
                for one in range(self.at, -1, -1)
                if self.ending(one) and self.after(one) > self.at
            )
            times = max(max(self.ending(one)) for one in self.endings(first))
        else:
            times = int(repeat.get("times") or 2)
        return self.round < times

    def order(self) -> list[Visit]:
        found: list[Visit] = []
        moved_back = False
        while self.at < len(self.measures):
            forward = self.find("barline[@location='left']/repeat[@direction='forward']", self.at)
            if forward is not None and not moved_back:
                self.start, self.round = self.at, 1
            moved_back = False
            self.choose()
            self.visits[self.at] += 1
            found.append(Visit(self.at, self.visits[self.at]))
            assert len(found) < 100_000
            if self.sounds("fine", self.at, 2):
                break
            if self.goes_back():
                self.at, self.round, moved_back = self.start, self.round + 1, True
            elif self.sounds("tocoda", self.at, 2):
                self.go_to(self.place_of("coda"))
            elif self.sounds("dacapo", self.at, 1):
                self.go_to(0)
            elif self.sounds("dalsegno", self.at, 1):
                self.go_to(self.place_of("segno"))
            else:
                self.at += 1
        return found


def order_of(data: bytes, part: int = 0) -> list[Visit]:
    """Return the measures of a part in the order in which they are played."""
    return Player(etree.fromstring(data).findall("part")[part]).order()
