"""One bar: what it needs of room, and, once its places are known, its drawing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property

from attrs import field

from fretloom.characters import nothing_hidden
from fretloom.engraving.drawn.drawing import Box, Drawing, Letters, Mark
from fretloom.engraving.drawn.lettering import widest_word, width_of, wrapped
from fretloom.engraving.drawn.signs import MIDDLE
from fretloom.engraving.drawn.tab.levels import Levels
from fretloom.engraving.drawn.tab.painting import frets, ground, manners, stems
from fretloom.engraving.drawn.tab.placing import rows
from fretloom.engraving.drawn.tab.placing.rhythm import Rhythm, rhythm_of
from fretloom.engraving.drawn.tab.placing.spacing import Crowd, Lane, Places, TakenRoom
from fretloom.engraving.drawn.tab.placing.struck import Struck, struck_in
from fretloom.engraving.drawn.tab.spoken import bar_says, bar_title
from fretloom.engraving.drawn.tab.used_signs import signs_of
from fretloom.engraving.drawn.tab.values import (
    FLAG,
    PILL_HEIGHT,
    WORDS,
    StripBar,
    TabLook,
)
from fretloom.performance.events import Settings
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

#: Words over a bar: size of those of its own, and of the teacher's.
_OVER, _CUE = 3.1, 3.3
_MARGIN = 1.6
#: What those words leave free on both sides of a bar together.
_BESIDE = _MARGIN + 0.6


@frozen(eq=False)
class BarPicture:
    """A bar on its way to its drawing; of a `blank` one only the word "again" is drawn."""

    one: StripBar
    settings: Settings
    look: TabLook
    blank: bool = field()

    @cached_property
    def struck(self) -> tuple[Struck, ...]:
        """The frets that are drawn."""
        return () if self.blank else struck_in(self.one.bar)

    @cached_property
    def rhythm(self) -> Rhythm:
        """How short each pluck is."""
        return Rhythm({}) if self.blank else rhythm_of(self.one.bar)

    @cached_property
    def chords(self) -> tuple[rows.Text, ...]:
        """The names of its voicings."""
        return tuple(rows.chord_names(self.one))

    @cached_property
    def sung(self) -> tuple[tuple[rows.Text, ...], ...]:
        """The words sung, a row for each time."""
        return tuple(tuple(rows.sung_words(sung, self.one.bar.length)) for sung in self.one.sung)

    @cached_property
    def letters(self) -> tuple[rows.Text, ...]:
        """The letters of the fingers."""
        return tuple(rows.finger_letters(self.struck)) if self.look.with_letters else ()

    @cached_property
    def counts(self) -> tuple[rows.Text, ...]:
        """The counts."""
        return () if self.blank else tuple(rows.counts(self.one.bar))

    @cached_property
    def slaps(self) -> tuple[rows.Text, ...]:
        """The words of slaps."""
        return () if self.blank else tuple(rows.slaps(self.one.bar))

    @cached_property
    def words_at(self) -> tuple[rows.Text, ...]:
        """What is said over a time."""
        return () if self.blank else tuple(rows.words_at(self.one.bar, self.struck))

    @cached_property
    def under(self) -> tuple[tuple[rows.Text, ...], ...]:
        """Rows of words under the counts; a song has none."""
        return ()

    @cached_property
    def crowd(self) -> Crowd:
        """What it needs of room."""
        strings: dict[int, list[TakenRoom]] = {}
        for one in self.struck:
            taken = TakenRoom(one.at, one.left - one.aside, one.right + one.aside)
            strings.setdefault(one.string, []).append(taken)
        lanes = [Lane(tuple(taken)) for taken in strings.values()]
        lanes += [
            Lane(tuple(self._wide())),
            Lane(tuple(self._flags())),
            rows.lane(self.letters, 0.5),
        ]
        lanes += [
            rows.lane(texts)
            for texts in (self.chords, self.words_at, self.slaps, *self.sung, *self.under)
        ]
        lanes.append(rows.lane(self.counts, 0.4))
        bar = self.one.bar
        places = [note.onset for note in bar.notes] + [slap.onset for slap in bar.slaps]
        places += [text.at for text in self.counts if text.bold]
        filled = tuple(lane for lane in lanes if lane.taken)
        return Crowd(bar.length, tuple(places), filled, self._least_width)

    def _wide(self) -> Iterator[TakenRoom]:
        """Yield what takes room over several strings: arrows, bends and notes beside their time."""
        halves = [one.half for one in self.struck]
        if any(one.string == 1 and one.note.technique.bend is not None for one in self.struck):
            # The bow of a bend on the top string reaches up to the letters of the fingers.
            halves += [text.width / 2 + abs(text.aside) for text in self.letters]
        reserve = max(halves, default=0.0)
        for one in self.struck:
            left = one.left - one.aside if one.part != "slurred" else one.half
            right = one.right + one.aside
            yield TakenRoom(
                one.at, left + reserve if left > one.half + 0.1 else 0.0,
                right + reserve if right > one.half + 0.1 else 0.0,
            )  # fmt: skip

    def _flags(self) -> Iterator[TakenRoom]:
        """Yield the room of the bars at the tips of stems."""
        flags = self.rhythm.flags
        for one in self.struck:
            if one.part == "plucked" and flags.get((one.at, one.thumb)):
                yield TakenRoom(one.at, 0.2 - one.aside, FLAG + one.aside)

    @cached_property
    def _texts_over(self) -> tuple[tuple[str, float, bool], ...]:
        """The words over the bar: text, size, and whether they are the teacher's."""
        own = "; ".join(filter(None, map(nothing_hidden, self.one.over)))
        return ((own, _OVER, False), (nothing_hidden(self.one.cue), _CUE, True))

    @cached_property
    def _least_width(self) -> float:
        """How wide the bar is at least, so that no word over it is broken that a whole line has room for."""
        widest = max(widest_word(text, size) for text, size, _ in self._texts_over)
        return min(widest + _BESIDE, self.look.bar_room) if widest else 0.0

    def over(self, width: float) -> tuple[tuple[str, float, bool], ...]:
        """Return the lines of words over the bar in a width: text, size, and whether they are the teacher's."""
        # As wide as its widest word is, a bar has room for it, whatever was rounded.
        room = width - _BESIDE + 1e-6
        return tuple(
            (line, size, cue)
            for text, size, cue in self._texts_over
            for line in wrapped(text, size, room)
        )

    def levels(self, width: float) -> Levels:
        """Return the rows it needs."""
        fingers = [one for one in self.struck if one.part == "plucked" and not one.thumb]
        flags = [number for (_, thumb), number in self.rhythm.flags.items() if not thumb]
        return Levels(
            strings=self.settings.tuning.strings,
            over=len(self.over(width)),
            chords=bool(self.chords),
            sung=len(self.sung),
            signs=bool(self.words_at),
            tuplets=max((one.row + 1 for one in self.rhythm.tuplets), default=0),
            wedges=any(text.wedge for text in self.letters),
            stems=bool(fingers),
            letters=bool(self.letters),
            flags=max(flags, default=0),
            bends=any(
                one.string == 1 and (one.note.technique.bend is not None or one.slur)
                for one in self.struck
            ),
            slaps=bool(self.slaps),
            under=len(self.under),
        )

    def drawing(self, places: Places, levels: Levels) -> Drawing:
        """Return the bar's drawing."""
        return Drawing(
            width=places.width,
            height=levels.height,
            marks=tuple(self._marks(places, levels)),
            title=bar_title(self.one),
            says=self.says,
            signs=frozenset({"again-bar"})
            if self.blank
            else signs_of(self.one.bar, self.struck, self.rhythm),
        )

    @property
    def says(self) -> str:
        """The bar in words."""
        return bar_says(self.one, self.look.called)

    def figures(self, found: Sequence[frets.Spot]) -> Iterator[Mark]:
        """Draw what stands on the strings."""
        yield from frets.frets(found)
        yield from frets.slurs(found)
        yield from manners.after_frets(found)

    def _marks(self, places: Places, levels: Levels) -> Iterator[Mark]:
        yield from ground.strings(self.settings.tuning, levels, places.width)
        yield from ground.bar_lines(levels, places.width, self.one.closes)
        found = frets.spots(self.struck, places, levels)
        if not self.blank:
            yield from manners.behind(found, places, levels, self.one)
        yield from stems.stems(self.struck, self.rhythm, places, levels)
        yield from self.figures(found)
        if self.blank or self.one.bar.rest:
            word = say("pages.again" if self.blank else "tab.rest")
            yield from _on_pill(word, places.width / 2, (levels.top + levels.bottom) / 2)
        yield from stems.tuplets(self.rhythm, places, levels)
        yield from self._texts(places, levels)
        yield from self._thumb_accents(places, levels)

    def _texts(self, places: Places, levels: Levels) -> Iterator[Mark]:
        lines = self.over(places.width)
        for line, (words, size, cue) in enumerate(lines, levels.over - len(lines)):
            at = (_MARGIN, levels.words_over(line))
            yield Letters(
                at=at, text=words, size=size, ink="ink" if cue else "soft", anchor="start"
            )
        rows_at: list[tuple[tuple[rows.Text, ...], float]]
        rows_at = [(self.chords, levels.names), (self.letters, levels.fingers)]
        rows_at += [(texts, levels.sung_row(row)) for row, texts in enumerate(self.sung)]
        rows_at += [(texts, levels.under_row(row)) for row, texts in enumerate(self.under)]
        rows_at += [(self.counts, levels.counts), (self.slaps, levels.slapped)]
        rows_at.append((self.words_at, levels.words_at))
        for texts, y in rows_at:
            for text in texts:
                x = places.x(text.at)
                if text.text:
                    yield text.letters(x, y)
                if text.sign:
                    yield from manners.fermata(x, y)
                if text.wedge:
                    yield manners.wedge(x + text.aside, levels.wedge)
                if text.accent:
                    yield manners.wedge(x + text.aside + text.width / 2 + 1.3, y - 0.9)

    def _thumb_accents(self, places: Places, levels: Levels) -> Iterator[Mark]:
        """Draw the accents of the thumb, under its foot."""
        for at, aside in dict.fromkeys(
            (one.at, one.aside)
            for one in self.struck
            if one.thumb and one.part == "plucked" and one.note.accent
        ):
            yield manners.wedge(places.x(at) + aside, levels.foot + 1.25)


def _on_pill(word: str, x: float, y: float) -> Iterator[Mark]:
    """Write a word over the empty strings."""
    width = width_of(word, WORDS) + 4.0
    height = PILL_HEIGHT * 2
    yield Box(
        at=(x - width / 2, y - height / 2), width=width, height=height, radius=0.8, fill="paper"
    )
    yield Letters(at=(x, y + MIDDLE * WORDS), text=word, size=WORDS)
