"""Whether a lesson is for a level, and what in it is beyond that."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import floor, inf

from attrs import evolve

from fretloom.arranging.easing.levels import LEVELS, REACHES, Reach
from fretloom.arranging.easing.load import Load, heaviest, load_of, too_close, too_much
from fretloom.performance.events import PlayedBar, Settings, Timeline
from fretloom.performance.hands.hardest import HeldVoicing, MadeChange, hands
from fretloom.performance.hands.picked import picked
from fretloom.performance.place_words import bar_words
from fretloom.performance.playback.clock import beats_of
from fretloom.trade.music.tempo import Tempo
from fretloom.trade.playability.picking import PickingVerdict
from fretloom.trade.playability.shape import THUMB
from fretloom.values import frozen

#: No slower tempo than this is asked of a student.
SLOWEST = 40
#: What is too quick and not too crossed.
_OF_PACE = frozenset({"pick-repeat", "pick-rate", "pick-rate-all"})


@frozen
class VoicingBeyond:
    """A voicing beyond a level, and by what: "barre", "thumb", "hop", "effort"."""

    held: HeldVoicing
    reasons: tuple[str, ...]


@frozen
class PickingBeyond:
    """Picking beyond a level: a pattern by its name, or a bar written out.

    Args:
        pattern: its name, "" for a bar written out. bar: the first that is beyond it, as findings
            name it; perhaps only by what is added to the pattern there.
        reasons: "pace", strokes too close; "repeat", a finger needed again too soon; "between", too
            much between the counts of the thumb.
        load: the most that is asked. seconds: from one stroke to the next at its tempo, at least.
        share: of the tempo, at which nothing of it is too quick; 1 where that is not the matter.
    """

    pattern: str
    bar: str
    reasons: tuple[str, ...]
    load: Load
    seconds: float
    share: float = 1.0


@frozen
class LevelFit:
    """What of a lesson is beyond a level; nothing is if the lesson is for it.

    Args:
        level: "beginner", "intermediate" or "advanced".
        voicings, changes, picking: those beyond it, hardest first.
        tempo: the fastest tempo at which changes and strokes are in time, as far as one from 40 on
            mends them; None if that is the lesson's own. slow_enough: whether it mends all of them.
    """

    level: str
    voicings: tuple[VoicingBeyond, ...] = ()
    changes: tuple[MadeChange, ...] = ()
    picking: tuple[PickingBeyond, ...] = ()
    tempo: Tempo | None = None
    slow_enough: bool = True

    @property
    def fits(self) -> bool:
        """Whether nothing is beyond the level."""
        return not (self.voicings or self.changes or self.picking)


@frozen
class LevelFits:
    """For each level what of a lesson is beyond it."""

    settings: Settings
    levels: tuple[LevelFit, ...]

    @property
    def first(self) -> LevelFit | None:
        """The lowest level that the lesson is for, if it is for one."""
        return next((one for one in self.levels if one.fits), None)


def levels_of(timeline: Timeline) -> LevelFits:
    """Return for each level what of a lesson is beyond it."""
    return LevelFits(timeline.settings, tuple(fit_for(timeline, level) for level in LEVELS))


def fit_for(timeline: Timeline, level: str) -> LevelFit:
    """Return what of a lesson is beyond a level."""
    reach = REACHES[level]
    seen = evolve(timeline, settings=evolve(timeline.settings, level=level))
    found = hands(seen)
    held = [
        VoicingBeyond(one, reasons)
        for one in found.voicings
        if one.times and (reasons := tuple(_reasons(one, reach)))
    ]
    changes = tuple(
        one for one in found.changes if one.pressed and one.pressed.pressure > reach.pressure
    )
    picking = tuple(_picking(timeline, reach))
    shares = [_share(one, reach) for one in changes]
    shares += [one.share for one in picking if one.share < 1]
    within = [tempo for share in shares if (tempo := slower(timeline.settings.tempo, share))]
    slowest = min(within, key=lambda one: one.per_minute, default=None)
    enough = len(within) == len(shares)
    return LevelFit(level, tuple(held), changes, picking, slowest, enough)


def _share(made: MadeChange, reach: Reach) -> float:
    """Return the share of the tempo at which a change is in time, 0 if it is at none."""
    pressure = made.pressed.pressure if made.pressed else 0.0
    return 0.0 if pressure == inf else reach.pressure / pressure


def slower(tempo: Tempo, share: float) -> Tempo | None:
    """Return a share of a tempo in whole notes a minute, None if that would be too slow to play."""
    figure = floor(float(tempo.per_minute) * share + 1e-9)
    return evolve(tempo, per_minute=Fraction(figure)) if figure >= SLOWEST else None


def _reasons(held: HeldVoicing, reach: Reach) -> Iterator[str]:
    if any(width > reach.barre for _, width in held.effort.barres):
        yield "barre"
    if held.voicing.strings_of(THUMB) and not reach.thumb:
        yield "thumb"
    if held.voicing.hops and not reach.hops:
        yield "hop"
    if held.effort.points > reach.points + 1e-9:
        yield "effort"


class _PickingAsked:
    """What a pattern or a bar written out asks of the picking hand, while its bars are looked at."""

    def __init__(self) -> None:
        self.first: PlayedBar | None = None
        self.loads: list[Load] = []
        self.seconds, self.share = inf, 1.0
        self.reasons: dict[str, None] = {}

    def add(self, asked: Load, beat: float, reach: Reach, played: PlayedBar) -> None:
        self.loads.append(asked)
        if asked.closest is not None:
            self.seconds = min(self.seconds, float(asked.closest) * beat)
        if too_close(asked, beat, reach):
            self._note("pace", played, self.seconds / reach.pace)
        if too_much(asked, reach):
            self._note("between", played)

    def judge(self, verdict: PickingVerdict, played: PlayedBar) -> None:
        if verdict.rule in _OF_PACE and verdict.limit > verdict.value:
            self._note("repeat", played, verdict.value / verdict.limit)

    def _note(self, reason: str, played: PlayedBar, share: float = 1.0) -> None:
        self.first = self.first or played
        self.reasons.setdefault(reason)
        self.share = min(self.share, share)


def _picking(timeline: Timeline, reach: Reach) -> Iterator[PickingBeyond]:
    found: dict[tuple[str, str], _PickingAsked] = {}
    bars, beats = timeline.bars, beats_of(timeline.bars)
    following: list[PlayedBar | None] = [*bars[1:], None]
    done: set[tuple[int, float, int | None]] = set()
    for played, beat, after, later in zip(bars, beats, following, [*beats[1:], 0.0], strict=True):
        bar = played.bar
        mark = (bar.serial, beat, after.bar.serial if after else None)
        if mark in done or not bar.notes:
            continue
        done.add(mark)
        key = (bar.pattern, "" if bar.pattern else bar_words(played))
        asked = found.setdefault(key, _PickingAsked())
        asked.add(load_of(bar), beat, reach, played)
        following_bar = after.bar if after else None
        for verdict in picked(
            bar, beat, following_bar, later, reach.level, timeline.settings.swing
        ):
            asked.judge(verdict, played)
    for (pattern, _), asked in found.items():
        if asked.first is not None:
            reasons, most = tuple(asked.reasons), heaviest(asked.loads)
            where = bar_words(asked.first)
            yield PickingBeyond(pattern, where, reasons, most, asked.seconds, asked.share)
