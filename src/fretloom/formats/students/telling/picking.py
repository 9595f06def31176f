"""A pattern as a teacher says it: count by count, and then who plays which string."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from attrs import evolve

from fretloom.formats.students.telling.gestures import by_counts, finger_short, manner_words
from fretloom.formats.students.telling.listener import Listener, sentence
from fretloom.performance.events import TimedBar, TimedNote
from fretloom.performance.manner import NoteTechnique
from fretloom.text import listed
from fretloom.trade.phrases.table import say

_THUMB = "p"
_FINGERS = "imac"
#: So many strings of the thumb are said in turn; of more only which there are.
_MOST_IN_TURN = 8


def pattern_sentences(
    bars: Sequence[TimedBar], listener: Listener, over: str = ""
) -> tuple[str, ...]:
    """Say a pattern, a sentence a string; one bar that comes again is said once.

    `bars` is the pattern alone over a shape, as `patterns_alone` gives it; `over` as `only_over` gives it.
    """
    notes, homes = _at_home(bars)
    said = [_bar(bar, homes, listener) for bar in bars]
    if len(said) < 2:
        counted = [sentence(one) for one in said]
    elif len(set(said)) == 1:
        counted = [sentence(f"{say('picking.each-bar')}. {said[0]}")]
    else:
        counted = [
            sentence(f"{say('picking.bar', number=at)}. {one}")
            for at, one in enumerate(said, start=1)
        ]
    return (*counted, *map(sentence, _homes(notes, homes, listener, over)))


def home_sentences(bars: Sequence[TimedBar], listener: Listener, over: str = "") -> tuple[str, ...]:
    """Say which strings the fingers of a pattern play, for where a picture has said when."""
    return tuple(map(sentence, _homes(*_at_home(bars), listener, over)))


def only_over(
    bars: Sequence[TimedBar], played: Iterable[TimedBar], names: Mapping[str, str]
) -> str:
    """Return the name of the shape of a pattern alone if its thumb has other strings over others, else ""."""
    shown = next((taken.voicing.name for bar in bars for taken in bar.voicings), "")
    pattern, alone = bars[0].pattern, {_thumb_strings(bar) for bar in bars}
    if all(bar.pattern != pattern or _thumb_strings(bar) in alone for bar in played):
        return ""
    return names.get(shown, shown)


def _thumb_strings(bar: TimedBar) -> tuple[int, ...]:
    return tuple(_strings(bar.notes, _THUMB))


def says_more(bars: Sequence[TimedBar]) -> bool:
    """Whether notes of a pattern are played in a way that a picking picture does not show."""
    plain = NoteTechnique()
    return any(
        one.slurs
        or one.harmonic
        or one.dead
        or one.literal
        or evolve(one.technique, slow=False) != plain
        for bar in bars
        for one in bar.notes
    )


def _at_home(bars: Sequence[TimedBar]) -> tuple[list[TimedNote], dict[str, list[int]]]:
    notes = [note for bar in bars for note in bar.notes]
    fingers = dict.fromkeys(one.finger for one in notes)
    return notes, {finger: _strings(notes, finger) for finger in fingers}


def _bar(bar: TimedBar, homes: dict[str, list[int]], listener: Listener) -> str:
    def note_words(note: TimedNote) -> str:
        said = finger_short(note.finger)
        if len(set(homes[note.finger])) > 1 and note.finger != _THUMB:
            said = f"{said} {listener.string(note.string)}"
        if note.literal and note.fret is not None:
            said = f"{said}, {_at(note.fret)}"
        return said + manner_words(note, bar)

    return by_counts(bar, note_words, listener) or say("picking.nothing")


def _at(fret: int) -> str:
    return say("picking.to-fret", fret=fret) if fret else say("picking.at-open")


def _homes(
    notes: Sequence[TimedNote], homes: dict[str, list[int]], listener: Listener, over: str
) -> Iterator[str]:
    """Yield who plays which string: the thumb in turn, then the fingers."""
    if _THUMB in homes:
        said = _thumb(homes[_THUMB], listener)
        yield (
            say("picking.over", shape=over, said=f"{said[:1].lower()}{said[1:]}") if over else said
        )
    staying = [one for one in _FINGERS if one in homes and len(set(homes[one])) == 1]
    if staying:
        parts = [
            say(
                "picking.home-next" if at else "picking.home-first",
                fingers=finger_short(one),
                strings=listener.string(homes[one][0]),
            )
            for at, one in enumerate(staying)
        ]
        yield listed(parts, say("hands.and"))


def _thumb(strings: list[int], listener: Listener) -> str:
    if len(set(strings)) == 1:
        return say("picking.thumb-one", strings=listener.string(strings[0]))
    if len(strings) <= _MOST_IN_TURN:
        return say("picking.thumb-in-turn", strings=listener.strings(strings))
    return say("picking.thumb-among", strings=listener.strings(sorted(set(strings), reverse=True)))


def _strings(notes: Sequence[TimedNote], finger: str) -> list[int]:
    return [note.string for note in notes if note.finger == finger]
