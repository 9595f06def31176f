"""The fingers of all voicings that a lesson leaves open, chosen with the whole song in view."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from itertools import pairwise

from fretloom.performance.events import Timeline
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.performance.hands.holds import BarHold, HandWalk, Moment
from fretloom.performance.hands.pressed import between, times_of_change
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.playability.habits import habit_cost
from fretloom.trade.playability.literal import takers
from fretloom.trade.playability.moving.skills import SKILLS
from fretloom.trade.playability.shape import Fretted, stretches_wide
from fretloom.trade.playability.solver import Fingering, fingerings
from fretloom.trade.playability.song import (
    PlannedVoicing,
    SongChange,
    SongPlan,
    likely,
    plan,
    plan_one_by_one,
)
from fretloom.values import frozen

#: What an extra note costs that no finger can take, in units of the fingering's cost.
_UNTAKEN = 20.0
#: What a second of taking an extra note weighs: as much as a second of changing.
_SECOND = 10.0
#: What a finger on two strings costs more in a song than one each: plucked notes have to be clean
#: (an assumption).
_BARRE = 4.0
#: What a wide stretch costs more than its place in the ranking says (an assumption).
_STRETCH = 7.0


class Song:
    """A timeline for the planner of fingerings: voicings with options, and changes."""

    def __init__(self, timeline: Timeline, open_names: frozenset[str]) -> None:
        settings = timeline.settings
        self.neck, self.hand = neck_of_settings(settings), hand_of_settings(settings)
        self.skill = SKILLS[settings.level]
        moments = [
            moment
            for moment in HandWalk(timeline, self.neck, self.hand).moments()
            if moment.hold.voicing.fingers
        ]
        self.steps = _steps(moments)
        self.parts = self._parts(moments, open_names)

    def _parts(
        self, moments: list[Moment], open_names: frozenset[str]
    ) -> tuple[PlannedVoicing, ...]:
        holds: dict[str, list[BarHold]] = {}
        for moment in moments:
            holds.setdefault(moment.hold.voicing.name, []).append(moment.hold)
        return tuple(self._part(name, held, name in open_names) for name, held in holds.items())

    def _part(self, name: str, holds: list[BarHold], is_open: bool) -> PlannedVoicing:
        voicing = holds[0].voicing
        options: tuple[Fingering, ...] = (Fingering(voicing.fingers, 0.0),)
        if is_open:
            options = likely(fingerings(voicing.frets, self.neck, self.hand)) or options
        extra = tuple(
            _extra_cost(self, voicing, option, holds)
            + _more_barres(option, options[0])
            + habit_cost(voicing.frets, option.fingers)
            + _STRETCH * stretches_wide(self.neck, self.hand, voicing.frets, option.fingers)
            for option in options
        )
        return PlannedVoicing(
            name=name, frets=voicing.frets, options=options, held=len(holds), extra=extra
        )

    def best(self) -> SongPlan:
        """Return the plan of least cost."""
        return plan(self.neck, self.parts, self.steps, self.skill)

    def one_by_one(self) -> SongPlan:
        """Return the plan that looks at each voicing on its own, for comparison."""
        return plan_one_by_one(self.neck, self.parts, self.steps, self.skill)


@frozen
class SongFingers:
    """Fingers for open voicings that should have others than they have now, by name.

    `sure` says that no other choice makes the song easier.
    """

    fingers: Mapping[str, tuple[str | None, ...]]
    sure: bool


def song_fingers(timeline: Timeline, open_names: frozenset[str]) -> SongFingers:
    """Return the fingers that suit the whole song best, as far as that can be found out."""
    if not open_names or len(timeline.voicings) < 2:
        return SongFingers({}, True)
    best = Song(timeline, open_names).best()
    fingers = {
        str(name): fingering.fingers
        for name, fingering in best.fingerings.items()
        if name in open_names and fingering.fingers != timeline.voicings[str(name)].fingers
    }
    return SongFingers(fingers, best.sure)


def _steps(moments: list[Moment]) -> tuple[SongChange, ...]:
    """Return the changes with how often each is made and the shortest time there is for it."""
    made: dict[tuple[str, str], SongChange] = {}
    for before, after in pairwise(moments):
        names = (before.hold.voicing.name, after.hold.voicing.name)
        if names[0] == names[1]:
            continue
        window = _window(before, after)
        known = made.get(names)
        made[names] = SongChange(
            before=names[0],
            after=names[1],
            times=known.times + 1 if known else 1,
            window=min(window, known.window) if known else window,
        )
    return tuple(made.values())


def _window(before: Moment, after: Moment) -> float:
    """Return the seconds from when the first finger is free to when the last one is needed."""
    times = times_of_change(before, after)
    needed = times.needed.values() or (between(before, after),)
    window = times.window(times.freed.values(), needed)
    # At least a quaver: the hand never changes in no time at all.
    return max(window, 0.5 * before.beat)


def _extra_cost(song: Song, voicing: Voicing, option: Fingering, holds: list[BarHold]) -> float:
    """What the notes beside a voicing cost with a fingering, for each time it is held."""
    total = 0.0
    for hold in holds:
        for stop in hold.stops:
            if not stop.home:
                fret = stop.fret - song.neck.capo.on(stop.string)
                total += _taking(song, Fretted(voicing.frets, option.fingers), stop.string, fret)
    return total / len(holds)


def _more_barres(option: Fingering, best: Fingering) -> float:
    """What small barres cost that take the place of single fingers."""
    return _BARRE * max(0, _barres(option) - _barres(best))


def _barres(option: Fingering) -> int:
    count = Counter(finger for finger in option.fingers if finger)
    return sum(held > 1 for held in count.values())


def _taking(song: Song, voicing: Fretted, string: int, fret: int) -> float:
    found = takers(song.neck, song.hand, voicing, string, fret)
    return _SECOND * found[0].cost if found else _UNTAKEN
