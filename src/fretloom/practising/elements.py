"""What a bar asks of the hands, in the words of the trade: pinches, rolls, a bass that alternates, barres."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Literal

from fretloom.performance.events import TimedBar, TimedNote
from fretloom.trade.guitar.voicing import Voicing

#: Which notes of a piece are played.
Hands = Literal["both", "thumb", "fingers"]
_THUMB = "p"
#: A barre over more strings than this is a whole one (as in `effort`, where it costs more).
SMALL_BARRE = 3


def notes_of(bar: TimedBar, hands: Hands = "both") -> tuple[TimedNote, ...]:
    """Return the notes that are played when both hands play, or the thumb or the fingers alone."""
    if hands == "both":
        return bar.notes
    return tuple(note for note in bar.notes if (note.finger == _THUMB) is (hands == "thumb"))


def pattern_elements(bar: TimedBar, hands: Hands = "both") -> Iterator[str]:
    """Yield what the picking hand does in a bar, by the keys of the table of words; some of them twice."""
    notes = notes_of(bar, hands)
    yield from _bass([note for note in notes if note.finger == _THUMB and not note.brush])
    fingers = {note.finger for note in notes}
    if fingers - {_THUMB}:
        yield "fingers"
    instants: dict[Fraction, list[TimedNote]] = {}
    for note in notes:
        instants.setdefault(note.onset, []).append(note)
    for together in instants.values():
        yield from _together(together)
    yield from _places(bar, tuple(instants))
    if "a" in fingers:
        yield "ring-finger"
    if "c" in fingers:
        yield "little-finger"
    if hands == "both":
        yield from _of_bar(bar)


def _bass(thumb: Sequence[TimedNote]) -> Iterator[str]:
    if thumb:
        yield "thumb"
    if len({note.onset for note in thumb}) > 1:
        alternates = len({note.string for note in thumb}) > 1
        yield "alternating-bass" if alternates else "one-bass"


def _together(notes: Sequence[TimedNote]) -> Iterator[str]:
    """Yield how notes of one onset are plucked: pinched, closed together, rolled or brushed."""
    plain = [note.finger for note in notes if note.order is None]
    if _THUMB in plain and len(plain) > 1:
        yield "pinch"
    elif len(plain) > 1:
        yield "together"
    for note in notes:
        if note.brush:
            yield "brush"
    rolled = [note for note in notes if note.order is not None and not note.brush]
    if len(rolled) > 1:
        yield "slow-roll" if rolled[0].technique.slow else "roll"


def _places(bar: TimedBar, onsets: Sequence[Fraction]) -> Iterator[str]:
    """Yield what lies between the beats: off-beats, threes and fours, and notes held over a beat."""
    places = [bar.meter.beat_at(bar.start + onset) for onset in onsets]
    for at, place in enumerate(places):
        beat, part = divmod(place, 1)
        if not part:
            continue
        yield {2: "off-beat", 3: "threes", 4: "fours"}.get(part.denominator, "uneven")
        # What ends the bar may be held over a beat, too, but nobody hears it as out of its place.
        if at + 1 < len(places) and places[at + 1] > beat + 1:
            yield "syncopation"


def _of_bar(bar: TimedBar) -> Iterator[str]:
    if len([taken for taken in bar.voicings if not taken.early]) > 1:
        yield "two-shapes"
    if any(taken.early for taken in bar.voicings):
        yield "early"
    if bar.kind == "pickup":
        yield "pickup"


def note_techniques(bar: TimedBar, hands: Hands = "both") -> Iterator[str]:
    """Yield what notes ask for beyond a pluck, by the keys of the table of words."""
    for note in notes_of(bar, hands):
        yield from (slur.kind for slur in note.slurs)
        asked = note.technique
        said = {
            "harmonic": note.harmonic,
            "touched-harmonic": asked.touch is not None,
            "dead": note.dead,
            "beside": note.literal and not (note.harmonic or note.slurs) and note.fret > 0,
            "bend": asked.bend is not None,
            "vibrato": asked.vibrato,
            "trill": asked.trill is not None,
            "grace": bool(asked.grace),
            "ghost": asked.ghost,
            "damped": asked.lasting == "damped",
        }
        yield from (word for word, is_asked in said.items() if is_asked)
    if hands == "both":
        yield from ("body-slap" if slap.place == "body" else "slap" for slap in bar.slaps)
        if bar.release is not None:
            yield "release"
        if bar.stop is not None:
            yield "stop"


def shape_techniques(voicing: Voicing) -> Iterator[str]:
    """Yield what a voicing asks of the fretting hand beyond single fingers."""
    for barre in voicing.barres:
        width = barre.first - barre.last + 1
        yield "small-barre" if width <= SMALL_BARRE else "barre"
    if "T" in voicing.fingers:
        yield "thumb-over"
    if voicing.hops:
        yield "hop"
