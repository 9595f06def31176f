"""A bar from its first note to its last, in words, for those who hear the lesson and do not see it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from fretloom.formats.students.telling.gestures import by_counts, finger_short, manner_words
from fretloom.formats.students.telling.listener import Listener, count_words, sentence
from fretloom.performance.events import TimedBar, TimedNote
from fretloom.trade.phrases.table import say


def bar_sentence(
    bar: TimedBar,
    listener: Listener,
    names: Mapping[str, str],
    *,
    lead: str = "",
    same: bool = False,
    sung: str = "",
) -> str:
    """Say a bar: "Bar 6, C sharp m7, from count 3 B m7. 1: thumb string 5 fret 4. 2: ...".

    Args:
        bar: the bar. names: how each voicing is said, by its name in the lesson.
        lead: what comes first, "Bar 6". same: whether it is played as the bar before, and only that is said.
        sung: the words sung in it.
    """
    head = ", ".join(filter(None, [lead, *_chords(bar, names)]))
    said = [head] if head else []
    if same:
        said.append(say("picking.bar-same"))
    else:
        said += [_notes(bar, listener), *hands_words(bar)]
    if sung:
        said.append(say("picking.words", words=sung))
    return " ".join(sentence(one) for one in said if one)


def chord_words(bar: TimedBar, names: Mapping[str, str]) -> str:
    """Say the chords of a bar: "E", "C sharp m7, from count 3 B m7"; "" for none."""
    return ", ".join(_chords(bar, names))


def _chords(bar: TimedBar, names: Mapping[str, str]) -> Iterator[str]:
    for taken in bar.voicings:
        name = names.get(taken.voicing.name, taken.voicing.name)
        count = count_words(bar.meter.count_at(bar.start + taken.onset))
        if taken.early:
            yield say("picking.chord-early", count=count, chord=name)
        elif taken.onset:
            yield say("picking.chord-from", count=count, chord=name)
        else:
            yield name


def _notes(bar: TimedBar, listener: Listener) -> str:
    def note_words(note: TimedNote) -> str:
        where = {"finger": finger_short(note.finger), "string": listener.string(note.string)}
        key = "picking.note" if note.fret else "picking.note-open"
        return say(key, fret=note.fret, **where) + manner_words(note, bar)

    return by_counts(bar, note_words, listener) or say(
        "picking.bar-rest" if bar.rest else "picking.nothing"
    )


def hands_words(bar: TimedBar) -> Iterator[str]:
    """Yield where the hands do something to the bar as a whole."""
    for at, key in ((bar.release, "release"), (bar.stop, "stop"), (bar.fermata, "fermata")):
        if at is not None:
            yield say(f"picking.{key}", count=count_words(bar.meter.count_at(bar.start + at)))
