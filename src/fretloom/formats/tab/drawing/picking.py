"""Which fingers pluck at an instant, as they stand under the strings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from fretloom.formats.tab.drawing.signs import Sign
from fretloom.performance.events import TimedNote
from fretloom.performance.manner import TimedSlap


def picking_lines(notes: Sequence[TimedNote]) -> tuple[tuple[str, ...], str]:
    """Return the fingers' lines from the lowest up, and the thumb's line, of an instant."""
    plain = [note for note in notes if note.gesture is None]
    thumbs = [_letter(note) for note in plain if note.finger == "p"]
    others = sorted((note for note in plain if note.finger != "p"), key=lambda note: -note.string)
    stack = [_letter(note) for note in others]
    for rolled in _rolled(notes):
        has_thumb = any(note.finger == "p" for note in rolled)
        if has_thumb and not thumbs:
            thumbs.append(_gesture_text(rolled))
        else:
            stack.insert(0, _gesture_text(rolled))
    return tuple(stack), "+".join(thumbs)


def _gesture(note: TimedNote) -> int:
    return note.gesture or 0


def _letter(note: TimedNote) -> str:
    letter = f"({note.finger})" if note.technique.ghost else note.finger
    return letter + (">" if note.accent else "")


def _gesture_text(notes: Sequence[TimedNote]) -> str:
    """Write the fingers of a roll in order, `{pima}`, and a brush as `p6-4`."""
    slow = "slow " if _is_slow(notes) else ""
    words: list[str] = []
    for (brush, _), run in groupby(notes, _stroke):
        together = list(run)
        if not brush:
            words += [_letter(note) for note in together]
            continue
        accent = ">" if any(note.accent for note in together) else ""
        words.append(_brush(together) + accent)
    if len(words) == 1 and notes[0].brush and not slow:
        return words[0]
    return "{" + slow + (" " if any(note.brush for note in notes) else "").join(words) + "}"


def _stroke(note: TimedNote) -> tuple[int, str]:
    return note.brush, note.finger


def _brush(notes: Sequence[TimedNote]) -> str:
    return f"{notes[0].finger}{notes[0].string}-{notes[-1].string}"


def _rolled(notes: Sequence[TimedNote]) -> Iterator[list[TimedNote]]:
    """Yield the rolls and brushes of an instant, the notes of each in playing order."""
    gestures = sorted((note for note in notes if note.gesture is not None), key=_gesture)
    for _, together in groupby(gestures, _gesture):
        yield sorted(together, key=lambda note: note.order or 0)


def brushes(notes: Sequence[TimedNote]) -> Iterator[tuple[Sign, str]]:
    """Yield for each brush of an instant its sign by its direction, and how it is written."""
    for rolled in _rolled(notes):
        for (brush, _), run in groupby(rolled, _stroke):
            if brush:
                swept = list(run)
                down = swept[0].string >= swept[-1].string
                yield Sign.BRUSH_DOWN if down else Sign.BRUSH_UP, _brush(swept)


def slap_sign(slap: TimedSlap) -> str:
    """Return how a slap is written."""
    return _slap(slap).shown + (">" if slap.accent else "")


def _slap(slap: TimedSlap) -> Sign:
    return Sign.SLAP if slap.place == "strings" else Sign.BODY_SLAP


def _is_slow(notes: Sequence[TimedNote]) -> bool:
    return any(note.technique.slow for note in notes)


def hand_signs(notes: Sequence[TimedNote], slaps: Sequence[TimedSlap]) -> Iterator[Sign]:
    """Yield the signs among the picking fingers of an instant."""
    yield from map(_slap, slaps)
    if any(note.technique.ghost for note in notes):
        yield Sign.GHOST
    if any(note.accent for note in notes) or any(slap.accent for slap in slaps):
        yield Sign.ACCENT
    for rolled in _rolled(notes):
        if _is_slow(rolled):
            yield Sign.SLOW_ROLL
        elif not rolled[0].brush or len(set(map(_stroke, rolled))) > 1:
            # A brush alone stands without braces.
            yield Sign.ROLL_FINGERS
