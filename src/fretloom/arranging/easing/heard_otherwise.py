"""What is heard otherwise where another voicing is held: its tones, the bass, the highest notes, and what is gone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from fretloom.performance.events import TimedBar, TimedNote, Timeline
from fretloom.performance.showing.shape_use import voicing_at
from fretloom.performance.sounding.strings import fingered
from fretloom.trade.guitar.voicing import Voicing
from fretloom.values import frozen

_THUMB = "p"


@frozen
class NoteChanged:
    """A string that sounds another note where it is plucked: MIDI numbers as the hand thinks, without a full capo.

    `string` is where it is plucked now, `top` says that it is the highest note plucked at that moment.
    """

    string: int
    before: int
    after: int
    top: bool = False


@frozen
class HeardOtherwise:
    """What is heard otherwise with another voicing; MIDI numbers as the hand thinks, without a full capo.

    Args:
        added, gone: pitch classes that only the new voicing has, and those that only the old one has.
        bass_before, bass_after: what the thumb plays over it, each note once, in order.
        thumb_before, thumb_after: on which strings.
        fingers: notes of the fingers that sound otherwise, from the highest string number.
    """

    added: tuple[int, ...] = ()
    gone: tuple[int, ...] = ()
    bass_before: tuple[int, ...] = ()
    bass_after: tuple[int, ...] = ()
    thumb_before: tuple[int, ...] = ()
    thumb_after: tuple[int, ...] = ()
    fingers: tuple[NoteChanged, ...] = ()

    @property
    def melody(self) -> tuple[NoteChanged, ...]:
        """The highest notes that sound otherwise."""
        return tuple(one for one in self.fingers if one.top)


class _HeardSoFar:
    """What is heard over one voicing, before and after."""

    def __init__(self) -> None:
        self.bass: tuple[dict[int, None], dict[int, None]] = ({}, {})
        self.thumb: tuple[dict[int, None], dict[int, None]] = ({}, {})
        self.fingers: dict[tuple[int, int, int], bool] = {}


def heard_otherwise(
    old: Timeline, new: Timeline, names: Mapping[str, str]
) -> dict[str, HeardOtherwise]:
    """Return what is heard otherwise over each of the voicings in `names`, from old names to new ones.

    Both performances have the same bars; plucks that one of them lacks are passed over.
    """
    found = {name: _HeardSoFar() for name in names}
    done: set[tuple[int, int]] = set()
    for before, after in zip(old.bars, new.bars, strict=False):
        key = (before.bar.serial, after.bar.serial)
        if key not in done:
            done.add(key)
            _compare(before.bar, after.bar, old, found)
    return {
        name: _told(found[name], old.voicings[name], new.voicings[now], old)
        for name, now in names.items()
        if name in old.voicings and now in new.voicings
    }


def _compare(
    before: TimedBar, after: TimedBar, old: Timeline, found: Mapping[str, _HeardSoFar]
) -> None:
    tops = _tops(after)
    for one, other in _pairs(before, after):
        held = voicing_at(before, one.onset)
        if held is None or held.name not in found:
            continue
        gathered = found[held.name]
        pitches = [fingered(old.settings, each.string, each.fret) for each in (one, other)]
        if one.finger == _THUMB:
            for at, each in enumerate((one, other)):
                gathered.bass[at].setdefault(pitches[at])
                gathered.thumb[at].setdefault(each.string)
        elif pitches[0] != pitches[1]:
            mark = (other.string, pitches[0], pitches[1])
            top = tops.get(other.onset) == other.midi
            gathered.fingers[mark] = gathered.fingers.get(mark, False) or top


def _pairs(before: TimedBar, after: TimedBar) -> Iterator[tuple[TimedNote, TimedNote]]:
    """Yield notes that the same finger plucks at the same moment in two bars."""
    there: dict[tuple[Fraction, str], list[TimedNote]] = {}
    for note in after.notes:
        there.setdefault((note.onset, note.finger), []).append(note)
    for note in before.notes:
        same = there.get((note.onset, note.finger), [])
        if same:
            yield note, same.pop(0)


def _tops(bar: TimedBar) -> dict[Fraction, int]:
    tops: dict[Fraction, int] = {}
    for note in bar.notes:
        tops[note.onset] = max(note.midi, tops.get(note.onset, note.midi))
    return tops


def _told(gathered: _HeardSoFar, before: Voicing, after: Voicing, old: Timeline) -> HeardOtherwise:
    tones = [_tones(voicing, old) for voicing in (before, after)]
    fingers = sorted(gathered.fingers.items(), key=lambda one: (-one[0][0], one[0][1:]))
    return HeardOtherwise(
        tuple(sorted(tones[1] - tones[0])),
        tuple(sorted(tones[0] - tones[1])),
        tuple(gathered.bass[0]),
        tuple(gathered.bass[1]),
        tuple(gathered.thumb[0]),
        tuple(gathered.thumb[1]),
        tuple(NoteChanged(*mark, top) for mark, top in fingers),
    )


def _tones(voicing: Voicing, timeline: Timeline) -> set[int]:
    count = len(voicing.frets)
    return {
        fingered(timeline.settings, count - at, fret) % 12
        for at, fret in enumerate(voicing.frets)
        if fret is not None
    }
