"""A pattern alone: which finger plucks which string on which count, and the same in words under each beat.

The thumb is a square, a finger is a circle, each with its letter; frets are left to the shape.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cached_property

from attrs import evolve

from fretloom.engraving.drawn.drawing import Box, Disc, Letters, Mark
from fretloom.engraving.drawn.signs import MIDDLE
from fretloom.engraving.drawn.tab.bar_picture import BarPicture
from fretloom.engraving.drawn.tab.painting.frets import Spot
from fretloom.engraving.drawn.tab.placing.rows import Text
from fretloom.engraving.drawn.tab.placing.struck import ARROW, Struck, struck_in
from fretloom.engraving.drawn.tab.spoken import bar_title
from fretloom.engraving.drawn.tab.strip import arranged
from fretloom.engraving.drawn.tab.values import PICKING_SLOT, Strip, StripBar, TabLook
from fretloom.performance.events import Settings, TimedBar, TimedNote
from fretloom.performance.manner import NoteTechnique
from fretloom.text import listed
from fretloom.trade.music.meter import Count
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

#: The thumb's square, half of both sides; a finger's circle; the letters in them.
_SQUARE, _CIRCLE = (1.7, 1.4), 1.45
_THUMB_LETTER, _FINGER_LETTER, _WORD = 2.9, 2.7, 2.5
#: Three fingers or more at once are not named one by one.
_SEVERAL = 3


def picking_picture(bars: Sequence[StripBar], settings: Settings, look: TabLook) -> Strip:
    """Draw the bars of a pattern alone (`of_bars` makes them of what `patterns_alone` returns).

    A strip like any other: the letters of the strings are meant for the first bar of a line.
    """
    plain = evolve(look, with_letters=False)
    bare = [evolve(one, bar=_bare(one.bar), again=False) for one in bars]
    return arranged([_PickingBar(one, settings, plain, False) for one in bare], PICKING_SLOT)


def _bare(bar: TimedBar) -> TimedBar:
    """Return a bar with its plucks and nothing else that is done with the notes."""
    return evolve(bar, notes=tuple(_bare_note(note) for note in bar.notes))


def _bare_note(note: TimedNote) -> TimedNote:
    return evolve(
        note, slurs=(), technique=NoteTechnique(slow=note.technique.slow), harmonic=False, dead=False
    )  # fmt: skip


@frozen(eq=False)
class _PickingBar(BarPicture):
    """A bar with tokens in place of frets, and words under its beats."""

    @cached_property
    def struck(self) -> tuple[Struck, ...]:
        """The tokens."""
        return tuple(_token(one) for one in struck_in(self.one.bar))

    @cached_property
    def under(self) -> tuple[tuple[Text, ...], ...]:
        """The words of each count, one below the other."""
        found = list[list[Text]]()
        for at, said in _said(self.one.bar):
            for row, (text, thumb) in enumerate(said):
                while len(found) <= row:
                    found.append([])
                found[row].append(
                    Text(
                        at=at, text=text, size=_WORD, aside=-1.0, anchor="start",
                        bold=thumb, ink="thumb" if thumb else "ink",
                    )
                )  # fmt: skip
        return tuple(tuple(row) for row in found)

    @property
    def says(self) -> str:
        """The bar in words: "1 thumb. 2 thumb, and middle."."""
        bar, sentences = self.one.bar, list[str]()
        for number, events in _events(bar).items():
            parts = [_when(number, part, _together(notes)) for part, notes in events]
            sentences.append(f"{number} {', '.join(parts)}.")
        return " ".join([f"{bar_title(self.one)}.", *sentences] if self.one.label else sentences)

    def figures(self, found: Sequence[Spot]) -> Iterator[Mark]:
        """Draw the tokens."""
        for spot in found:
            yield from _drawn(spot)


def _token(one: Struck) -> Struck:
    half = _SQUARE[0] if one.thumb else _CIRCLE
    before = ARROW if one.left > one.half + ARROW / 2 else 0.0
    return evolve(
        one, text=one.note.finger, half=half, left=half + before, right=half, bow=half, after="",
        hopped=False,
    )  # fmt: skip


def _drawn(spot: Spot) -> Iterator[Mark]:
    letter = spot.struck.text
    if spot.struck.thumb:
        wide, high = _SQUARE
        yield Box(
            at=(spot.x - wide, spot.y - high), width=2 * wide, height=2 * high, radius=0.4, fill="thumb"
        )  # fmt: skip
        at = (spot.x, spot.y + 0.27 * _THUMB_LETTER)
        yield Letters(at=at, text=letter, size=_THUMB_LETTER, ink="paper", bold=True)
        return
    yield Disc(at=(spot.x, spot.y), radius=_CIRCLE, fill="paper", line="ink", width=0.35)
    at = (spot.x, spot.y + (MIDDLE - 0.08) * _FINGER_LETTER)
    yield Letters(at=at, text=letter, size=_FINGER_LETTER)


_Event = tuple[Fraction, list[TimedNote]]


def _events(bar: TimedBar) -> dict[int, list[_Event]]:
    """Return what is plucked on each count and up to the next: the share of the count, and the notes."""
    found: dict[int, list[_Event]] = {}
    for note in sorted(bar.notes, key=lambda one: (one.onset, one.order or 0)):
        if note.onset >= bar.length:
            continue
        count = bar.meter.count_at(bar.start + note.onset)
        events = found.setdefault(count.number, [])
        rolled = note.order and not note.brush
        if events and events[-1][0] == count.part and not rolled:
            events[-1][1].append(note)
        else:
            events.append((count.part, [note]))
    return found


def _said(bar: TimedBar) -> Iterator[tuple[Fraction, list[tuple[str, bool]]]]:
    """Yield for each count its words, line by line, each with whether it is the thumb's."""
    for number, events in _events(bar).items():
        lines = list[tuple[str, bool]]()
        for _, notes in events:
            fingers = _fingers(notes)
            thumb = "p" in fingers
            if thumb:
                lines.append((_name("p"), True))
            others = [finger for finger in fingers if finger != "p"]
            if not others:
                continue
            named = _names(others)
            lines.append((f"+ {named}" if thumb else named, False))
        at = bar.meter.position(Count(number)) - bar.start
        yield max(at, Fraction(0)), lines


def _fingers(notes: Sequence[TimedNote]) -> list[str]:
    ordered = sorted(notes, key=lambda one: -one.string)
    return list(dict.fromkeys(note.finger for note in ordered))


def _names(fingers: Sequence[str]) -> str:
    if len(fingers) >= _SEVERAL:
        return say("tab.fingers")
    return " + ".join(map(_name, fingers))


def _name(finger: str) -> str:
    return say(f"tab.finger-{finger}")


def _together(notes: Sequence[TimedNote]) -> str:
    return listed([_name(finger) for finger in _fingers(notes)])


def _when(number: int, part: Fraction, words: str) -> str:
    """Return an event in words: "thumb", "and middle"."""
    count = Count(number, part)
    word = say("tab.and") if count.word == "&" else count.word.replace("+", "plus ")
    return f"{word} {words}" if part else words
