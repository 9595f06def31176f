"""What a score says of each bar when it is played through: notes, words, and what is in force there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from lxml import etree
from musicxml_reading import Bar, bars_of
from playing_scores import Visit, numbers, order_of

#: Words that say how the form goes on.
FORM = re.compile(r"x\d+|To Coda|Fine|D\.[CS]\..*")


@dataclass
class Heard:
    """One bar as it is played.

    `notes` is all that stands at its notes; `chords`, `speeds` and `loud` are what is in force, from
    which place on; `wedge` is what goes on at its start and at its end.
    """

    measure: int
    time: int
    notes: list[Any]
    chords: list[Any]
    speeds: list[Any]
    loud: list[Any]
    free: bool
    wedge: tuple[str, str]
    swing: str
    meter: str
    length: Fraction
    sung: list[Any]
    words: set[str] = field(default_factory=set)

    def same(self) -> tuple[Any, ...]:
        """What has to be the same in every form of a score."""
        return (
            self.notes, self.chords, self.speeds, self.loud, self.free, self.wedge, self.swing,
            self.meter, self.length, self.sung,
        )  # fmt: skip


class Listener:
    """Follows what is in force from bar to bar in playing order."""

    def __init__(self, data: bytes, part: int) -> None:
        self.bars = bars_of(data, part)
        self.wedges = list(wedges(self.bars))
        self.meters = list(meters(self.bars))
        self.chord = self.speed = self.loud = self.swing = ""
        self.free = False

    def hear(self, visit: Visit) -> Heard:
        bar = self.bars[visit.place]
        chords, speeds, loud = (
            [(Fraction(0), self.chord)],
            [(Fraction(0), self.speed)],
            [(Fraction(0), self.loud)],
        )
        for at, sign in sorted(bar.above, key=lambda one: one[0]):
            if sign.tag == "harmony":
                self.chord = chord_of(sign)
                chords.append((at, self.chord))
                continue
            self.direct(sign)
            speeds.append((at, self.speed))
            loud.append((at, self.loud))
        for sound in bar.element.findall("sound"):
            if sound.get("tempo"):
                self.speed = sound.get("tempo")
                speeds.append((Fraction(0), self.speed))
        return Heard(
            visit.place, visit.time,
            [note_text(note) for note in bar.notes],
            in_force(chords), in_force(speeds), in_force(loud), self.free,
            self.wedges[visit.place], self.swing, self.meters[visit.place], bar.end,
            sung(bar, visit.time), set(words_of(bar)),
        )  # fmt: skip

    def direct(self, sign: Any) -> None:
        words = sign.findtext("direction-type/words")
        dynamics = sign.find("direction-type/dynamics")
        sound = sign.find("sound")
        if dynamics is not None:
            self.loud = dynamics[0].tag
        if words == "loudness as before":
            self.loud = ""
        if words == "free time":
            self.free = True
        if sound is not None and sound.get("tempo"):
            self.speed, self.free = sound.get("tempo"), False
        if sound is not None and sound.find("swing") is not None:
            self.swing = etree.tostring(sound.find("swing")).decode().strip()


def heard(data: bytes, part: int = 0) -> list[Heard]:
    """Return what is heard of a part, bar by bar in playing order."""
    listener = Listener(data, part)
    return [listener.hear(visit) for visit in order_of(data, part)]


def in_force(changes: list[Any]) -> list[Any]:
    """Return the places at which something else comes into force, with what that is."""
    last: dict[Fraction, Any] = {}
    for at, what in sorted(changes, key=lambda one: one[0]):
        last[at] = what
    found: list[Any] = []
    for at, what in sorted(last.items()):
        if not found or found[-1][1] != what:
            found.append((at, what))
    return found


def chord_of(harmony: Any) -> str:
    """Return a chord symbol; whether its diagram is printed is another matter."""
    copy = deepcopy(harmony)
    for frame in copy.findall("frame"):
        copy.remove(frame)
    copy.attrib.pop("print-frame", None)
    copy.tail = None
    return re.sub(r">\s+<", "><", etree.tostring(copy).decode())


def note_text(note: Any) -> Any:
    """Return all that is written of a note but what is sung to it."""
    copy = deepcopy(note.element)
    for lyric in copy.findall("lyric"):
        copy.remove(lyric)
    return note.onset, re.sub(r">\s+<", "><", etree.tostring(copy).decode()).strip()


def sung(bar: Bar, time: int) -> list[Any]:
    """Return the syllables of a time with their places."""
    found = []
    for note in bar.notes:
        for lyric in note.element.findall("lyric"):
            times = lyric.get("time-only")
            if times is None or time in numbers(times):
                parts = [(one.tag, one.text) for one in lyric]
                found.append((note.onset, parts))
    return sorted(found)


def words_of(bar: Bar) -> Iterator[str]:
    """Yield the words over and under a bar, those of the form left out."""
    for at, sign in bar.above:
        words = sign.findtext("direction-type/words") if sign.tag == "direction" else None
        if words and not FORM.fullmatch(words):
            yield f"{at}: {words}"


def wedges(bars: list[Bar]) -> Iterator[tuple[str, str]]:
    """Yield for each measure of the file the wedge under its start and under its end."""
    now = ""
    for bar in bars:
        first, last = now, now
        for at, sign in bar.above:
            wedge = sign.find("direction-type/wedge") if sign.tag == "direction" else None
            if wedge is None:
                continue
            stops = wedge.get("type") == "stop"
            assert stops == bool(now)
            now = "" if stops else wedge.get("type")
            if at == 0:
                first = last = now
            elif not stops:
                last = now
        yield first, last
    assert not now


def meters(bars: list[Bar]) -> Iterator[str]:
    now = ""
    for bar in bars:
        time = bar.element.find("attributes/time")
        if time is not None:
            now = f"{time.findtext('beats')}/{time.findtext('beat-type')}"
        yield now
