"""Strings as notes of MIDI: what the fretting hand makes is a note of its own, and softer; the rest bends.

A hammer-on, a pull-off and each note of a trill begin a note, which every player can play and every program reads.
A slide bends the note towards its goal, where another note begins. A bent string stays one note.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from fretloom.formats.sound.guitar.constants import value
from fretloom.formats.sound.ticks import tick
from fretloom.performance.playback.clock import Clock
from fretloom.performance.playback.sounds import FretMove, StringSound
from fretloom.values import frozen

#: How loud a note of the fretting hand is beside the pluck that it comes from (assumptions).
SOFTER = {"hammer-on": Fraction(4, 5), "pull-off": Fraction(4, 5), "slide": Fraction(3, 5)}
#: A dead note sounds so many seconds at most (from memory: 0.06 s).
DEAD = Fraction(6, 100)
#: A bend goes on its way in steps of so many seconds at most.
STEP = Fraction(1, 100)
#: The widest range that a bend is set to, in semitones either way: who slides further has no way between.
WIDEST = 24
#: A string that dies away has no more vibrato after so many seconds.
VIBRATO = 4
#: A turn in eight steps, as shares of the depth.
_TURN = tuple(Fraction(part, 100) for part in (71, 100, 71, 0, -71, -100, -71, 0))


@frozen(kw_only=True)
class MidiNote:
    """A note of MIDI: from tick `start` to `end`, at least one later.

    `bends` are ticks with how many semitones above the key the string then is, in order; empty for a note that is
    never bent. `bar` is the place of its bar, `voice` what sounds: a string, the second of a course, a dead one.
    """

    start: int
    end: int
    key: int
    velocity: int
    thumb: bool
    voice: str
    bar: int
    bends: tuple[tuple[int, Fraction], ...] = ()


def notes_of(sound: StringSound, clock: Clock) -> Iterator[MidiNote]:
    """Yield the notes that a string's sound comes to, also with keys that MIDI does not have."""
    note = sound.note
    until = sound.until
    if note.dead:
        until = min(until, sound.at + clock.lasting(sound.at, DEAD))
    if not (sound.moves or note.technique.vibrato) and sound.midi.denominator == 1:
        start = tick(sound.at)
        yield _struck(sound, start, tick(until), int(sound.midi), sound.loudness, ())
        return
    yield from _Follower(sound, until, clock).notes()


def _struck(
    sound: StringSound,
    start: int,
    end: int,
    key: int,
    velocity: int,
    bends: tuple[tuple[int, Fraction], ...],
) -> MidiNote:
    return MidiNote(
        start=start,
        end=end if end > start else start + 1,
        key=key,
        velocity=velocity,
        thumb=sound.note.finger == "p",
        voice="dead" if sound.note.dead else "second" if sound.mate else "first",
        bar=sound.bar,
        bends=bends,
    )


class _Follower:
    """Follows the fretting hand over a string that sounds."""

    def __init__(self, sound: StringSound, until: Fraction, clock: Clock) -> None:
        self._sound, self._until, self._clock = sound, until, clock
        self._begin(sound.at, sound.midi, sound.loudness)

    def _begin(self, at: Fraction, midi: Fraction, velocity: int) -> None:
        self._at, self._midi, self._velocity = at, midi, velocity
        # Half a semitone between two keys is taken as the lower one, bent up.
        self._key = -((1 - 2 * midi) // 2)
        self._bends = [(at, midi - self._key)]

    def notes(self) -> Iterator[MidiNote]:
        """Yield the notes in order of time."""
        settled = self._sound.at
        for move in self._sound.moves:
            if move.at >= self._until:
                break
            settled = max(settled, move.until)
            if move.kind not in SOFTER:
                self._glide(move)
                continue
            if move.kind == "slide":
                if abs(move.midi - self._key) <= WIDEST:
                    self._glide(move)
                if move.until >= self._until:
                    continue
            yield self._ended(move.until)
            softer = max(1, round(self._sound.loudness * SOFTER[move.kind]))
            self._begin(move.until, move.midi, softer)
        if self._sound.note.technique.vibrato:
            self._shake(settled)
        yield self._ended(self._until)

    def _ended(self, at: Fraction) -> MidiNote:
        bends = tuple((tick(when), semitones) for when, semitones in self._bends if when <= at)
        bent = any(semitones for _, semitones in bends)
        start, end, key = tick(self._at), tick(at), int(self._key)
        return _struck(self._sound, start, end, key, self._velocity, bends if bent else ())

    def _glide(self, move: FretMove) -> None:
        """Bend the note to where a move goes, slowly at both ends."""
        before, after = self._midi - self._key, move.midi - self._key
        length = move.until - move.at
        steps = max(1, -(-length // self._clock.lasting(move.at, STEP)))
        for place in range(1, steps + 1):
            share = Fraction(place, steps)
            way = share * share * (3 - 2 * share)
            self._bends.append((move.at + length * share, before + (after - before) * way))
        self._midi = move.midi

    def _shake(self, at: Fraction) -> None:
        """Bend the note up and down, from a little after a position on, as our own guitar does."""
        rest = self._midi - self._key
        rate, cents, after = (
            Fraction(str(value("slurs", f"vibrato_{name}"))) for name in ("rate", "cents", "starts")
        )
        at += self._clock.lasting(at, after)
        step = self._clock.lasting(at, 1 / rate / len(_TURN))
        turns = min(int(VIBRATO * rate), (self._until - at) // (step * len(_TURN)))
        for place in range(turns * len(_TURN)):
            share = _TURN[place % len(_TURN)] * cents / 100
            self._bends.append((at + step * (place + 1), rest + share))
