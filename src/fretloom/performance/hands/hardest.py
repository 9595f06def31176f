"""The hands of a lesson: its voicings and changes from hard to easy, why, and how often they come."""

from __future__ import annotations

from itertools import pairwise

from fretloom.performance.events import Settings, Timeline
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.performance.hands.holds import BarHold, HandWalk, Moment
from fretloom.performance.hands.pressed import pressed, times_of_change
from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.playability.effort import Effort, effort
from fretloom.trade.playability.moving.changes import Change, change
from fretloom.trade.playability.moving.haste import Haste
from fretloom.trade.playability.moving.skills import SKILLS, Skill, level_of
from fretloom.trade.playability.reach import Hand
from fretloom.trade.playability.shape import Fretted, Verdict, judge
from fretloom.trade.playability.solver import fingerings
from fretloom.values import frozen


@frozen
class HeldVoicing:
    """A voicing and what it takes to hold it.

    `times` is the number of bars in which it is held; `other` the fingers of the next best
    fingering, if any.
    """

    voicing: Voicing
    times: int
    effort: Effort
    verdicts: tuple[Verdict, ...]
    other: tuple[str | None, ...] = ()


@frozen
class MadeChange:
    """A change and how hard it is.

    `level` is 1 to 5 (for an intermediate player, so that it is the same in every lesson), `change`
    is for the lesson's skill, `pressed` is the tightest of the `times` that it is made.
    """

    before: str
    after: str
    times: int
    level: int
    change: Change
    pressed: Haste | None


@frozen
class Hands:
    """All voicings and changes of a lesson, hardest first.

    Args:
        settings: the heading with its defaults: title, hand, level, instrument.
        neck: of the instrument, with the capo. hand: the player's. skill: the player's level.
        voicings: those with fingers, and those of open strings alone.
        changes: from one voicing to another, each once.
        unfingered: voicings that no fingers hold.
        fingers_sure: whether fingers that the lesson leaves open are the easiest for the whole song.
    """

    settings: Settings
    neck: Neck
    hand: Hand
    skill: Skill
    voicings: tuple[HeldVoicing, ...]
    changes: tuple[MadeChange, ...]
    unfingered: tuple[Voicing, ...]
    fingers_sure: bool = True


def hands(timeline: Timeline) -> Hands:
    """Return the voicings and changes of a timeline, hardest first."""
    settings = timeline.settings
    neck, hand = neck_of_settings(settings), hand_of_settings(settings)
    skill = SKILLS[settings.level]
    moments = list(HandWalk(timeline, neck, hand).moments())
    bars: dict[str, set[int]] = {}
    for moment in moments:
        bars.setdefault(moment.hold.voicing.name, set()).add(moment.played.index)
    held = [
        _held(neck, hand, voicing, len(bars.get(voicing.name, ())))
        for voicing in timeline.voicings.values()
        if (voicing.fingers or not any(voicing.frets)) and not voicing.silent
    ]
    return Hands(
        settings,
        neck,
        hand,
        skill,
        tuple(sorted(held, key=lambda one: (-one.effort.points, one.voicing.name))),
        _changes(neck, skill, moments),
        tuple(one for one in timeline.voicings.values() if any(one.frets) and not one.fingers),
        timeline.fingers_sure,
    )


def _held(neck: Neck, hand: Hand, voicing: Voicing, bars: int) -> HeldVoicing:
    fingers = voicing.fingers or (None,) * len(voicing.frets)
    others = [one.fingers for one in fingerings(voicing.frets, neck, hand, limit=2)]
    other = next((one for one in others if one != fingers), ())
    return HeldVoicing(
        voicing,
        bars,
        effort(neck, hand, Fretted(voicing.frets, fingers)),
        judge(neck, hand, voicing.frets, fingers),
        other,
    )


def _changes(neck: Neck, skill: Skill, moments: list[Moment]) -> tuple[MadeChange, ...]:
    made: dict[tuple[str, str], tuple[int, MadeChange]] = {}
    known: dict[tuple[BarHold, BarHold, float, float], Haste | None] = {}
    for before, after in pairwise(moments):
        one, other = before.hold.voicing, after.hold.voicing
        if one == other or not (one.fingers and other.fingers):
            continue
        key = (before.hold, after.hold, before.beat, after.beat)
        if key not in known:
            times = times_of_change(before, after)
            known[key] = pressed(neck, skill, before, after, times)
        names = (one.name, other.name)
        found = made.get(names)
        if found is None:
            found = (0, _made(neck, skill, one, other, known[key]))
        count, change_made = found
        made[names] = (count + 1, _tighter(change_made, known[key]))
    changes = [
        MadeChange(one.before, one.after, count, one.level, one.change, one.pressed)
        for count, one in made.values()
    ]
    return tuple(
        sorted(changes, key=lambda one: (-one.level, -one.change.time, one.before, one.after))
    )


def _made(
    neck: Neck, skill: Skill, one: Voicing, other: Voicing, pressed: Haste | None
) -> MadeChange:
    before, after = Fretted(one.frets, one.fingers), Fretted(other.frets, other.fingers)
    level = level_of(change(neck, before, after).time)
    return MadeChange(one.name, other.name, 0, level, change(neck, before, after, skill), pressed)


def _tighter(one: MadeChange, pressed: Haste | None) -> MadeChange:
    if pressed is None or (one.pressed is not None and one.pressed.pressure >= pressed.pressure):
        return one
    return MadeChange(one.before, one.after, one.times, one.level, one.change, pressed)
