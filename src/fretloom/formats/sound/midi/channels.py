"""On which channel a note is played, so that no bend takes others with it and no end stops another note.

A channel has one bend for all its notes, and one note of each key. The thumb, the fingers, the second strings of
courses and dead notes have a channel each. A note that is bent gets one of the others, the one that has been silent
for longest: what still dies away there is then not bent back. One whose key sounds already on its channel gets one
on which nothing is ever bent, if there is one. Channel 10 is for percussion.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fretloom.formats.sound.midi.notes import MidiNote
from fretloom.formats.sound.midi.programs import PERCUSSION
from fretloom.values import frozen

#: Whose channel a note is on where nothing speaks against it, in the order of the channels.
ROLES = ("thumb", "fingers", "second", "dead")
_CHANNELS = tuple(channel for channel in range(16) if channel != PERCUSSION)


@frozen
class ChannelNote:
    """A note with its channel, counted from 0; `bends` is false if it had to be played without them."""

    note: MidiNote
    channel: int
    bends: bool


def role_of(note: MidiNote) -> str:
    """Return whose channel a note is on."""
    if note.voice == "first":
        return "thumb" if note.thumb else "fingers"
    return note.voice


class Channels:
    """The channels of a file in which notes of some roles are played."""

    def __init__(self, roles: Iterable[str]) -> None:
        taken = set(roles)
        own = [role for role in ROLES if role in taken]
        self.own = dict(zip(own, _CHANNELS, strict=False))
        #: When each of the others is silent, and on which track that was written.
        self._others = dict.fromkeys(_CHANNELS[len(own) :], (-1, True))
        self._bent: set[int] = set()
        self._sounding: dict[int, tuple[int, bool]] = {}

    def place(self, notes: Iterable[MidiNote]) -> Iterator[ChannelNote | MidiNote]:
        """Yield notes, which come in order of time, with their channels; those without one as they are."""
        for note in notes:
            own = self.own[role_of(note)]
            alone = own << 7 | note.key
            free = _is_over(self._sounding.get(alone), note)
            other = None if free and not note.bends else self._other(note)
            if other is not None:
                self._others[other] = note.end, note.thumb
                yield ChannelNote(note, other, True)
            elif free:
                self._sounding[alone] = note.end, note.thumb
                yield ChannelNote(note, own, False)
            else:
                yield note

    def _other(self, note: MidiNote) -> int | None:
        """Return a channel on which nothing sounds: for a bend the one that has been silent for longest."""
        free = [one for one, last in self._others.items() if _is_over(last, note)]
        calm = [one for one in free if one not in self._bent]
        if calm and not note.bends:
            return calm[0]
        found = min(free, key=self._others.__getitem__, default=None)
        if found is not None:
            self._bent.add(found)
        return found


def _is_over(last: tuple[int, bool] | None, note: MidiNote) -> bool:
    """Whether what was on a channel is over; on another track its end could be read after the note's start."""
    return last is None or last[0] < note.start or (last[0] == note.start and last[1] == note.thumb)
