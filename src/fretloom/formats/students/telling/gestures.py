"""What the picking hand does at each moment of a bar, in words: who plucks, and how the note is made."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from itertools import groupby
from typing import TypeAlias

from fretloom.formats.students.telling.listener import Listener, listed_clearly, number
from fretloom.performance.events import SlurredNote, TimedBar, TimedNote
from fretloom.trade.music.meter import Count
from fretloom.trade.phrases.table import say

#: Says who plucks a note, and where.
SayNote: TypeAlias = Callable[[TimedNote], str]
_PARTS = {"&": "half", "e": "quarter", "a": "last-quarter", "trip": "third", "let": "two-thirds"}


def by_counts(bar: TimedBar, say_note: SayNote, listener: Listener) -> str:
    """Say a bar count by count: "1: thumb. 2: thumb; and: middle"; "" if nothing is plucked or slapped."""
    done = [
        (bar.meter.count_at(bar.start + at), said) for at, said in _moments(bar, say_note, listener)
    ]
    said = []
    for count, group in groupby(done, key=lambda one: one[0].number):
        parts = [_part(at, words) for at, words in group]
        first, *others = parts
        rest = [say("picking.at-part", part=part, done=words) for part, words in others]
        key = "picking.at-count-part" if first[0] else "picking.at-count"
        done_then = "; ".join([first[1], *rest])
        said.append(say(key, count=count, part=first[0], done=done_then))
    return ". ".join(said)


def finger_short(finger: str) -> str:
    """Name a picking finger in short: "thumb", "index"."""
    return say(f"picking.short-{finger}")


def manner_words(note: TimedNote, bar: TimedBar) -> str:
    """Say how a note is made beyond its pluck, with a comma before it; "" for a plain one."""
    said = [*_slurs(note), *_made(note), *_lasting(note, bar)]
    return "".join(f", {one}" for one in said)


def _part(count: Count, words: str) -> tuple[str, str]:
    if not count.part:
        return "", words
    key = _PARTS.get(count.word)
    if key is None:
        return say("picking.at-share", share=count.part), words
    return say(f"picking.at-{key}"), words


def _moments(
    bar: TimedBar, say_note: SayNote, listener: Listener
) -> Iterator[tuple[Fraction, str]]:
    """Yield what is done at each onset, in order."""
    found: dict[Fraction, list[str]] = {}
    for onset, notes in groupby(bar.notes, key=lambda one: one.onset):
        found[onset] = list(_at_once(list(notes), say_note, listener))
    for slap in bar.slaps:
        accent = f", {say('picking.accent')}" if slap.accent else ""
        found.setdefault(slap.onset, []).append(say(f"picking.slap-{slap.place}") + accent)
    for onset in sorted(found):
        yield onset, listed_clearly(found[onset])


def _at_once(notes: Sequence[TimedNote], say_note: SayNote, listener: Listener) -> Iterator[str]:
    plain = [note for note in notes if note.gesture is None]
    if len(plain) == 1:
        yield say_note(plain[0])
    elif plain:
        yield _together([say_note(note) for note in plain])
    swept = [note for note in notes if note.gesture is not None]
    for _, group in groupby(swept, key=lambda one: one.gesture):
        yield _swept(list(group), say_note, listener)


def _together(said: Sequence[str]) -> str:
    if any("," in one for one in said):
        return say("picking.together-long", first=said[0], others=listed_clearly(said[1:]))
    return say("picking.together", fingers=listed_clearly(said))


def _swept(notes: Sequence[TimedNote], say_note: SayNote, listener: Listener) -> str:
    """Say a roll, or a brush with one finger."""
    if all(note.brush for note in notes) and len({note.finger for note in notes}) == 1:
        strings = listener.strings([note.string for note in notes])
        dead = f", {say('picking.dead')}" if all(note.dead for note in notes) else ""
        finger = finger_short(notes[0].finger)
        return say("picking.brush", fingers=finger, strings=strings) + dead
    slow = any(note.technique.slow for note in notes)
    fingers = listed_clearly([say_note(note) for note in notes])
    return say("picking.slow-roll" if slow else "picking.roll", fingers=fingers)


def _slurs(note: TimedNote) -> Iterator[str]:
    grace = note.technique.grace
    for slur in note.slurs:
        yield _slur(slur)
    if grace:
        yield say("picking.grace-before" if grace == "before" else "picking.grace")


def _slur(slur: SlurredNote) -> str:
    return say(f"picking.{slur.kind}", goal=_goal(slur.fret))


def _goal(fret: int) -> str:
    return say("picking.to-fret", fret=fret) if fret else say("picking.to-open")


def _made(note: TimedNote) -> Iterator[str]:
    asked = note.technique
    if asked.bend is not None:
        way = "-before" * asked.bend.before + "-back" * asked.bend.release
        how = say(f"picking.bend-{int(asked.bend.semitones * 2)}")
        yield say(f"picking.bend{way}", how=how)
    if asked.vibrato:
        yield say("picking.vibrato")
    if asked.trill is not None:
        yield say("picking.trill", goal=_goal(asked.trill.fret))
    if note.harmonic:
        yield say("picking.harmonic")
    if asked.touch is not None:
        yield say("picking.touch", fret=asked.touch)
    for there, key in ((note.dead, "dead"), (asked.ghost, "ghost"), (note.accent, "accent")):
        if there:
            yield say(f"picking.{key}")


def _lasting(note: TimedNote, bar: TimedBar) -> Iterator[str]:
    asked = note.technique
    if asked.lasting:
        yield say(f"picking.{asked.lasting}")
    if asked.held is not None:
        yield say("picking.held", counts=_counts(asked.held / bar.meter.count_length))


def _counts(counts: Fraction) -> str:
    """Say how many counts: "one count", "two counts", "half a count", "one and a half counts"."""
    whole, share = divmod(counts, 1)
    if not share:
        return say("picking.count") if whole == 1 else say("picking.counts", number=number(whole))
    if share == Fraction(1, 2):
        return (
            say("picking.counts-half", number=number(whole)) if whole else say("picking.count-half")
        )
    if not whole:
        return say("picking.count-share", number=share)
    return say("picking.counts-share", number=number(whole), share=share)
