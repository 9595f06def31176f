"""The texts of a bar, row by row: chord names, words sung, fingers, counts, and words at a time."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Literal

from fretloom.characters import nothing_hidden
from fretloom.engraving.drawn.drawing import Ink, Letters
from fretloom.engraving.drawn.lettering import AFTER, width_of
from fretloom.engraving.drawn.tab.placing.spacing import Lane, TakenRoom
from fretloom.engraving.drawn.tab.placing.struck import Struck
from fretloom.engraving.drawn.tab.values import (
    CHORD,
    COUNT,
    FINGER,
    HALF,
    SMALL,
    TEXT_GAP,
    WORDS,
    StripBar,
)
from fretloom.performance.events import TimedBar
from fretloom.performance.manner import Sung
from fretloom.trade.music.meter import Count
from fretloom.trade.phrases.table import say
from fretloom.trade.wording import with_signs
from fretloom.values import frozen

#: Names and words begin so far left of their note.
_BEFORE = 1.4
#: The root of a chord as it is printed, with its sign.
_ROOT = re.compile("[A-Z][♯♭]?")
#: Half the width of a fermata, and of a wedge.
_FERMATA, _WEDGE = 1.9, 1.0
#: Between the letters of fingers that pluck together.
_BETWEEN = 0.5


@frozen(kw_only=True)
class Text:
    """A text at a time of the bar, `aside` millimetres beside it.

    `accent` says that a wedge stands behind it, `wedge` that one stands over it, `sign` that a
    fermata stands at its time.
    """

    at: Fraction
    text: str
    size: float
    aside: float = 0.0
    ink: Ink = "ink"
    bold: bool = False
    after: str = ""
    anchor: Literal["start", "middle"] = "middle"
    accent: bool = False
    wedge: bool = False
    sign: bool = False

    @property
    def width(self) -> float:
        """How wide it is, in millimetres."""
        behind = width_of(self.after, AFTER * self.size) if self.after else 0.0
        return width_of(self.text, self.size, self.bold) + behind

    @property
    def taken(self) -> TakenRoom:
        """What it takes beside its time."""
        width = self.width
        left = 0.0 if self.anchor == "start" else width / 2
        if self.sign:
            return TakenRoom(self.at, _FERMATA, width + self.aside)
        right = width - left + (2.2 if self.accent else 0.0)
        if self.wedge:
            left, right = max(left, _WEDGE), max(right, _WEDGE)
        return TakenRoom(self.at, left - self.aside, right + self.aside)

    def letters(self, x: float, y: float) -> Letters:
        """Return it as a mark, at the place of its time and on a baseline."""
        return Letters(
            at=(x + self.aside, y), text=self.text, size=self.size, ink=self.ink,
            anchor=self.anchor, bold=self.bold, after=self.after,
        )  # fmt: skip


def lane(texts: Sequence[Text], gap: float = TEXT_GAP) -> Lane:
    """Return the room that a row of texts takes."""
    return Lane(tuple(one.taken for one in texts), gap)


def chord_names(one: StripBar) -> Iterator[Text]:
    """Yield the names of the voicings where the hand takes them: the root bold, the rest smaller."""
    for taken, name in zip(one.bar.voicings, one.chords, strict=False):
        printed = with_signs(nothing_hidden(name))
        if printed and taken.onset < one.bar.length:
            found = _ROOT.match(printed) if taken.voicing.symbol else None
            root = found[0] if found else printed
            yield Text(
                at=max(taken.onset, Fraction(0)), text=root, after=printed[len(root) :], size=CHORD,
                aside=-_BEFORE, bold=True, anchor="start",
            )  # fmt: skip


def sung_words(sung: Sung, length: Fraction) -> Iterator[Text]:
    """Yield the words of one time, each syllable where it is sung, or all of them from the bar's start."""
    parts = [(one.onset, one.text) for one in sung.syllables] or [(Fraction(0), sung.text)]
    together: dict[Fraction, list[str]] = {}
    for at, text in parts:
        together.setdefault(at, []).append(nothing_hidden(text))
    for at, texts in together.items():
        text = " ".join(filter(None, texts))
        if text and at < length:
            yield Text(at=at, text=text, size=WORDS, aside=-_BEFORE, anchor="start")


def finger_letters(struck: Sequence[Struck]) -> Iterator[Text]:
    """Yield the letters of the fingers, those that pluck together side by side, the low string first."""
    groups: dict[tuple[Fraction, float], dict[str, bool]] = {}
    for one in sorted(struck, key=lambda one: -one.string):
        if one.part == "plucked" and not one.thumb:
            letters = groups.setdefault((one.at, one.aside), {})
            finger = one.note.finger
            letters[finger] = letters.get(finger, False) or one.note.accent
    for (at, aside), letters in groups.items():
        widths = [width_of(letter, FINGER) for letter in letters]
        left = aside - (sum(widths) + _BETWEEN * (len(widths) - 1)) / 2
        for (letter, accent), width in zip(letters.items(), widths, strict=True):
            middle = left + width / 2
            yield Text(at=at, text=letter, size=FINGER, aside=middle, wedge=accent)
            left += width + _BETWEEN


def counts(bar: TimedBar) -> Iterator[Text]:
    """Yield the numbers of all counts, and the words between them where something sounds."""
    meter = bar.meter
    for number in range(1, meter.count_total + 1):
        at = meter.position(Count(number)) - bar.start
        if 0 <= at < bar.length:
            yield Text(at=at, text=str(number), size=COUNT, bold=True)
    sounding = {note.onset for note in bar.notes} | {slap.onset for slap in bar.slaps}
    sounding |= {slur.onset for note in bar.notes for slur in note.slurs}
    for at in sorted(one for one in sounding if one < bar.length):
        count = meter.count_at(bar.start + at)
        if count.part and not count.word.startswith("+"):
            yield Text(at=at, text=count.word, size=HALF, ink="soft")


def slaps(bar: TimedBar) -> Iterator[Text]:
    """Yield the words of slaps, under the counts."""
    for slap in bar.slaps:
        if slap.onset < bar.length:
            text = say(f"tab.slap-{slap.place}")
            yield Text(at=slap.onset, text=text, size=HALF, bold=slap.accent, accent=slap.accent)


def words_at(bar: TimedBar, struck: Sequence[Struck]) -> Iterator[Text]:
    """Yield what is said over a time: a fermata, a slow roll, where the hand lets go, where strings are stopped."""
    said: dict[Fraction, list[str]] = {}
    slow = {one.at for one in struck if one.note.technique.slow and one.note.order is not None}
    found = [(at, "slowly") for at in sorted(slow)]
    found += [
        (at, key) for at, key in ((bar.release, "release"), (bar.stop, "stop")) if at is not None
    ]
    for at, key in found:
        said.setdefault(at, []).append(say(f"tab.{key}"))
    if bar.fermata is not None:
        said.setdefault(bar.fermata, [])
    for at, words in said.items():
        if at < bar.length:
            text, sign = ", ".join(words), at == bar.fermata
            aside = _FERMATA + 0.6 if sign else -_BEFORE
            if not sign and bar.length - at < 1:
                # Near the end of the bar it ends at its time.
                aside = _BEFORE - width_of(text, SMALL)
            yield Text(
                at=at, text=text, size=SMALL, ink="soft", anchor="start", aside=aside, sign=sign
            )
