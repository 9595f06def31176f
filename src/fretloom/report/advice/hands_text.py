"""The report on hands for a reader, as a teacher would put it."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.performance.events import Settings
from fretloom.performance.hands.hardest import Hands, HeldVoicing, MadeChange
from fretloom.text import visible
from fretloom.trade.playability.changes import Move
from fretloom.trade.wording import finger_word, hand_words, say

_TOLD = frozenset(
    {"reach", "stretch", "barre-arch", "barre-large", "finger-reversed", "thumb-string"}
)
_CARE = (
    "Figures are estimates for a hand of this size, not a verdict on a person. Warm up, rest before\n"
    "the hand tires, stop if it hurts; a teacher or clinician decides."
)


def as_text(found: Hands) -> str:
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
    capo = f", capo {found.neck.capo.fret}" if found.neck.capo.fret else ""
    if found.neck.capo.strings:
        capo += f" on strings {' '.join(map(str, found.neck.capo.strings))}"
    yield f"  scale {found.neck.scale:g} mm{capo}, {hand_words(settings.hand)}, {found.skill.name}"


def _change(made: MadeChange) -> Iterator[str]:
    names = f"{visible(made.before)} to {visible(made.after)}"
    yield f"  {made.level}  {names}  ({_times(made.times)})"
    yield f"       {_moves(made)}"
    time = f"takes about {made.change.time:.2f} s"
    if made.pressed is not None:
        who = finger_word(made.pressed.finger) if made.pressed.finger else "the hand"
        time += f"; tightest: {who}, {made.pressed.needed:.2f} s of {max(0.0, made.pressed.available):.2f} s"
        if made.pressed.ratio > 1:
            time += ", so the note before is cut short"
    yield f"       {time}"


def _moves(made: MadeChange) -> str:
    words = {
        "anchor": "stays",
        "guide": "slides along its string",
        "extend": "lies down to a barre",
        "move": "moves",
        "place": "is put down",
        "lift": "lifts",
    }
    said = []
    for kind, word in words.items():
        fingers = [move.finger for move in made.change.moves if move.kind == kind]
        if fingers:
            many = len(fingers) > 1
            plural = {"stays": "stay", "moves": "move", "lifts": "lift"}
            verb = plural.get(word, word.replace("slides", "slide").replace("lies", "lie"))
            verb = verb.replace("is put", "are put").replace("its string", "their strings")
            said.append(f"{_fingers(fingers)} {verb if many else word}")
    block = made.change.groups == 1 and _moving(made.change.moves) > 1
    return ", ".join(said) + (" (all as one block)" if block else "")


def _moving(moves: tuple[Move, ...]) -> int:
    return sum(move.moves for move in moves)


def _fingers(fingers: list[str]) -> str:
    return " and ".join([", ".join(fingers[:-1]), fingers[-1]]) if len(fingers) > 1 else fingers[0]


def _voicing(held: HeldVoicing, settings: Settings) -> Iterator[str]:
    voicing, found = held.voicing, held.effort
    given = "" if voicing.fingers_given or not any(voicing.frets) else "  (found)"
    fingers = f"  {voicing.fingers_text}" if any(voicing.frets) else "  open"
    name = visible(voicing.name)
    yield f"  {found.level}  {name}  {voicing.frets_text}{fingers}{given}  ({_bars(held.times)})"
    for finger, width in found.barres:
        yield f"       {finger_word(finger)} bars {width} strings"
    whose = hand_words(settings.hand)
    for verdict in held.verdicts:
        if verdict.rule in _TOLD:
            yield f"       {say(verdict, whose)}"
    if held.other and found.level > 2:
        other = "".join(finger or "." for finger in held.other)
        yield f"       another way: fingers {other}"


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def _bars(count: int) -> str:
    return "not played" if not count else "1 bar" if count == 1 else f"{count} bars"
