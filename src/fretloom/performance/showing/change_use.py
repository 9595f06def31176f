"""How a song uses a change of voicing: when each string is needed after it, and what comes in its way.

Everything is said of all times that the change is made: a string is needed when the first of them needs it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import accumulate, groupby, pairwise
from typing import Literal, TypeAlias, TypeVar

from attrs import field

from fretloom.performance.events import Settings, Timeline
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.performance.hands.holds import HandWalk, Moment
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.meter import Count
from fretloom.trade.playability.moving.changes import SMALL_BARRE, Change, change
from fretloom.trade.playability.shape import Fretted, judge
from fretloom.values import frozen

#: What strains a hand in a voicing: a barre over several strings, or a stretch that is more than comfortable.
Strain: TypeAlias = Literal["barre", "stretch"]
#: The names of the voicing before and of the one after.
Names: TypeAlias = tuple[str, str]


@frozen
class Need:
    """When a string is first plucked after a change.

    Args:
        bars: how many bars after the one of the change. counts: whole counts that go by before, at the least.
        count: what is counted there; None where the change is made on different counts.
    """

    bars: int
    counts: int
    count: Count | None

    @property
    def key(self) -> tuple[int, int, Fraction]:
        """What to put needs in order by."""
        if self.count is None:
            return (0, self.counts, Fraction(0))
        return (self.bars, self.count.number, self.count.part)


@frozen(kw_only=True)
class ChangeUse:
    """What the song does with a change.

    Args:
        times: how often it is made; 0 if it never is, and then nothing else is known but the strain.
        needs: for each string that is plucked while the voicing after is held, when it first is.
        starts: the counts on which the change is made, each once.
        early: of these, the counts where it belongs to the next bar. released: the counts on which the hand
            lets go before it, each once; always: whether it does so each time.
        fingers: for each finger that stops something then, wherever it does, when it first does.
        away: fingers of the voicing before that have left their place when the change comes, at least once.
        first_at: for fingers that go somewhere else first, each time to the same place, its string and fret from
            the capo; unsteady: all that go somewhere else first, at least once.
        strains: what strains the hand in the voicing after.
    """

    times: int = 0
    needs: Mapping[int, Need] = field(factory=dict)
    starts: tuple[Count, ...] = ()
    early: tuple[Count, ...] = ()
    released: tuple[Count, ...] = ()
    always: bool = False
    fingers: Mapping[str, Need] = field(factory=dict)
    away: frozenset[str] = frozenset()
    first_at: Mapping[str, tuple[int, int]] = field(factory=dict)
    unsteady: frozenset[str] = frozenset()
    strains: tuple[Strain, ...] = ()


@frozen
class UsedChange:
    """A change between two voicings: what the fingers do, and its use in the song."""

    before: Voicing
    after: Voicing
    change: Change
    use: ChangeUse


def used_changes(timeline: Timeline) -> tuple[UsedChange, ...]:
    """Return the changes of a performance, each once, in order of appearance.

    Those of voicings whose fingers are not known are left out.
    """
    made = _made(timeline)
    found = []
    for one in made.values():
        before, after = one[0].before.hold.voicing, one[0].first.hold.voicing
        if known(before) and known(after):
            settings = timeline.settings
            use = _use(settings, after, one)
            found.append(UsedChange(before, after, _change(settings, before, after), use))
    return tuple(found)


def changes_between(
    timeline: Timeline, pairs: Sequence[Names], used: Sequence[UsedChange] | None = None
) -> dict[Names, UsedChange]:
    """Return the changes between voicings by their names, also those that the song never makes.

    Ask for all at once: the whole song is gone through, unless its `used_changes` are given. What the
    lesson does not have, or has without fingers, is left out.
    """
    used = used_changes(timeline) if used is None else used
    made = {(one.before.name, one.after.name): one for one in used}
    found = {}
    for names in dict.fromkeys(pairs):
        before, after = (timeline.voicings.get(name) for name in names)
        if names in made:
            found[names] = made[names]
        elif before is not None and after is not None and known(before) and known(after):
            settings = timeline.settings
            use = ChangeUse(strains=_strains(settings, after))
            found[names] = UsedChange(before, after, _change(settings, before, after), use)
    return found


def known(voicing: Voicing) -> bool:
    """Whether the fingers of a voicing are known; one of open strings has none."""
    return bool(voicing.fingers) or not any(voicing.frets)


def _fretted(voicing: Voicing) -> Fretted:
    return Fretted(voicing.frets, voicing.fingers or (None,) * len(voicing.frets))


def _change(settings: Settings, before: Voicing, after: Voicing) -> Change:
    return change(neck_of_settings(settings), _fretted(before), _fretted(after))


#: A moment in which a voicing is held, and how long after the change to it its bar begins.
_Later: TypeAlias = tuple[Moment, Fraction]


@frozen(eq=False)
class _MadeOnce:
    """One time that a change is made: the last moment before it, and those in which the voicing after is held."""

    before: Moment
    after: tuple[_Later, ...]

    @property
    def first(self) -> Moment:
        """The moment in which the voicing after is taken."""
        return self.after[0][0]

    @property
    def key(self) -> tuple[object, ...]:
        """What it has in common with all times that sound the same: a hold is one object for all alike."""
        return (self.before.hold, *((moment.hold, gone) for moment, gone in self.after))


def _made(timeline: Timeline) -> dict[Names, list[_MadeOnce]]:
    """Return for each change all times that it is made."""
    settings = timeline.settings
    walk = HandWalk(timeline, neck_of_settings(settings), hand_of_settings(settings))
    moments = [one for one in walk.moments() if not one.hold.voicing.silent]
    stretches = [list(group) for _, group in groupby(moments, lambda one: one.hold.voicing.name)]
    starts = [Fraction(0), *accumulate(one.bar.length for one in timeline.bars)]
    made: dict[Names, list[_MadeOnce]] = {}
    for before, after in pairwise(stretches):
        names = (before[-1].hold.voicing.name, after[0].hold.voicing.name)
        taken = starts[after[0].played.index - 1] + after[0].hold.onset
        later = tuple((one, starts[one.played.index - 1] - taken) for one in after)
        made.setdefault(names, []).append(_MadeOnce(before[-1], later))
    return made


def _use(settings: Settings, after: Voicing, made: list[_MadeOnce]) -> ChangeUse:
    starts = [_count(one.first, one.first.hold.onset) for one in made]
    counted = len(set(starts)) == 1
    strings: dict[int, Need] = {}
    fingers: dict[str, Need] = {}
    released = []
    alike = {one.key: one for one in made}.values()
    for one in alike:
        _earliest(strings, _plucked(one, counted))
        _earliest(fingers, _stopped(one, counted))
        release = one.before.played.bar.release
        if one.before.hold.release is not None and release is not None:
            released.append(_count(one.before, release))
    firsts = [_first_places(one.first) for one in alike]
    unsteady = frozenset(finger for one in firsts for finger in one)
    early = [count for one, count in zip(made, starts, strict=True) if _early(one.first)]
    return ChangeUse(
        times=len(made),
        needs=strings,
        starts=tuple(dict.fromkeys(starts)),
        early=tuple(dict.fromkeys(early)),
        released=tuple(dict.fromkeys(released)),
        always=len(released) == len(alike),
        fingers=fingers,
        away=frozenset(finger for one in alike for finger in _away(one.before)),
        first_at={
            finger: firsts[0][finger] for finger in unsteady
            if len({one.get(finger) for one in firsts}) == 1
        },
        unsteady=unsteady,
        strains=_strains(settings, after),
    )  # fmt: skip


_Key = TypeVar("_Key", int, str)


def _earliest(known: dict[_Key, Need], found: Iterable[tuple[_Key, Need]]) -> None:
    """Put needs among those that are known, where they are the first."""
    for key, need in found:
        if key not in known or need.key < known[key].key:
            known[key] = need


def _plucked(made: _MadeOnce, counted: bool) -> Iterator[tuple[int, Need]]:
    """Yield when strings are plucked while the voicing after is held."""
    for moment, gone in made.after:
        for note in moment.hold.notes:
            yield note.string, _need(made.first, moment, gone, note.onset, counted)


def _stopped(made: _MadeOnce, counted: bool) -> Iterator[tuple[str, Need]]:
    """Yield when fingers stop a plucked string, in their places or beside them."""
    for moment, gone in made.after:
        for stop in moment.hold.stops:
            if stop.finger and stop.slur is None:
                yield stop.finger, _need(made.first, moment, gone, stop.note.onset, counted)


def _need(first: Moment, now: Moment, gone: Fraction, onset: Fraction, counted: bool) -> Need:
    meter = now.played.bar.meter
    return Need(
        now.played.index - first.played.index,
        int((gone + onset) / meter.count_length),
        _count(now, onset) if counted else None,
    )


def _first_places(moment: Moment) -> dict[str, tuple[int, int]]:
    """Return the fingers that first stop something else than what the voicing has for them, and where."""
    first = {stop.finger: stop for stop in reversed(moment.hold.stops) if stop.finger}
    return {
        finger: (stop.string, stop.note.fret)
        for finger, stop in first.items() if not stop.home and stop.slur is None
    }  # fmt: skip


def _away(moment: Moment) -> set[str]:
    """Return the fingers that stop something else last than what the voicing has for them."""
    last = {stop.finger: stop.home for stop in moment.hold.stops if stop.finger}
    return {finger for finger, home in last.items() if not home}


def _early(moment: Moment) -> bool:
    start = moment.hold.onset
    return any(one.early and one.onset == start for one in moment.played.bar.voicings)


def _count(moment: Moment, onset: Fraction) -> Count:
    bar = moment.played.bar
    return bar.meter.count_at(bar.start + onset)


def _strains(settings: Settings, voicing: Voicing) -> tuple[Strain, ...]:
    strains: list[Strain] = []
    if any(one.first - one.last >= SMALL_BARRE for one in voicing.barres):
        strains.append("barre")
    if voicing.fingers:
        neck, hand = neck_of_settings(settings), hand_of_settings(settings)
        if any(one.rule == "stretch" for one in judge(neck, hand, *_fretted(voicing))):
            strains.append("stretch")
    return tuple(strains)
