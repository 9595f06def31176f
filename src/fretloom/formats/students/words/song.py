"""The song in words: section by section as it is played, and in the spoken form bar by bar with every note."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from fretloom.characters import nothing_hidden
from fretloom.formats.students.prose.blocks import Passage, Point, Points, ProseBlock, Title
from fretloom.formats.students.telling.listener import sentence
from fretloom.formats.students.telling.road import bars_words
from fretloom.formats.students.telling.spoken import bar_sentence
from fretloom.formats.students.words.asked import asked
from fretloom.formats.students.words.known import KnownBars, KnownSection
from fretloom.formats.students.words.met import MetBar, named, run_again
from fretloom.formats.students.words.picked import Picked
from fretloom.formats.students.words.teller import Teller
from fretloom.notation.model.details.sung import as_written
from fretloom.performance.events import PlayedBar
from fretloom.performance.place_words import Whereabouts
from fretloom.performance.showing.looks import BarLooks
from fretloom.trade.phrases.table import say
from fretloom.values import frozen


@frozen(eq=False)
class SaidBars:
    """Bars that are said as one.

    `label` names them, `place` does so within a sentence; `new` is False where they are just as in the same
    place of an earlier playing of the section.
    """

    label: str
    place: str
    text: str
    bars: tuple[PlayedBar, ...]
    new: bool


def song(teller: Teller) -> Iterator[ProseBlock]:
    """Yield the playings of all sections in order."""
    if not teller.timeline.bars:
        return
    yield Title(say("pages.song"))
    told = SongInWords(teller)
    for _, group in groupby(teller.timeline.bars, lambda one: (one.entry, one.playing)):
        yield from told.playing(tuple(group))


class SongInWords:
    """Says playings one after the other, and knows which bars were played before."""

    def __init__(self, teller: Teller) -> None:
        self.teller, self.looks = teller, BarLooks()
        self.places = Whereabouts(teller.timeline.bars)
        self.picked = Picked(teller)
        self._known: dict[str, KnownSection] = {}
        self._usual: dict[str, str] = {}
        self._before: PlayedBar | None = None
        #: The last bar of what has been said, in full.
        self.last: SaidBars | None = None

    def playing(self, bars: tuple[PlayedBar, ...]) -> Iterator[ProseBlock]:
        """Yield what is said of one playing of a section."""
        size = sum(one.bar.kind != "pickup" for one in bars)
        yield Title(say("words.section-size", title=self.title(bars[0]), size=bars_words(size)), 3)
        first = bars[0].section not in self._known
        said = tuple(self.said(bars))
        if first and (usual := self._usual[bars[0].section]):
            name = self.teller.pattern_name(usual)
            yield Passage((sentence(say("words.picked", pattern=name)),))
        yield Points(tuple(Point(one.label, one.text) for one in said))

    def title(self, played: PlayedBar) -> str:
        """Name the playing that a bar belongs to."""
        return nothing_hidden(self.places.section(played))

    def said(self, bars: tuple[PlayedBar, ...]) -> Iterator[SaidBars]:
        """Yield what is said of the bars of a playing, those together that are alike or as before."""
        section = bars[0].section
        usual = self._usual.setdefault(section, self.picked.usual(bars))
        met = self._met(bars)
        known = self._known.setdefault(section, KnownSection())
        at, any_new = 0, False
        while at < len(met):
            before = known.run(met, at)
            size, text = self._again(met, at, before, known)
            new = before is None or not (before.in_place and known.asked(met[at]))
            any_new |= new
            if not size:
                size, text = self._alike(met, at, usual)
            found = met[at : at + size]
            bars_said = tuple(one.played for one in found)
            yield SaidBars(named(found), named(found, "the-"), text, bars_said, new)
            at += size
        self.last = SaidBars(
            named(met[-1:]),
            named(met[-1:], "the-"),
            self._bar(met, len(met) - 1, ""),
            bars[-1:],
            True,
        )
        if any_new:
            known.add(self.title(bars[0]), met)

    def _met(self, bars: Sequence[PlayedBar]) -> list[MetBar]:
        met, number = list[MetBar](), 0
        for played in bars:
            number += played.bar.kind != "pickup"
            cue = nothing_hidden(played.bar.cue)
            new = tuple(asked(self._before, played, self.teller.timeline))
            words = nothing_hidden(played.sung.text) if played.sung is not None else ""
            met.append(MetBar(played, number, self.looks.of(played.bar), new, cue, words))
            self._before = played
        return met

    def _again(
        self, met: Sequence[MetBar], at: int, before: KnownBars | None, known: KnownSection
    ) -> tuple[int, str]:
        """Return how many bars from here on were played so before, and what is said of them."""
        if before is not None:
            size = len(before.bars)
            as_bars = {"bars": named(before.bars, "the-"), "section": before.title}
            said = say("words.as-before" if before.as_before else "words.as-bars-of", **as_bars)
        else:
            size, start = run_again(met, at)
            if not size:
                return 0, ""
            said = say("words.as-bars", bars=named(met[start : start + size], "the-"))
        return size, ", ".join([said, *self._beside(met, at, size, known)])

    def _alike(self, met: Sequence[MetBar], at: int, usual: str) -> tuple[int, str]:
        """Return how many bars from here on are said in the same words, and the words."""
        size, plain = 1, self.picked.bar(met[at].played.bar, usual)
        while at + size < len(met) and met[at].number and not self.teller.spoken:
            following = met[at + size]
            if run_again(met, at + size)[0]:
                break
            if not following.plain or self.picked.bar(following.played.bar, usual) != plain:
                break
            size += 1
        return size, self._bar(met, at, usual)

    def _bar(self, met: Sequence[MetBar], at: int, usual: str) -> str:
        one = met[at]
        more = _more(one)
        if self.teller.spoken:
            same = bool(at) and met[at - 1].look == one.look
            listener, names = self.teller.listener, self.teller.names
            said = bar_sentence(one.played.bar, listener, names, same=same)
            return " ".join([said, *map(sentence, more)])
        return self.picked.bar(one.played.bar, usual, more)

    def _beside(
        self, met: Sequence[MetBar], at: int, size: int, known: KnownSection
    ) -> Iterator[str]:
        """Yield what is asked and sung in bars that are played as before, where that is new."""
        if not known.asked(met[at]):
            yield from met[at].asked
        if words := as_written([one.words for one in met[at : at + size]]):
            yield say("words.sung", words=say("words.quoted", words=words))


def _more(one: MetBar) -> list[str]:
    return [*one.asked, *_quoted(one)]


def _quoted(one: MetBar) -> Iterator[str]:
    """Yield the teacher's cue and what is sung."""
    if one.cue:
        yield say("words.quoted", words=one.cue)
    if one.words:
        yield say("words.sung", words=say("words.quoted", words=as_written([one.words])))
