"""The scenes of a script, in the order in which a lesson is taught or recorded."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby

from fretloom.characters import nothing_hidden
from fretloom.formats.students.script.lead import opening, ready
from fretloom.formats.students.script.own import OwnWords
from fretloom.formats.students.script.pace import ScriptPace
from fretloom.formats.students.script.scene import PlayedThing, Scene, seconds_of
from fretloom.formats.students.script.sections import SectionScenes
from fretloom.formats.students.telling.listener import sentence
from fretloom.formats.students.telling.picking import pattern_sentences
from fretloom.formats.students.telling.road import road_of
from fretloom.formats.students.words.teller import Teller
from fretloom.performance.events import PlayedBar
from fretloom.performance.playback.laying import lay
from fretloom.trade.phrases.table import say

#: How often a pattern is played at one tempo.
_TIMES = 4


def scenes(teller: Teller) -> Iterator[Scene]:
    """Yield the scenes of a lesson, patterns and sections as they come in the song."""
    pace, own = ScriptPace(teller.reading), OwnWords(teller)
    bars = teller.timeline.bars
    whole = say("script.play-whole", tempo=pace.words(pace.usual))
    yield opening(teller, (PlayedThing(whole, _whole(teller)),) if bars else ())
    yield ready(teller, own.beside())
    if not bars:
        return
    sections = SectionScenes(teller, pace, own)
    patterns = _PatternScenes(teller, pace, own)
    for _, group in groupby(bars, lambda one: (one.entry, one.playing)):
        playing = tuple(group)
        yield from patterns.before(playing)
        yield from sections.playing(playing)
    if len(road_of(teller.timeline)) > 1:
        yield _way(teller)
    yield from sections.ending()
    yield _together(teller, pace, own)


def _together(teller: Teller, pace: ScriptPace, own: OwnWords) -> Scene:
    """Return the scene in which the student plays along."""
    bars = [one.bar for one in teller.timeline.bars]
    slow = pace.slow("form", "", bars, pace.usual)
    whole = say("script.play-whole", tempo=pace.words(slow))
    seconds = _whole(teller) * pace.usual / slow
    return Scene(
        title=say("script.together"),
        screen=say("script.together-screen"),
        says=(*own.of_song(), sentence(say("script.together-say")), say("script.care")),
        plays=(PlayedThing(whole, seconds),),
    )


def _whole(teller: Teller) -> Fraction:
    """Return how many seconds the song takes, with its own changes of tempo."""
    return lay(teller.timeline.bars, teller.timeline.settings).seconds


def _way(teller: Teller) -> Scene:
    said = [sentence(say("script.way-first"))]
    for block in road_of(teller.timeline):
        size = sentence(say("script.way-then", section=block.title, size=block.size))
        said.append(" ".join([size, *block.hints]))
    return Scene(title=say("script.way"), screen=say("script.way-screen"), says=tuple(said))


class _PatternScenes:
    """A scene for each pattern, before the section that has it first."""

    def __init__(self, teller: Teller, pace: ScriptPace, own: OwnWords) -> None:
        self.teller, self.pace, self.own = teller, pace, own
        self._met: set[str] = set()
        self._patterns = {name: (name, over) for name, over in teller.patterns}

    def before(self, bars: Sequence[PlayedBar]) -> Iterator[Scene]:
        """Yield the scenes of patterns that are new in a playing."""
        for name in dict.fromkeys(one.bar.pattern for one in bars):
            if name in self._patterns and name not in self._met:
                self._met.add(name)
                yield self._scene(name)

    def _scene(self, name: str) -> Scene:
        teller = self.teller
        key = self._patterns[name]
        bars, title = teller.patterns[key], teller.pattern_name(name)
        shape = teller.names.get(key[1], nothing_hidden(key[1]))
        goal = self.pace.usual
        slow = self.pace.slow("pattern", name, bars, goal)
        seconds = _TIMES * seconds_of(bars, goal)
        if slow < goal:
            seconds += _TIMES * seconds_of(bars, slow)
        played = say(
            "script.play-pattern" if slow < goal else "script.play-pattern-once",
            pattern=title,
            shape=shape,
            slow=self.pace.words(slow),
            tempo=self.pace.words(goal),
        )
        return Scene(
            title=say("script.pattern", pattern=title),
            screen=say("script.pattern-screen"),
            says=(
                *self.own.of("pattern", name),
                *pattern_sentences(bars, teller.listener, teller.only_over(bars)),
            ),
            plays=(PlayedThing(played, seconds),),
        )
