"""What is new in a piece of a lesson: shapes, changes, what the picking does, and techniques, as a set.

Two things are the same for the hands if their keys are: the shape x32010 with the same fingers is one shape,
whatever a lesson calls it.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from typing import Literal

from attrs import field

from fretloom.performance.events import TimedBar, Timeline
from fretloom.practising.elements import (
    Hands,
    note_techniques,
    pattern_elements,
    shape_techniques,
)
from fretloom.trade.guitar.tunings import NAMED
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

Kind = Literal["shape", "change", "pattern", "technique"]
#: Whoever begins counts four, and has an instrument in its usual tuning.
_USUAL_METER = "4/4"
_USUAL_TUNINGS = frozenset(NAMED[name] for name in ("standard", "12-string", "ukulele"))
#: What has notes between the beats, which a swing makes long and short.
_SWUNG = frozenset({"off-beat", "threes", "fours", "uneven"})


@frozen
class NewThing:
    """One thing to learn.

    Args:
        kind: a shape, a change from shape to shape, something of the picking, or a technique.
        key: what makes it the same thing in another lesson: frets and fingers, or a word of the trade.
        words: as a student reads it: `Am7`, `from C to Am7`, `a pinch`.
    """

    kind: Kind
    key: str
    words: str = field(eq=False)


class Things:
    """Names the things that pieces of one lesson ask for; each is looked for once a bar."""

    def __init__(self, timeline: Timeline, names: Mapping[str, str]) -> None:
        self._timeline, self._names = timeline, names
        self._bars: dict[tuple[int, Hands], tuple[NewThing, ...]] = {}
        self._shapes: dict[str, tuple[NewThing, ...]] = {}
        self._changes: dict[tuple[str, str], tuple[NewThing, ...]] = {}

    def shape(self, voicing: Voicing) -> tuple[NewThing, ...]:
        """Return a shape and the techniques it asks for; nothing where no string is played."""
        known = self._shapes.get(voicing.name)
        if known is None:
            known = ()
            if any(fret is not None for fret in voicing.frets):
                name = self._names.get(voicing.name, voicing.name)
                known = (
                    NewThing("shape", _key(voicing), name),
                    *map(_technique, dict.fromkeys(shape_techniques(voicing))),
                )
            self._shapes[voicing.name] = known
        return known

    def change(self, before: Voicing, after: Voicing) -> tuple[NewThing, ...]:
        """Return the change from one shape to another; nothing where the hand has nothing to do."""
        pair = (before.name, after.name)
        known = self._changes.get(pair)
        if known is None:
            known = self._changes[pair] = tuple(self._change(before, after))
        return known

    def _change(self, before: Voicing, after: Voicing) -> Iterator[NewThing]:
        keys = [_key(one) for one in (before, after)]
        silent = any(all(fret is None for fret in one.frets) for one in (before, after))
        if silent or keys[0] == keys[1] or not (any(before.frets) or any(after.frets)):
            return
        names = [self._names.get(one.name, one.name) for one in (before, after)]
        words = say("new.change", before=names[0], after=names[1])
        yield NewThing("change", f"{keys[0]} > {keys[1]}", words)

    def of_bars(self, bars: Iterable[TimedBar], hands: Hands = "both") -> tuple[NewThing, ...]:
        """Return all things of bars that follow one another, each once, in order of appearance."""
        found: dict[NewThing, None] = {}
        seen: set[int | tuple[str, str]] = set()
        held: Voicing | None = None
        for bar in bars:
            for taken in bar.voicings:
                before, held = held, taken.voicing
                pair = (before.name if before is not None else "", held.name)
                if before is held or pair in seen:
                    continue
                seen.add(pair)
                found |= dict.fromkeys(self.shape(held))
                if before is not None:
                    found |= dict.fromkeys(self.change(before, held))
            if bar.serial not in seen:
                seen.add(bar.serial)
                found |= dict.fromkeys(self._of_bar(bar, hands))
        return tuple(found)

    def _of_bar(self, bar: TimedBar, hands: Hands) -> tuple[NewThing, ...]:
        key = (bar.serial, hands)
        known = self._bars.get(key)
        if known is None:
            words = dict.fromkeys(pattern_elements(bar, hands))
            if self._timeline.settings.swing is not None and words.keys() & _SWUNG:
                words["swing"] = None
            printed = self._timeline.patterns.get(bar.pattern)
            if hands == "both" and printed is not None and printed.bars > 1:
                words["two-bar" if printed.bars == 2 else "long"] = None
            techniques = dict.fromkeys(note_techniques(bar, hands))
            known = self._bars[key] = (
                *_counting(str(bar.meter)),
                *(NewThing("pattern", word, say(f"new.{word}")) for word in words),
                *map(_technique, techniques),
            )
        return known

    def tuning(self) -> tuple[NewThing, ...]:
        """Return the tuning of the lesson, where it is not the usual one of its instrument."""
        tuning = self._timeline.settings.tuning
        if str(tuning) in _USUAL_TUNINGS:
            return ()
        return (NewThing("technique", f"tuning {tuning}", say("new.tuning")),)


def _counting(meter: str) -> tuple[NewThing, ...]:
    """Return how a bar is counted, where that is not in four."""
    if meter == _USUAL_METER:
        return ()
    return (NewThing("pattern", f"meter {meter}", say("new.meter", meter=meter)),)


def _technique(word: str) -> NewThing:
    return NewThing("technique", word, say(f"new.{word}"))


def _key(voicing: Voicing) -> str:
    return f"{voicing.frets_text} {voicing.fingers_text}".rstrip()


def new_things(asked: Iterable[NewThing], known: Container[NewThing]) -> tuple[NewThing, ...]:
    """Return what is not known yet of the things a piece asks for, in their order."""
    return tuple(one for one in asked if one not in known)
