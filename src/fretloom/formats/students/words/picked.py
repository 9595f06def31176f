"""How bars are picked: with which pattern, with which changes to it, or in a way of their own."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterator, Sequence
from fractions import Fraction
from typing import TypeAlias

from fretloom.formats.students.telling.gestures import by_counts, finger_short, manner_words
from fretloom.formats.students.telling.listener import (
    count_words,
    picking_finger,
    sentence,
)
from fretloom.formats.students.telling.spoken import chord_words, hands_words
from fretloom.formats.students.words.teller import Teller
from fretloom.performance.events import PlayedBar, TimedBar, TimedNote
from fretloom.performance.manner import TimedSlap
from fretloom.trade.phrases.table import say

#: What a bar has more or less than its pattern; beyond so many it is said as a whole.
_MOST_CHANGED = 2
_Done: TypeAlias = TimedNote | TimedSlap


class Picked:
    """Knows the patterns of a lesson, and which bars are picked as one of them."""

    def __init__(self, teller: Teller) -> None:
        self.teller = teller
        self._alone = {name: bars for (name, _), bars in teller.patterns.items()}
        self._known: dict[int, str] = {}  # By the bar's serial.

    def pattern(self, bar: TimedBar) -> str:
        """Return the pattern that a bar is picked with, "" if it has changes of its own."""
        if bar.serial not in self._known:
            alike = any(_picking(bar) == _picking(one) for one in self._alone.get(bar.pattern, ()))
            self._known[bar.serial] = bar.pattern if alike else ""
        return self._known[bar.serial]

    def usual(self, bars: Sequence[PlayedBar]) -> str:
        """Return the pattern that most bars of a playing are picked with; "" for none."""
        counted = Counter(filter(None, (self.pattern(one.bar) for one in bars)))
        return counted.most_common(1)[0][0] if counted else ""

    def bar(self, bar: TimedBar, usual: str, more: Sequence[str] = ()) -> str:
        """Say a bar: its chords, its picking if it is not the usual one, the hands, and `more` that is asked in it."""
        if bar.rest:
            return ", ".join([say("words.rest"), *more])
        said = [*filter(None, [chord_words(bar, self.teller.names)]), *more]
        own = ""
        if self.pattern(bar):
            said += self._with(bar.pattern, usual)
        elif changed := self._changed(bar):
            said += [*self._with(bar.pattern, usual), *changed]
        elif bar.notes or bar.slaps:
            own = self._own(bar)
            said.append(say("words.own"))
        else:
            said.append(say("picking.nothing"))
        whole = ", ".join([*said, *hands_words(bar)])
        return f"{sentence(whole)} {sentence(own)}" if own else whole

    def _with(self, pattern: str, usual: str) -> list[str]:
        if pattern == usual:
            return []
        return [say("words.picked-with", pattern=self.teller.pattern_name(pattern))]

    def _changed(self, bar: TimedBar) -> list[str]:
        """Say what a bar has besides its pattern and what it leaves out; () if that is too much, or it has none."""
        best: list[str] = []
        for alone in self._alone.get(bar.pattern, ()):
            more, less = _beyond(bar, alone), _beyond(alone, bar)
            if len(more) + len(less) <= _MOST_CHANGED and bar.length == alone.length:
                left = [say("words.without", what=_who(one), count=_at(bar, one)) for one in less]
                added = [
                    say("words.besides", what=self._note(bar, one), count=_at(bar, one))
                    for one in more
                ]
                if not best or len(left) + len(added) < len(best):
                    best = [*left, *added]
        return best

    def _own(self, bar: TimedBar) -> str:
        """Say a picking of a bar's own, with the strings, and the frets that are not the shape's."""
        return by_counts(bar, lambda note: self._note(bar, note), self.teller.listener)

    def _note(self, bar: TimedBar, done: _Done) -> str:
        if isinstance(done, TimedSlap):
            return say(f"picking.slap-{done.place}")
        fret = ""
        if done.literal:
            fret = (
                f" {say('picking.to-fret', fret=done.fret) if done.fret else say('picking.open')}"
            )
        where = self.teller.listener.string(done.string)
        return f"{finger_short(done.finger)} {where}{fret}{manner_words(done, bar)}"


def _beyond(bar: TimedBar, other: TimedBar) -> list[_Done]:
    """Return what is done in a bar and not in another."""
    there = Counter(_key(one) for one in _done(other))
    found = []
    for one in _done(bar):
        if there[_key(one)]:
            there[_key(one)] -= 1
        else:
            found.append(one)
    return found


def _done(bar: TimedBar) -> Iterator[_Done]:
    yield from bar.notes
    yield from bar.slaps


def _who(done: _Done) -> str:
    if isinstance(done, TimedSlap):
        return say(f"words.slap-{done.place}")
    return picking_finger(done.finger)


def _at(bar: TimedBar, done: _Done) -> str:
    return count_words(bar.meter.count_at(bar.start + done.onset))


def _picking(bar: TimedBar) -> Hashable:
    """Return what makes two bars picked alike: who plucks when, and how; not on which string or fret."""
    return tuple(map(_key, _done(bar)))


def _key(done: _Done) -> Hashable:
    if isinstance(done, TimedSlap):
        return (done.onset, done.place, done.accent)
    asked = done.technique
    return (
        (done.onset, done.finger, done.order, done.brush, done.accent, done.harmonic, done.dead),
        (done.fret if done.literal else None, tuple((one.kind, one.onset) for one in done.slurs)),
        (asked.bend, asked.vibrato, asked.trill is not None, asked.ghost, asked.grace),
        (asked.lasting, asked.held or Fraction(0), asked.touch, asked.slow),
    )
