"""The song as drawn tab, folded as a person would: each section once, later only what is new."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from fretloom.formats.students.drawn_tab.song import SongPart
from fretloom.formats.students.handout.artist import PageArtist
from fretloom.formats.students.handout.parts.drawn_bars import song_place
from fretloom.formats.students.handout.parts.player_part import PlayerPlace
from fretloom.formats.students.handout.templating import filled
from fretloom.values import frozen

if TYPE_CHECKING:
    from markupsafe import Markup


@frozen
class DrawnSection:
    """A part of the song on the page: its title, words beside it, and its lines of tab."""

    title: str
    words: str
    lines: tuple[Markup, ...]


def song_part(
    parts: Iterable[SongPart], artist: PageArtist, player: PlayerPlace | None
) -> Markup | None:
    """Return the song as a part of the page, with its player if it has one."""
    sections = [
        DrawnSection(
            part.title,
            part.words,
            artist.lines(part.bars, known_as=song_place(at)) if part.bars else (),
        )
        for at, part in enumerate(parts)
    ]
    return filled("song.html", sections=sections, player=player) if sections else None
