"""What each bar of the performance looks like on the page, as small numbers that can be compared.

Two bars can be one measure if everything written in them is the same. How long notes ring is not
written, nor are the words of the song compared: those of several times stand under one another. But
where nothing is sung at one of the times, the words would be sung again.
Tempo and loudness are signs that stand where they change. A measure that has such a sign says the
same each time it is played; one that has none leaves what is in force, which may be another.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence

from fretloom.formats.musicxml.planning.pace import BarPace
from fretloom.formats.musicxml.planning.written import PreparedBar

#: What is in force differs from time to time, and no sign says it.
_LEFT_OPEN = -1
#: For tempo and loudness what is in force, and whether a sign says so.
State = tuple[int, bool, int, bool]


class Looks:
    """The looks of all bars of a performance.

    Args:
        of: for each bar a number that bars share which look alike but for tempo and loudness.
        whole: the same with what is in force and said of both; equal ones can always be one measure.
        steps: how many more comparisons are made before folding stops looking for more.
    """

    def __init__(self, bars: Sequence[PreparedBar], pace: Sequence[BarPace]) -> None:
        known: dict[Hashable, int] = {}
        voices: dict[Hashable, int] = {}
        frames: dict[int, int] = {}

        def number(of: Hashable) -> int:
            return known.setdefault(of, len(known))

        self.of: list[int] = []
        self._states: list[State] = []
        for bar, at in zip(bars, pace, strict=True):
            played = bar.played
            if bar.key not in voices:
                voices[bar.key] = number((bar.music.looks, *(one.number for one in bar.voices)))
            if bar.key.serial not in frames:
                frames[bar.key.serial] = number(_frame(bar))
            silent = played.sung is None
            said = (
                voices[bar.key],
                frames[bar.key.serial],
                played.section,
                silent,
                _asked(bar, at),
            )
            self.of.append(number(said))
            shown = at.tempo is not None or at.heard is not None
            loud = played.manner.dynamic
            self._states.append((number(played.tempo), shown, number(loud), bool(at.dynamic)))
        self.whole = [
            number((look, state)) for look, state in zip(self.of, self._states, strict=True)
        ]
        self.steps = 50 * len(self.of) + 10_000

    def column(self, places: Iterable[int]) -> Column:
        """Begin measures, one for each of these bars."""
        return Column(self, places)

    def state(self, place: int) -> State:
        """Return what is in force at a bar, and what is said of it."""
        return self._states[place]

    def joined(self, first: int, state: State, place: int) -> State | None:
        """Return what is known of a measure when a further bar is it as well; None if that cannot be.

        Args:
            first: a bar that it is. state: what is known of it by now.
        """
        if self.of[first] != self.of[place]:
            return None
        tempo, shown, loud, said = state
        other_tempo, other_shown, other_loud, other_said = self._states[place]
        shown, said = shown or other_shown, said or other_said
        tempo = tempo if tempo == other_tempo else _LEFT_OPEN
        loud = loud if loud == other_loud else _LEFT_OPEN
        if (shown and tempo == _LEFT_OPEN) or (said and loud == _LEFT_OPEN):
            return None
        return tempo, shown, loud, said

    def together(self, places: Sequence[int]) -> State | None:
        """Return what is known of a measure that is all these bars; None if it cannot be."""
        state: State | None = self._states[places[0]]
        for place in places[1:]:
            state = None if state is None else self.joined(places[0], state, place)
        return state


class Column:
    """Measures one after the other, each with what is known of the bars that it stands for."""

    def __init__(self, looks: Looks, places: Iterable[int]) -> None:
        self._looks = looks
        self._first = list(places)
        self._states = [looks.state(place) for place in self._first]

    def __len__(self) -> int:
        return len(self._first)

    def add(self, places: Sequence[int]) -> int:
        """Let further bars be the first measures as well; return how many of them can be."""
        done = 0
        for at, place in zip(range(len(self)), places, strict=False):
            state = self._joined(at, place)
            if state is None:
                break
            self._states[at] = state
            done += 1
        self._looks.steps -= done + 1
        return done

    def fits(self, places: Sequence[int]) -> int:
        """Return how many of the first measures further bars can be, without letting them."""
        done = 0
        for at, place in zip(range(len(self)), places, strict=False):
            if self._joined(at, place) is None:
                break
            done += 1
        self._looks.steps -= done + 1
        return done

    def cut(self, length: int) -> None:
        """Keep the first measures only."""
        del self._first[length:], self._states[length:]

    def _joined(self, at: int, place: int) -> State | None:
        return self._looks.joined(self._first[at], self._states[at], place)


def _frame(bar: PreparedBar) -> Hashable:
    """Return what is written of a bar besides its voices, wherever it stands."""
    one = bar.played.bar
    voicings = tuple((taken.onset, taken.voicing) for taken in one.voicings)
    length = (one.meter, one.length, one.start, one.kind)
    ends = (one.release, one.stop, one.fermata)
    return (*length, one.rest, one.cue, one.pattern, voicings, one.slaps, *ends)


def _asked(bar: PreparedBar, pace: BarPace) -> Hashable:
    """Return how the bar is played, what is in force left out; a sign cannot say "as before"."""
    manner = bar.played.manner
    back = "loudness as before" in pace.words
    change = (manner.tempo_change, manner.tempo_to, manner.swell, manner.dynamic_to)
    return (*change, manner.free, back)
