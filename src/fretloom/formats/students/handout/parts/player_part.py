"""What a page plays: the song and what each step shows, as data for the script, with the bars that are drawn for it."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from functools import cache
from typing import TYPE_CHECKING, Any

from attrs import field

from fretloom.characters import nothing_hidden
from fretloom.formats.sound.ticks import TICKS
from fretloom.formats.sound.web.instrument import instrument_data
from fretloom.formats.sound.web.level import gain_of
from fretloom.formats.sound.web.notes import NotePool, rounded, tempos_of
from fretloom.formats.sound.web.script import json_in_page, lean, sound_script
from fretloom.formats.students.drawn_tab.song import SongPart
from fretloom.formats.students.handout.artist import PageArtist
from fretloom.formats.students.handout.parts.drawn_bars import DrawnSong
from fretloom.formats.students.handout.templating import ROOM, filled, trusted_markup
from fretloom.formats.students.telling.pieces import BarsPiece, ShownPiece, SongPiece
from fretloom.formats.students.telling.road import RoadBlock
from fretloom.limits import LIMITS
from fretloom.package_data import packaged_text
from fretloom.performance.events import PlayedBar, Settings
from fretloom.performance.place_words import Whereabouts
from fretloom.performance.playback.play import play
from fretloom.performance.playback.sounds import Playback
from fretloom.performance.reading import Reading
from fretloom.performance.showing.shown_bars import shown_bars
from fretloom.practising.plan import PathPart
from fretloom.practising.tempos import counted_unit
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

if TYPE_CHECKING:
    from markupsafe import Markup

#: By this the artist knows the bars of a part of the song.
_SONG = "song"


@frozen
class PlayerPlace:
    """Where a player stands on the page: its number, and what it plays, for who hears the page."""

    number: int
    what: str


@frozen(kw_only=True, eq=False)
class _ToPlay:
    """What one player plays.

    `bars` where `where` are the places in words, each from one of the bars on; `drawn` is by what the artist knows
    the bars that are drawn for them, `labels` the numbers of these. `ladder` are its tempos, each in `unit`s a minute.
    """

    bars: tuple[PlayedBar, ...]
    where: tuple[tuple[int, str], ...]
    unit: Any
    ladder: tuple[Any, ...] = ()
    heard: str = "both"
    drawn: Hashable = None
    labels: tuple[int, ...] | None = None
    whole: bool = False


@frozen(eq=False)
class Players:
    """The players of a page, in the order in which they are made."""

    reading: Reading
    artist: PageArtist
    _played: list[_ToPlay] = field(factory=list)

    @property
    def _settings(self) -> Settings:
        return self.reading.timeline.settings

    def song(self) -> PlayerPlace | None:
        """Return the player of the song, None for one that is too long."""
        bars = self.reading.timeline.bars
        if len(bars) > LIMITS.bars_in_a_player:
            return None
        places = Whereabouts(bars)
        where = [
            (at, nothing_hidden(places.section(one))) for at, one in enumerate(bars) if one.first
        ]
        played = _ToPlay(
            bars=bars, where=_from_the_first(where, ""), unit=counted_unit(self._settings), whole=True,
        )  # fmt: skip
        return self._place(played, say("pages.song"))

    def piece(self, part: PathPart, piece: ShownPiece, drawn: Hashable) -> PlayerPlace | None:
        """Return the player of what a step shows, None where nothing of it is heard, or too much.

        Args:
            part: what is practised. piece: the same, looked up. drawn: by what the artist knows its bars.
        """
        bars = shown_bars(self.reading, part.show)
        if not 0 < len(bars) <= LIMITS.bars_in_a_player:
            return None
        tempos, title = part.tempos, nothing_hidden(part.where or piece.title)
        own = bool(self.artist.places(drawn))
        played = _ToPlay(
            bars=bars,
            where=((0, title),),
            unit=counted_unit(self._settings) if tempos is None else tempos.unit,
            ladder=() if tempos is None else tempos.ladder,
            heard=part.hands,
            drawn=drawn if own else _SONG if isinstance(piece, (BarsPiece, SongPiece)) else None,
            labels=tuple(one.number for one in piece.bars)
            if isinstance(piece, BarsPiece)
            else None,
        )
        return self._place(played, title)

    def _place(self, played: _ToPlay, what: str) -> PlayerPlace:
        self._played.append(played)
        return PlayerPlace(len(self._played) - 1, what)

    def markup(self, song: Sequence[SongPart], road: Sequence[RoadBlock]) -> Markup | None:
        """Return what the end of the page holds: the controls, the notes and the script; None without a player."""
        if not self._played:
            return None
        drawn = DrawnSong(self.reading.timeline.bars, song, road, self.artist)
        pool = NotePool(self._settings)
        whole = play(self.reading.timeline.bars[: LIMITS.bars_in_a_player], self._settings)
        plays = [
            self._data(one, whole if one.whole else play(one.bars, self._settings), pool, drawn)
            for one in self._played
        ]
        heard = {
            "guitar": instrument_data(self._settings),
            "loud": gain_of(whole, self._settings),
            "ticks": TICKS,
            "kinds": pool.kinds.rows,
            "bars": pool.bars.rows,
            "meters": pool.meters.rows,
            "plays": plays,
        }
        return filled(
            "player.html",
            heard=trusted_markup(json_in_page(heard)),
            script=trusted_markup(_script()),
        )

    def _data(
        self, one: _ToPlay, playback: Playback, pool: NotePool, song: DrawnSong
    ) -> dict[str, Any]:
        numbers = [bar.number if one.whole else bar.place for bar in one.bars]
        shown = song.shown(one.bars) if one.drawn in (None, _SONG) else self._shown(one)
        own = one.whole or one.drawn not in (None, _SONG)
        found: dict[str, Any] = {
            "bars": pool.taken(playback),
            "tempos": tempos_of(playback),
            "beat": rounded(float(one.bars[0].tempo.quarters_per_minute / one.unit)),
            "number": numbers[0],
            "where": one.where,
            "shown": shown if one.whole or one.drawn is not None else [],
            "own": own,
            "whole": one.whole,
        }
        if numbers != list(range(numbers[0], numbers[0] + len(numbers))):
            found["numbers"] = numbers
        if one.whole:
            found["places"] = [bar.place for bar in one.bars]
        if one.ladder:
            found["ladder"] = [rounded(float(tempo)) for tempo in one.ladder]
        if one.heard != "both":
            found["heard"] = one.heard
        return found

    def _shown(self, one: _ToPlay) -> list[int]:
        """Return which bar of the page shows each bar that is played; -1 for none."""
        places = self.artist.places(one.drawn)
        if one.labels is None:
            return [places[at] if at < len(places) else -1 for at in range(len(one.bars))]
        by_label = dict(zip(reversed(one.labels), reversed(places), strict=False))
        return [by_label.get(bar.place, -1) for bar in one.bars]


def _from_the_first(where: Sequence[tuple[int, str]], title: str) -> tuple[tuple[int, str], ...]:
    """Return places in words of which the first begins with the first bar."""
    return tuple(where) if where and not where[0][0] else ((0, title), *where)


@cache
def _script() -> str:
    """Return the script of a page, whole in itself."""
    controls = lean(packaged_text(ROOM, "templates/player.js"))
    return f'"use strict";\n(() => {{\n{sound_script()}\n{controls}\n}})();'


def player_style() -> str:
    """Return what the style sheet says of players."""
    return packaged_text(ROOM, "templates/player.css")
