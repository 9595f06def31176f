"""Over which voicings each written pluck sounds, and as what note of the hand."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from fretloom.notation.model.pattern import Pluck
from fretloom.performance.events import TimedBar, TimedNote, Timeline
from fretloom.performance.showing.shape_use import voicing_at
from fretloom.source import Span
from fretloom.trade.guitar.voicing import Voicing
from fretloom.values import frozen

#: Where a pluck is written: the name of the text, and the place in it.
Written = tuple[str, int, int]


@frozen
class Sounded:
    """A note that a written pluck sounds: the voicing held, the note, and the strings plucked with it."""

    voicing: Voicing
    note: TimedNote
    beside: frozenset[int]


def written_at(span: Span | None) -> Written | None:
    """Return where a pluck is written, None if it is in no text."""
    return None if span is None else (span.source.name, span.start, span.end)


def sounded(timeline: Timeline) -> dict[Written, list[Sounded]]:
    """Return for each written pluck the different things that it sounds in the whole lesson."""
    found: dict[Written, dict[tuple[str, int, int], Sounded]] = {}
    for bar in _bars(timeline):
        strings: dict[Fraction, set[int]] = {}
        for note in bar.notes:
            strings.setdefault(note.onset, set()).add(note.string)
        for note in bar.notes:
            at = written_at(note.pluck_span)
            held = voicing_at(bar, note.onset)
            if at is None or held is None:
                continue
            key = (held.name, note.string, note.fret)
            if key not in found.setdefault(at, {}):
                beside = frozenset(strings[note.onset] - {note.string})
                found[at][key] = Sounded(held, note, beside)
    return {at: list(notes.values()) for at, notes in found.items()}


def _bars(timeline: Timeline) -> Iterator[TimedBar]:
    """Yield each bar that sounds otherwise than the ones before, played or only written."""
    seen: set[int] = set()
    played = (one.bar for one in timeline.bars)
    written = (one.bar for section in timeline.sections for one in section.bars)
    for bar in (*played, *written):
        if bar.serial not in seen:
            seen.add(bar.serial)
            yield bar


def names_fret(pluck: Pluck) -> bool:
    """Whether a pluck says at which fret it sounds; a natural harmonic is where it is in any key."""
    beside = pluck.technique.trill is not None or pluck.technique.touch is not None
    return bool(pluck.slurs) or beside or (pluck.fret is not None and not pluck.harmonic)
