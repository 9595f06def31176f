"""The report on hands for a reader, as a teacher would put it."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import fill

from fretloom.performance.events import Settings
from fretloom.performance.hands.hardest import Hands, HeldVoicing, MadeChange
from fretloom.text import counted, times, told_apart, visible
from fretloom.trade.guitar.voicing import fingers_text
from fretloom.trade.wording import CAUTION, capo_words, change_words, finger_word, hand_words, say

_TOLD = frozenset(
    {"reach", "stretch", "barre-arch", "barre-large", "finger-reversed", "thumb-string"}
)
_CARE = fill(
    f"Figures are estimates for a hand of this size, not a verdict on a person. {CAUTION}", 96
)


def hands_text(found: Hands) -> str:
    """Return the report: the hand and the neck, changes, voicings, hardest first."""
    parts = ["\n".join(_head(found))]
    if found.changes:
        lines = ["Changes, hardest first (1 easy to 5 hard)"]
        lines += [line for one in found.changes for line in _change(one)]
        parts.append("\n".join(lines))
    lines = ["Voicings, hardest first (1 easy to 5 hard)"]
    for voicing in found.unfingered:
        lines.append(f"  -  {visible(voicing.name)}  {voicing.frets_text}  no fingers hold it")
    lines += [line for one in found.voicings for line in _voicing(one, found.settings)]
    return "\n\n".join([*parts, "\n".join(lines), _CARE]) + "\n"


def _head(found: Hands) -> Iterator[str]:
    settings = found.settings
    yield visible(settings.title) or "Lesson without a title"
    capo = f", {capo_words(found.neck.capo)}" if found.neck.capo.fret else ""
    yield f"  scale {found.neck.scale:g} mm{capo}, {hand_words(settings.hand)}, {found.skill.name}"
    if any(map(_left_open, found.voicings)):
        yield f"  fingers that the lesson leaves open (found): {sureness(found)}"


def _left_open(held: HeldVoicing) -> bool:
    return any(held.voicing.frets) and not held.voicing.fingers_given


def sureness(found: Hands) -> str:
    """Say how good the fingers are that were found."""
    if found.fingers_sure:
        return "no other choice makes the whole song easier"
    return (
        "a good choice for the whole song, but there may be an easier one: not all could be tried"
    )


def _change(made: MadeChange) -> Iterator[str]:
    names = f"{visible(made.before)} to {visible(made.after)}"
    yield f"  {made.level}  {names}  ({times(made.times)})"
    yield f"       {change_words(made.change)}"
    time = f"takes about {made.change.time:.2f} s"
    if made.pressed is not None:
        who = finger_word(made.pressed.finger) if made.pressed.finger else "the hand"
        there = max(0.0, made.pressed.available)
        needed, given = told_apart(made.pressed.needed, there, 2)
        time += f"; tightest: {who}, {needed} s of {given} s"
        if made.pressed.ratio > 1:
            time += ", so the note before is cut short"
    yield f"       {time}"


def _voicing(held: HeldVoicing, settings: Settings) -> Iterator[str]:
    voicing, found = held.voicing, held.effort
    given = "  (found)" if _left_open(held) else ""
    fingers = f"  {voicing.fingers_text}" if any(voicing.frets) else "  open"
    name = visible(voicing.name)
    yield f"  {found.level}  {name}  {voicing.frets_text}{fingers}{given}  ({_bars(held.times)})"
    for finger, width in found.barres:
        yield f"       {finger_word(finger)} bars {counted(width, 'string')}"
    whose = hand_words(settings.hand)
    for verdict in held.verdicts:
        if verdict.rule in _TOLD:
            yield f"       {say(verdict, whose)}"
    if held.other and found.level > 2:
        yield f"       another way: fingers {fingers_text(held.other)}"


def _bars(count: int) -> str:
    return counted(count, "bar") if count else "not played"
