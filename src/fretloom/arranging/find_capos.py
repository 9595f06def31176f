"""Capo positions and the shapes that go with them, ranked by how hard the whole song is with them."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

from attrs import asdict

from fretloom.arranging.capo_places import HIGHEST, CapoPlace, places_sounding
from fretloom.arranging.new_key import read_with_shapes_of
from fretloom.arranging.remarks import LineLost, Remark
from fretloom.errors import FretloomError
from fretloom.limits import LIMITS
from fretloom.memory import no_collection
from fretloom.notation.model.lesson import Lesson
from fretloom.performance.events import Timeline
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.performance.hands.holds import HandWalk
from fretloom.performance.reading import Reading
from fretloom.shapes import trusted
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.key import Key
from fretloom.trade.playability.effort import Effort, effort
from fretloom.trade.playability.moving.changes import change
from fretloom.trade.playability.moving.skills import level_of
from fretloom.trade.playability.shape import Fretted
from fretloom.values import frozen

#: What a second of changing weighs against the points of holding a voicing.
_SECOND = 2.5
#: Points for a voicing that no hand holds.
_UNHELD = 10.0
#: Points a bar for the capo at each fret: from the fifth on the neck gets short and the sound thin.
_HEIGHTS = (0.0, 0.05, 0.1, 0.15, 0.2, 0.6, 1.8, 2.6, 3.4, 4.2)
#: What a change that lost its line costs in all, and a voicing that the body hides each time.
_LOST, _HIDDEN = 0.5, 8.0


@frozen(kw_only=True)
class CapoChoice(CapoPlace):
    """A place of the capo, and what the song is like there.

    Args (besides those of the place):
        points: difficulty a bar, of holding and changing together; lower is easier.
        barres: voicings with a barre of the index finger over more than three strings, by name.
        hidden: voicings with frets that the body of the instrument hides, by name.
        hardest: the hardest change, with its level 1 to 5; its names are empty if nothing changes.
        voicings: the new voicings, fingers and all.
        lesson: the lesson written with them. remarks: what its teacher should look at.
    """

    points: float
    barres: tuple[str, ...]
    hidden: tuple[str, ...]
    hardest: tuple[str, str, int]
    voicings: tuple[Voicing, ...]
    lesson: Lesson
    remarks: tuple[Remark, ...] = ()


@frozen
class CapoChoices:
    """The places of the capo that give a sounding key, easiest first.

    `left_aside` says how many were not judged, because the lesson is very long.
    """

    sounds: Key
    choices: tuple[CapoChoice, ...]
    left_aside: int = 0


def find_capos(
    reading: Reading,
    sounds: Key | None = None,
    *,
    open_only: bool = False,
    highest: int = HIGHEST,
) -> CapoChoices:
    """Return the choices of capo and shapes that give the sounding key, easiest first.

    Args:
        reading: of a lesson without errors that says its key.
        sounds: the key to reach; without it the lesson sounds as before.
        open_only: leave out what needs a chord without an open string.
        highest: fret that the capo may stand at, at most.

    Raises:
        FretloomError: the lesson does not say its key, is based on another, or has a partial capo.
    """
    timeline = reading.timeline
    goal = sounds or timeline.settings.sounds
    if timeline.settings.plays is None or goal is None:
        raise FretloomError("the lesson does not say its key: write `plays in` in its heading")
    places = places_sounding(timeline, goal, highest)
    judged = _likeliest(reading, places)
    with no_collection(), trusted():
        # Copies of a lesson that was checked need no second look.
        choices = [_choice(reading, place) for place in judged]
    if open_only:
        choices = [one for one in choices if all(map(_is_open, one.voicings))]
    ranked = sorted(choices, key=lambda one: (round(one.points, 6), one.capo))
    aside = len(places) - len(judged)
    return CapoChoices(places[0].sounds if places else goal, tuple(ranked), aside)


def _likeliest(reading: Reading, places: tuple[CapoPlace, ...]) -> tuple[CapoPlace, ...]:
    """Return all places, of a long lesson those with the fewest barres: each is a copy of the lesson."""
    most = max(1, LIMITS.capo_lines // max(1, _lines(reading)))
    if len(places) <= most:
        return places
    ranked = sorted(places, key=lambda one: (not one.now, len(one.without_open), one.capo))
    return tuple(ranked[:most])


def _lines(reading: Reading) -> int:
    """Return how many lines a lesson comes to: those written, or as many as its notes and changes would take."""
    written = len(reading.lesson.voicings) + sum(
        len(section.lines) for section in reading.material.sections.values()
    )
    source = reading.lesson.source
    long_lines = len(source.text) // 20 if source else 0
    bars = [one.bar for section in reading.timeline.sections for one in section.bars]
    notes = sum(1 + len(note.slurs) for bar in bars for note in bar.notes)
    changes = sum(len(bar.voicings) for bar in bars)
    played = len(reading.timeline.bars)
    return max(written, long_lines, len(bars), notes // 4, changes // 2, played // 4)


def _choice(reading: Reading, place: CapoPlace) -> CapoChoice:
    """Judge the lesson as it stands, or as it is written for another place of the capo."""
    if place.now:
        return _judged(place, reading.lesson, reading.timeline, ())
    moved, after = read_with_shapes_of(reading, place.plays, place.capo)
    return _judged(place, moved.lesson, after.timeline, moved.remarks)


def _judged(
    place: CapoPlace,
    lesson: Lesson,
    timeline: Timeline,
    remarks: tuple[Remark, ...],
) -> CapoChoice:
    labour = _Labour(timeline)
    hardest, level = labour.hardest()
    lost = _LOST * sum(isinstance(one, LineLost) for one in remarks)
    return CapoChoice(
        **asdict(place, recurse=False),
        points=(labour.points() + lost) / max(1, len(timeline.bars)) + _HEIGHTS[place.capo],
        barres=tuple(name for name, one in labour.efforts.items() if _is_barre(one)),
        hidden=labour.hidden,
        hardest=(*hardest, level),
        voicings=tuple(labour.used.values()),
        lesson=lesson,
        remarks=remarks,
    )


class _Labour:
    """What a timeline asks of the fretting hand: voicings held and changes made, with their counts."""

    def __init__(self, timeline: Timeline) -> None:
        neck, hand = neck_of_settings(timeline.settings), hand_of_settings(timeline.settings)
        free = neck.free - timeline.settings.capo.fret
        voicings = [moment.hold.voicing for moment in HandWalk(timeline, neck, hand).moments()]
        names = [voicing.name for voicing in voicings]
        self.held = Counter(names)
        self.made = Counter(pair for pair in pairwise(names) if pair[0] != pair[1])
        self.used = {voicing.name: voicing for voicing in voicings}
        self.hidden = tuple(
            name
            for name, one in self.used.items()
            if max((fret or 0 for fret in one.frets), default=0) > free
        )
        self.efforts = {
            name: effort(neck, hand, _fretted(one))
            for name, one in self.used.items()
            if one.fingers
        }
        self.times = {
            (one, other): change(neck, _fretted(self.used[one]), _fretted(self.used[other])).time
            for one, other in self.made
            if one in self.efforts and other in self.efforts
        }

    def points(self) -> float:
        """The difficulty of the whole song."""
        holding = sum(count * self._points_of(name) for name, count in self.held.items())
        return holding + _SECOND * sum(self.made[pair] * time for pair, time in self.times.items())

    def _points_of(self, name: str) -> float:
        if name in self.efforts:
            return self.efforts[name].points + _HIDDEN * (name in self.hidden)
        return _UNHELD if any(self.used[name].frets) else 0.0

    def hardest(self) -> tuple[tuple[str, str], int]:
        """The change that takes longest, and its level; empty names and 0 if there is none."""
        if not self.times:
            return ("", ""), 0
        pair = max(self.times, key=lambda one: (self.times[one], one))
        return pair, level_of(self.times[pair])


def _fretted(voicing: Voicing) -> Fretted:
    return Fretted(voicing.frets, voicing.fingers)


def _is_open(voicing: Voicing) -> bool:
    """Whether a voicing has an open string, or nothing is held."""
    return 0 in voicing.frets or not any(voicing.frets)


def _is_barre(held: Effort) -> bool:
    return any(finger == "1" and width > 3 for finger, width in held.barres)
