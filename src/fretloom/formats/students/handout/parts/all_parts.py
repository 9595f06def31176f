"""The parts of a page, each made when it is wanted."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from fretloom.engraving.drawn.sign_samples import sign_samples
from fretloom.formats.students.drawn_tab.song import SongPart, song_parts
from fretloom.formats.students.handout.artist import (
    LARGE_SIGN,
    PATTERN_GAP,
    PageArtist,
    PickingOnPage,
)
from fretloom.formats.students.handout.options import HandoutOptions
from fretloom.formats.students.handout.parts.player_part import Players
from fretloom.formats.students.handout.parts.practice_part import practice_part
from fretloom.formats.students.handout.parts.road_part import road_part
from fretloom.formats.students.handout.parts.song_part import song_part
from fretloom.formats.students.handout.parts.song_sheet import words_part
from fretloom.formats.students.handout.parts.steps_part import StepDrawer
from fretloom.formats.students.handout.templating import filled
from fretloom.formats.students.telling.head import counted_from
from fretloom.formats.students.telling.hints import shape_hints
from fretloom.formats.students.telling.listener import Listener, listener_of
from fretloom.formats.students.telling.picking import (
    home_sentences,
    only_over,
    pattern_sentences,
    says_more,
)
from fretloom.formats.students.telling.pieces import PatternPiece, Pieces
from fretloom.formats.students.telling.road import RoadBlock, road_of
from fretloom.notation.model.step import Show
from fretloom.performance.events import TimedBar
from fretloom.performance.reading import Reading
from fretloom.performance.showing.taken_shapes import TakenShape, taken_shapes
from fretloom.performance.sounding.names import sounding_voicings
from fretloom.practising.path import practice_path
from fretloom.practising.plan import PracticePath
from fretloom.shapes import trusted
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

if TYPE_CHECKING:
    from markupsafe import Markup


#: The words of a pattern have so much room at least, in millimetres; those of more letters than this have more.
_FEW_WORDS, _MANY_WORDS, _MANY_LETTERS = 52.0, 84.0, 180


@frozen
class ShownShape:
    """A diagram on the page, and what stands beneath it."""

    svg: Markup
    hints: tuple[str, ...]


@frozen
class ShownPattern:
    """A pattern on the page: its picture, and its words."""

    title: str
    picture: PickingOnPage
    words: tuple[str, ...]

    @property
    def wide(self) -> float:
        """How wide it is where it is not set in columns, in millimetres: its picture, room for words, and a gap."""
        words = _MANY_WORDS if len(" ".join(self.words)) > _MANY_LETTERS else _FEW_WORDS
        return round(max(self.picture.width, words) + PATTERN_GAP, 1)


@frozen
class ShownSign:
    """A sign in the legend."""

    svg: Markup
    meaning: str


@frozen(eq=False)
class Parts:
    """Makes the parts of a lesson's page."""

    reading: Reading
    options: HandoutOptions

    @cached_property
    def artist(self) -> PageArtist:
        """What draws the pictures of this page."""
        return PageArtist(self.reading.timeline.settings, self.options, self.listener)

    @cached_property
    def players(self) -> Players | None:
        """What the page plays, None for a page that does not."""
        silent = self.options.without_player or self.options.sheet != "handout"
        return None if silent else Players(self.reading, self.artist)

    def player(self) -> Markup | None:
        """Return what plays, once all other parts are made; None where nothing is played."""
        return None if self.players is None else self.players.markup(self.song, self.road)

    @cached_property
    def pieces(self) -> Pieces:
        """What steps show, looked up."""
        return Pieces.of(self.reading)

    @cached_property
    def road(self) -> tuple[RoadBlock, ...]:
        """The blocks of the song."""
        return road_of(self.reading.timeline)

    @cached_property
    def path(self) -> PracticePath:
        """The steps and the plan of practice."""
        return practice_path(self.reading, self.options.wish)

    @cached_property
    def song(self) -> tuple[SongPart, ...]:
        """The song as it is folded."""
        return song_parts(self.reading.timeline)

    def made(self, names: Iterable[str]) -> dict[str, Markup]:
        """Return parts by their names in `options.PARTS`, or `words`, those that the lesson has."""
        makers: dict[str, Callable[[], Markup | None]] = {
            "road": lambda: road_part(self.road, self.options.large),
            "shapes": self._shapes,
            "picking": self._picking,
            "steps": self._steps,
            "song": lambda: song_part(
                self.song, self.artist, self.players.song() if self.players else None
            ),
            "practice": lambda: practice_part(self.path, self.artist),
            "signs": self._signs,
            "words": lambda: words_part(self.reading, self.road),
        }
        wanted = tuple(names)
        # The legend is made last, and knows what the others have, wherever it stands.
        made = {name: makers[name]() for name in sorted(wanted, key=lambda one: one == "signs")}
        return {name: part for name in wanted if (part := made[name])}

    @cached_property
    def _taken(self) -> tuple[TakenShape, ...]:
        return tuple(taken_shapes(self.reading.timeline))

    @cached_property
    def shown_shapes(self) -> tuple[ShownShape, ...]:
        """The shapes of the song, drawn."""
        taken = self._taken
        sounding, room = self._sounding(), self.artist.room_of(taken)
        return tuple(
            ShownShape(
                self.artist.shape(one, room),
                shape_hints(one, sounding.get(one.voicing.name, ""), taken[:at], self.listener),
            )
            for at, one in enumerate(taken)
        )

    def _shapes(self) -> Markup | None:
        if not self._taken:
            return None
        return filled("shapes.html", shapes=self.shown_shapes, hint=self.shapes_hint)

    @property
    def shapes_hint(self) -> str:
        """What is said over the shapes."""
        boxed = any(one.use.thumb for one in self._taken)
        said = [self._side(), say("pages.thumb-box") if boxed else "", self._whole_neck()]
        return " ".join(filter(None, said))

    def _side(self) -> str:
        """Say on which side of a diagram the string with the highest number is."""
        side = "right" if self.options.mirrored else "left"
        tuning = self.reading.timeline.settings.tuning
        if tuning.outer_is_lowest:
            return say(f"pages.thick-{side}")
        return say(f"pages.outer-{side}", string=tuning.strings)

    def _whole_neck(self) -> str:
        """Say what diagrams show of a neck whose capo leaves strings out, "" for any other."""
        settings = self.reading.timeline.settings
        if not settings.capo.leaves_out(settings.tuning.strings):
            return ""
        return f"{counted_from(settings, self.listener)} {say('pages.whole-neck')}"

    def _sounding(self) -> dict[str, str]:
        """Return the chord that is heard for each voicing, where a capo makes it another one."""
        timeline = self.reading.timeline
        if not timeline.settings.capo.fret:
            return {}
        return {
            one.voicing.name: one.sounding.written(timeline.settings.names)
            for one in sounding_voicings(timeline)
            if one.sounding is not None
        }

    @cached_property
    def patterns(self) -> tuple[tuple[str, ...], tuple[ShownPattern, ...]]:
        """What is said of all patterns; and each that the song plays, over the shape with which it comes first."""
        played = dict.fromkeys(one.bar.pattern for one in self.reading.timeline.bars)
        with trusted():
            shows = [
                Show(kind="pattern", name=name, over=self.pieces.first_over(name))
                for name in played
                if name in self.reading.material.patterns
            ]
        pieces = [one for one in self.pieces.pieces(shows) if isinstance(one, PatternPiece)]
        words = [self._pattern_words(one.bars) for one in pieces]
        shared = shared_words(words)
        shown = tuple(
            ShownPattern(
                piece.title,
                self.artist.picking(piece.bars),
                tuple(word for word in said if word not in shared),
            )
            for piece, said in zip(pieces, words, strict=True)
        )
        return shared, shown

    def _picking(self) -> Markup | None:
        shared, patterns = self.patterns
        return filled("picking.html", patterns=patterns, shared=shared) if patterns else None

    @cached_property
    def listener(self) -> Listener:
        """How strings and fingers are called."""
        return listener_of(
            self.reading.timeline.settings,
            strings=self.options.strings,
            mirrored=self.options.mirrored,
        )

    def _steps(self) -> Markup | None:
        drawer = StepDrawer(
            self.reading.timeline, self.pieces, self.artist, self.listener, self.players
        )
        return drawer.part(self.path)

    def _signs(self) -> Markup | None:
        samples = sign_samples(self.artist.signs, mirrored_hand=self.options.mirrored)
        signs = [
            ShownSign(self.artist.drawn(one.picture, LARGE_SIGN), one.meaning) for one in samples
        ]
        return filled("signs.html", signs=signs) if signs else None

    def _pattern_words(self, bars: Sequence[TimedBar]) -> tuple[str, ...]:
        """Return what a picking picture does not say: strings, and in full what is played in some other way."""
        played = (one.bar for one in self.reading.timeline.bars)
        over = only_over(bars, played, self.pieces.names)
        said = pattern_sentences if says_more(bars) else home_sentences
        return said(bars, self.listener, over)


def shared_words(patterns: Sequence[Sequence[str]]) -> tuple[str, ...]:
    """Return the sentences that are said of each of several patterns, to be said once."""
    first, *others = patterns or ((),)
    return tuple(one for one in first if others and all(one in words for words in others))
