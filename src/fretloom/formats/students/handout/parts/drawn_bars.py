"""Which bar of the page shows a bar of the song: the same one may be played many times, and is drawn once."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from itertools import groupby

from fretloom.engraving.drawn.tab.values import StripBar
from fretloom.formats.students.drawn_tab.song import SongPart
from fretloom.formats.students.handout.artist import PageArtist
from fretloom.formats.students.telling.road import RoadBlock
from fretloom.performance.events import PlayedBar
from fretloom.performance.showing.looks import BarLooks

#: By what the artist knows a part of the song, by its place.
SongPlace = tuple[str, int]


def song_place(part: int) -> SongPlace:
    """Return by what the artist knows the bars of a part of the song."""
    return ("song", part)


class DrawnSong:
    """The bars of the song on the page.

    A bar that is played is shown by one that looks the same: in the part of its own playing, else in the part that
    has its section; there by its number, if several look so.
    """

    def __init__(
        self,
        bars: Sequence[PlayedBar],
        song: Sequence[SongPart],
        road: Sequence[RoadBlock],
        artist: PageArtist,
    ) -> None:
        self._looks, self._found = BarLooks(), dict[Hashable, int]()
        self._parts: dict[tuple[int, int], int] = {}
        playings = [list(group) for _, group in groupby(bars, lambda one: (one.entry, one.playing))]
        at = 0
        for part, (drawn, block) in enumerate(zip(song, road, strict=True)):
            for playing in playings[at : at + block.times]:
                self._parts[playing[0].entry, playing[0].playing] = part
            at += block.times
            for one, number in zip(drawn.bars, artist.places(song_place(part)), strict=False):
                for key in self._keys(one, part, block.section):
                    self._found.setdefault(key, number)

    def shown(self, bars: Sequence[PlayedBar]) -> list[int]:
        """Return for each bar the number of the one that shows it on the page; -1 for none."""
        return [self._shown(one) for one in bars]

    def _shown(self, one: PlayedBar) -> int:
        part = self._parts.get((one.entry, one.playing), -1)
        label = str(one.place) if one.place and one.bar.kind != "pickup" else ""
        keys = _keys(self._looks.of(one.bar), part, one.section, label)
        return next((self._found[key] for key in keys if key in self._found), -1)

    def _keys(self, one: StripBar, part: int, section: str) -> Iterator[Hashable]:
        return _keys(self._looks.of(one.bar), part, section, one.label)


def _keys(look: Hashable, part: int, section: str, label: str) -> Iterator[Hashable]:
    """Yield by what a bar is found, what is most like it first."""
    yield ("part", part, label, look)
    yield ("labelled", section, label, look)
    yield ("part", part, look)
    yield ("section", section, look)
    yield ("look", look)
