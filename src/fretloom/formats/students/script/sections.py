"""The scenes of the sections: shapes and changes where they come first, then only what is new, and the ending."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from fretloom.formats.students.script.own import OwnWords
from fretloom.formats.students.script.pace import ScriptPace
from fretloom.formats.students.script.scene import PlayedThing, Scene, seconds_of
from fretloom.formats.students.telling.changes import caution_sentence
from fretloom.formats.students.telling.listener import listed_clearly, sentence
from fretloom.formats.students.telling.road import bars_words
from fretloom.formats.students.telling.shapes import shape_sentences
from fretloom.formats.students.words.parts import change_words
from fretloom.formats.students.words.song import SaidBars, SongInWords
from fretloom.formats.students.words.teller import Teller
from fretloom.performance.events import PlayedBar, TimedBar
from fretloom.performance.showing.change_use import UsedChange
from fretloom.performance.showing.taken_shapes import TakenShape
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

#: How long a string sounds when a shape is shown, in seconds; how often a change is made, a bar each time.
_STRING, _TIMES = Fraction(1), 3
#: Of a last section of so few things to say, the ending is still in everybody's ear.
_SHORT = 4


@frozen(eq=False)
class _New:
    """What has not been shown before a playing."""

    shapes: tuple[TakenShape, ...]
    changes: tuple[UsedChange, ...]


class SectionScenes:
    """Makes the scenes of playings in order, and knows what has been said."""

    def __init__(self, teller: Teller, pace: ScriptPace, own: OwnWords) -> None:
        self.teller, self.pace, self.own = teller, pace, own
        self._song = SongInWords(teller)
        self._shapes = {one.voicing.name: one for one in teller.shapes}
        self._changes = {(one.before.name, one.after.name): one for one in teller.changes}
        self._sections: set[str] = set()
        self._held: Voicing | None = None
        self._cautions: set[str] = set()
        #: What was said of the last playing, and whether it was the first of its section.
        self._last: tuple[SaidBars, ...] = ()
        self._ends_new = False

    def playing(self, bars: tuple[PlayedBar, ...]) -> Iterator[Scene]:
        """Yield the scene of a playing; none of one that has nothing new."""
        new = self._new(bars)
        said = self._last = tuple(self._song.said(bars))
        section = bars[0].section
        self._ends_new = section not in self._sections
        if self._ends_new:
            self._sections.add(section)
            yield self._first(bars, new, said)
        elif fresh := [one for one in said if one.new]:
            yield self._again(new, fresh)

    def ending(self) -> Iterator[Scene]:
        """Yield the scene of the end of the song; none where a short last section has just been shown."""
        last = self._song.last
        if last is None or (self._ends_new and len(self._last) <= _SHORT):
            return
        title = self._song.title(last.bars[-1])
        said = sentence(say("script.bar", bars=last.label, said=last.text))
        played = self._play("script.play-part", last.bars, section=title, part=last.place)
        yield Scene(
            title=say("script.ending"),
            screen=say("script.ending-screen"),
            says=(sentence(say("script.ending-is", section=title)), said),
            plays=(played,),
        )

    def _new(self, bars: Sequence[PlayedBar]) -> _New:
        """Return the shapes and changes of a playing that have not been met before."""
        shapes, changes = [], []
        for taken in (one for played in bars for one in played.bar.voicings):
            name, before = taken.voicing.name, self._held
            if name in self._shapes:
                shapes.append(self._shapes.pop(name))
            if before is not None and (made := self._changes.pop((before.name, name), None)):
                changes.append(made)
            if not taken.voicing.silent:
                self._held = taken.voicing
        return _New(tuple(shapes), tuple(one for one in changes if one.change.moves))

    def _first(self, bars: Sequence[PlayedBar], new: _New, said: Sequence[SaidBars]) -> Scene:
        section = bars[0].section
        title = self.teller.pieces.section_title(section)
        size = bars_words(sum(one.bar.kind != "pickup" for one in bars))
        says = [sentence(say("script.section-is", section=title, size=size))]
        says += [*self.own.of("section", section), *self._of_hands(new), *map(_bars, said)]
        goal, timed = self.pace.of(bars), [one.bar for one in bars]
        slow = self.pace.slow("section", section, timed, goal)
        plays = [*self._shown(new, timed[0], slow)]
        if slow < goal:
            words = say("script.play-section", section=title, tempo=self.pace.words(slow))
            plays.append(PlayedThing(words, seconds_of(timed, slow)))
        plays.append(self._play("script.play-section", bars, section=title))
        return Scene(
            title=title, screen=self._screen(title, new), says=tuple(says), plays=tuple(plays)
        )

    def _again(self, new: _New, fresh: Sequence[SaidBars]) -> Scene:
        bars = [bar for one in fresh for bar in one.bars]
        title = self._song.title(bars[0])
        plays = [*self._shown(new, bars[0].bar, self.pace.of(bars))]
        plays += [
            self._play("script.play-part", one.bars, section=title, part=one.place) for one in fresh
        ]
        return Scene(
            title=say("script.again", section=title),
            screen=say("script.again-screen"),
            says=(*self._of_hands(new), *map(_bars, fresh)),
            plays=tuple(plays),
        )

    def _of_hands(self, new: _New) -> Iterator[str]:
        """Yield what is said of new shapes and changes, with the teacher's own words before."""
        for one in new.shapes:
            yield from self.own.of("voicing", one.voicing.name)
            said = " ".join(shape_sentences(one, self.teller.listener))
            yield say("script.shape", shape=self._name(one.voicing.name), said=said)
        for made in new.changes:
            names = made.before.name, made.after.name
            yield from self.own.of("change", *names)
            said = " ".join([*change_words(self.teller, made), *self._caution(made)])
            before, after = map(self._name, names)
            yield say("script.change", before=before, after=after, said=said)

    def _caution(self, made: UsedChange) -> Iterator[str]:
        caution = caution_sentence(made.use)
        if caution and caution not in self._cautions:
            self._cautions.add(caution)
            yield caution

    def _shown(self, new: _New, bar: TimedBar, slow: Fraction) -> Iterator[PlayedThing]:
        """Yield how new shapes and changes are shown by hand."""
        if new.shapes:
            names = listed_clearly([self._name(one.voicing.name) for one in new.shapes])
            strings = sum(fret is not None for one in new.shapes for fret in one.voicing.frets)
            yield PlayedThing(say("script.play-shapes", shapes=names), strings * _STRING)
        for made in new.changes:
            before, after = self._name(made.before.name), self._name(made.after.name)
            tempo = self.pace.words(slow)
            words = say("script.play-change", before=before, after=after, tempo=tempo)
            yield PlayedThing(words, _TIMES * bar.meter.length * 60 / slow)

    def _play(self, key: str, bars: Sequence[PlayedBar], **names: str) -> PlayedThing:
        tempo = self.pace.of(bars)
        words = say(key, tempo=self.pace.words(tempo), **names)
        return PlayedThing(words, seconds_of([one.bar for one in bars], tempo))

    def _screen(self, title: str, new: _New) -> str:
        if not new.shapes:
            return say("script.section-screen", section=title)
        names = listed_clearly([self._name(one.voicing.name) for one in new.shapes])
        key = "script.diagram" if len(new.shapes) == 1 else "script.diagrams"
        return say("script.section-screen-shapes", diagrams=say(key), shapes=names, section=title)

    def _name(self, name: str) -> str:
        return self.teller.names.get(name, name)


def _bars(said: SaidBars) -> str:
    return sentence(say("script.bar", bars=said.label, said=said.text))
