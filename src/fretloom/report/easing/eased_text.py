"""What was made easier in a lesson, for its teacher."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.arranging.easing.eased import Eased, PickingEased, ShapeEased, TempoEased
from fretloom.arranging.easing.fits import LevelFit
from fretloom.report.advice.remarks import remark_text
from fretloom.report.easing.heard_words import heard_words
from fretloom.report.easing.words import PLAYERS, beyond_lines, shape_words
from fretloom.text import agreeing, counted, listed, visible
from fretloom.trade.music.tempo import in_notes
from fretloom.trade.playability.shape import THUMB
from fretloom.trade.wording import strings_words


def eased_text(found: Eased) -> str:
    """Return what was made easier and what is heard otherwise for it, and what was left, a line each."""
    return "".join(f"{visible(line)}\n" for line in _lines(found))


def _lines(found: Eased) -> Iterator[str]:
    players = PLAYERS[found.level]
    if found.lesson is None and found.left.fits:
        yield f"nothing is beyond {players}, so nothing has to be easier"
        return
    yield from (shape_text(one, found) for one in found.shapes)
    yield from (picking_text(one) for one in found.picking)
    if found.tempo is not None:
        yield tempo_text(found.tempo)
    yield from map(remark_text, found.words)
    if found.lesson is None:
        yield f"nothing could be made easier for {players}"
    yield from left_lines(found.left)


def left_lines(left: LevelFit) -> Iterator[str]:
    """Yield a line for each thing that is still beyond the level."""
    for line in beyond_lines(left):
        yield f"still beyond {PLAYERS[left.level]}: {line}"


def shape_text(one: ShapeEased, found: Eased) -> str:
    """Say what became of a voicing: `F 133211, a barre ..., becomes xx3211: ...`, without a full stop."""
    before, after = one.before, one.after
    hard = shape_words(before, one.effort_before, one.reasons)
    head = f"{before.name} {before.frets_text}, {hard},"
    if one.kind == "hop":
        return f"{head} keeps its shape: nothing hops{_and(heard_words(one, found.settings))}"
    new = after.frets_text if after.name == before.name else f"{after.name} {after.frets_text}"
    return f"{head} becomes {new}: {gain_words(one)}{_and(heard_words(one, found.settings))}"


def _and(said: str) -> str:
    return f"; {said}" if said else ""


def gain_words(one: ShapeEased) -> str:
    """Say what is easier about a shape: `no barre`, `a barre over 2 strings only`."""
    before, after = one.effort_before, one.effort_after
    wide = max((width for _, width in before.barres), default=0)
    now = max(after.barres, key=lambda held: held[1], default=None)
    said = []
    if now is not None and now[1] < wide:
        said.append(f"a barre over {counted(now[1], 'string')} only")
    elif now is None and wide:
        said.append("no barre")
    if one.after.strings_of(THUMB):
        said.append(f"the thumb over the neck takes {strings_words(one.after.strings_of(THUMB))}")
    elif one.before.strings_of(THUMB):
        said.append("the thumb stays behind the neck")
    if not said and after.fingers < before.fingers:
        said.append(f"{counted(after.fingers, 'finger')} in place of {before.fingers}")
    return listed(said) or "less to hold"


def picking_text(one: PickingEased) -> str:
    """Say what became of a pattern or of a bar written out."""
    name = f"pattern {one.pattern}" if one.pattern else one.bar
    said = []
    if one.dropped:
        said.append(f"nothing is plucked on {listed(one.dropped)}")
    if one.thumb:
        said.append(f"the thumb rests on {listed(one.thumb)}")
    if one.lost:
        gone = agreeing(len(one.lost), "is", "are")
        said.append(f"{listed(one.lost)} {gone} left out, which you may miss")
    return f"{name}, {one.before}, becomes {one.after}: {listed(said)}"


def tempo_text(one: TempoEased) -> str:
    """Say what became of the tempo, and for what."""
    quick = [f"{before} to {after}" for before, after in one.changes]
    quick += [f"pattern {name}" for name in one.patterns]
    are = agreeing(len(quick), "is", "are")
    reason = f", so that {listed(quick)} {are} in time" if quick else ""
    return f"the tempo is {in_notes(one.after)} in place of {in_notes(one.before)}{reason}"
