"""What is beyond a level, as a teacher says it."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

from fretloom.arranging.easing.fits import LevelFit, PickingBeyond, VoicingBeyond
from fretloom.arranging.easing.levels import REACHES, Reach
from fretloom.performance.hands.hardest import MadeChange
from fretloom.text import counted, listed
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.tempo import in_notes
from fretloom.trade.playability.effort import Effort
from fretloom.trade.playability.shape import THUMB
from fretloom.trade.wording import finger_word, strings_words

#: The players of each level.
PLAYERS = {
    "beginner": "beginners",
    "intermediate": "intermediate players",
    "advanced": "advanced players",
}
#: So many names stand in a headline; the others are below it.
_NAMED = 8


def headline(fit: LevelFit) -> str:
    """Say for whom a lesson is: `for beginners apart from F and G to F`, without a full stop."""
    players = PLAYERS[fit.level]
    if fit.fits:
        return f"for {players}: nothing in it is beyond them"
    names = list(dict.fromkeys(_names(fit)))
    more = len(names) - _NAMED
    if more > 1:
        names = [*names[:_NAMED], f"{more} more"]
    return f"for {players} apart from {listed(names)}"


def _names(fit: LevelFit) -> Iterator[str]:
    yield from (one.held.voicing.name for one in fit.voicings)
    yield from (f"{one.before} to {one.after}" for one in fit.changes)
    yield from (f"pattern {one.pattern}" for one in fit.picking if one.pattern)
    yield from (one.bar for one in fit.picking if not one.pattern)


def voicing_reasons(beyond: VoicingBeyond) -> str:
    """Say by what a voicing is beyond a level: `a barre over 6 strings`."""
    return shape_words(beyond.held.voicing, beyond.held.effort, beyond.reasons)


def shape_words(voicing: Voicing, effort: Effort, reasons: tuple[str, ...]) -> str:
    """Say what is hard about a voicing, for reasons of `VoicingBeyond`."""
    said = []
    if "barre" in reasons:
        finger, width = max(effort.barres, key=lambda one: one[1])
        said.append(f"a barre of {finger_word(finger)} over {counted(width, 'string')}")
    if "thumb" in reasons:
        said.append(f"the thumb over the neck on {strings_words(voicing.strings_of(THUMB))}")
    if "hop" in reasons:
        hop = voicing.hops[0]
        said.append(f"a hop of {finger_word(hop.finger)} to {strings_words((hop.string,))}")
    if not said:
        said.append(_strain(effort))
    return " and ".join(said)


def _strain(effort: Effort) -> str:
    if effort.limit and effort.distance / effort.limit > 0.8:
        one, other = effort.widest
        return f"a wide stretch from finger {one} to {other}"
    return f"{counted(effort.fingers, 'finger')} to press at once, {effort.level} of 5 in effort"


def change_reasons(made: MadeChange) -> str:
    """Say how long a change takes and what time there is: `0.98 s of 0.52 s for finger 1`."""
    if made.pressed is None:
        return f"{made.change.time:.2f} s"
    who = finger_word(made.pressed.finger) if made.pressed.finger else "the whole hand"
    there = max(0.0, made.pressed.available)
    return f"{who} needs {made.pressed.needed:.2f} s and has {there:.2f} s"


def picking_reasons(beyond: PickingBeyond, level: str) -> str:
    """Say by what picking is beyond a level."""
    reach, said = REACHES[level], []
    if "between" in beyond.reasons:
        said.append(_between(beyond, reach))
    if "pace" in beyond.reasons and isfinite(beyond.seconds):
        said.append(f"strokes every {beyond.seconds:.2f} s, {reach.pace:.2f} s at least")
    elif "repeat" in beyond.reasons:
        said.append("a finger is needed again too soon")
    return "; ".join(said)


def _between(beyond: PickingBeyond, reach: Reach) -> str:
    found = beyond.load
    plucks = f"{counted(found.between, 'pluck')} between the thumb's counts"
    if found.between > reach.between:
        return f"{plucks}, {reach.between:g} at most"
    pinches = counted(found.pinches, "pinch", "pinches")
    return f"{plucks} and {pinches} in a bar, {reach.together:g} together at most"


def where_words(beyond: PickingBeyond) -> str:
    """Name what is picked: `pattern plain in bar 1 (verse)`, `bar 3 (verse)`."""
    return f"pattern {beyond.pattern} in {beyond.bar}" if beyond.pattern else beyond.bar


def beyond_lines(fit: LevelFit) -> Iterator[str]:
    """Yield a line for each thing that is beyond a level, and one for the tempo at which it is in time."""
    for voicing in fit.voicings:
        shape = voicing.held.voicing
        yield f"{shape.name} {shape.frets_text}: {voicing_reasons(voicing)}"
    for made in fit.changes:
        yield f"{made.before} to {made.after}: {change_reasons(made)}"
    for picking in fit.picking:
        yield f"{where_words(picking)}: {picking_reasons(picking, fit.level)}"
    if fit.tempo is not None:
        rest = "nothing is" if fit.slow_enough else "less is"
        yield f"at tempo {in_notes(fit.tempo)} {rest} too quick"
