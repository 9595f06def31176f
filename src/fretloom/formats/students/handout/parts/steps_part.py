"""The steps in the teacher's own words, or those that were found, each with what it shows drawn right there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from attrs import evolve, field

from fretloom.engraving.drawn.tab.making.strip_bars import of_bars, of_section
from fretloom.formats.students.handout.artist import BESIDE, PageArtist
from fretloom.formats.students.handout.parts.player_part import PlayerPlace, Players
from fretloom.formats.students.handout.templating import filled
from fretloom.formats.students.telling.changes import caution_sentence, change_sentences
from fretloom.formats.students.telling.listener import Listener
from fretloom.formats.students.telling.pieces import (
    BarsPiece,
    ChangePiece,
    PatternPiece,
    Pieces,
    ShapePiece,
    ShownPiece,
    SongPiece,
)
from fretloom.formats.students.telling.shapes import shape_sentences
from fretloom.performance.events import TimedBar, Timeline
from fretloom.performance.showing.change_use import Names, UsedChange, changes_between
from fretloom.practising.plan import PathPart, PathStep, PracticePath
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

if TYPE_CHECKING:
    from markupsafe import Markup

#: Up to so many bars of a section are drawn in a step; more are in the song.
_FEW_BARS = 4


@frozen(kw_only=True)
class DrawnPiece:
    """What a step shows, as the page has it.

    Args:
        pictures: that stand beside the words. words: a sentence each. lines: of tab.
        place: where in the song it is, if it is only there. stairs: the tempo ladder; tempo: its one tempo, in words.
        player: where it can be played.
    """

    title: str
    pictures: tuple[Markup, ...] = ()
    words: tuple[str, ...] = ()
    lines: tuple[Markup, ...] = ()
    place: str = ""
    stairs: Markup | None = None
    tempo: str = ""
    player: PlayerPlace | None = None


@frozen(kw_only=True)
class DrawnStep:
    """A step as the page has it.

    `number` is what all pages call it: "3", and "3a" for one that is added behind the teacher's third.
    """

    number: str
    title: str
    text: tuple[str, ...]
    pieces: tuple[DrawnPiece, ...]
    cautions: tuple[tuple[str, str], ...] = ()


@frozen(eq=False)
class StepDrawer:
    """Draws the steps of a practice path; `used` are the changes that they show, `drawn_changes` those drawn so far."""

    timeline: Timeline
    pieces: Pieces
    artist: PageArtist
    listener: Listener
    players: Players | None = None
    used: Mapping[Names, UsedChange] = field(factory=dict)
    drawn_changes: dict[Names, DrawnPiece] = field(factory=dict)

    def part(self, path: PracticePath) -> Markup | None:
        """Return the steps as parts of the page, None if there are none."""
        shown = self.pieces.pieces([part.show for step in path.steps for part in step.parts])
        # All at once: for what the song does with a change, the whole song is gone through.
        names = [_names(piece) for piece in shown if isinstance(piece, ChangePiece)]
        used = changes_between(self.timeline, names) if names else {}
        drawer, left = evolve(self, used=used, drawn_changes={}), iter(shown)
        steps = [
            drawer._step(step, [(part, next(left)) for part in step.parts]) for step in path.steps
        ]
        return filled("steps.html", steps=steps) if steps else None

    def _step(
        self, step: PathStep, parts: Sequence[tuple[PathPart, ShownPiece | None]]
    ) -> DrawnStep:
        pieces = [self._piece(part, piece) for part, piece in parts if piece is not None]
        strains = dict.fromkeys(caution for _, piece in parts for caution in self._strains(piece))
        return DrawnStep(
            number=step.label,
            title=step.title,
            text=step.sentences,
            pieces=tuple(pieces),
            cautions=tuple((say("pages.rest"), one) for one in strains),
        )

    def _strains(self, piece: ShownPiece | None) -> Iterator[str]:
        if isinstance(piece, ChangePiece):
            used = self.used.get(_names(piece))
            caution = caution_sentence(used.use) if used is not None else ""
            if caution:
                yield caution

    def _piece(self, part: PathPart, piece: ShownPiece) -> DrawnPiece:
        drawn = self._drawn(part, piece)
        if self.players is not None:
            drawn = evolve(drawn, player=self.players.piece(part, piece, part))
        tempos = part.tempos
        if tempos is None:
            return drawn
        if len(tempos.ladder) > 1:
            return evolve(drawn, stairs=self.artist.stairs(tempos.ladder))
        return evolve(drawn, tempo=say("pages.at-tempo", tempo=tempos.start))

    def _drawn(self, part: PathPart, piece: ShownPiece) -> DrawnPiece:
        if isinstance(piece, ShapePiece):
            picture = self.artist.shape(piece.shape)
            return DrawnPiece(
                title="", pictures=(picture,), words=shape_sentences(piece.shape, self.listener)
            )
        if isinstance(piece, ChangePiece):
            names = _names(piece)
            if names not in self.drawn_changes:
                self.drawn_changes[names] = self._change(piece)
            return self.drawn_changes[names]
        if isinstance(piece, PatternPiece):
            bars = _of_hands(piece.bars, part.hands)
            lines = self.artist.lines(of_bars(bars, self.pieces.names), room=BESIDE, known_as=part)
            return DrawnPiece(title=part.where or piece.title, lines=lines)
        if isinstance(piece, SongPiece):
            return DrawnPiece(title=piece.title, place=say("pages.in-the-song"))
        return self._bars(part, piece)

    def _bars(self, part: PathPart, piece: BarsPiece) -> DrawnPiece:
        section = next(one for one in self.timeline.sections if one.name == piece.section)
        if len(piece.bars) > _FEW_BARS:
            return DrawnPiece(title=part.where or piece.title, place=say("pages.in-the-song"))
        bars = tuple(evolve(one, bar=_of_hands([one.bar], part.hands)[0]) for one in piece.bars)
        strip = of_section(evolve(section, bars=bars), self.pieces.names)
        return DrawnPiece(
            title=part.where or piece.title,
            lines=self.artist.lines(strip, room=BESIDE, known_as=part),
        )

    def _change(self, piece: ChangePiece) -> DrawnPiece:
        used = self.used.get(_names(piece))
        if used is None:
            return DrawnPiece(title=piece.title)
        words = change_sentences(
            used.before, used.after, used.change, used.use, self.listener, caution=False
        )
        picture = self.artist.change(piece.before, piece.after, used.change, " ".join(words))
        # The picture has the names of both shapes.
        return DrawnPiece(title="", pictures=(picture,), words=words)


def _names(piece: ChangePiece) -> Names:
    return piece.before.voicing.name, piece.after.voicing.name


def _of_hands(bars: Sequence[TimedBar], hands: str) -> tuple[TimedBar, ...]:
    """Return bars with the notes of the thumb alone, or of the fingers alone."""
    if hands == "both":
        return tuple(bars)
    return tuple(
        evolve(
            bar, notes=tuple(one for one in bar.notes if (one.finger == "p") is (hands == "thumb"))
        )
        for bar in bars
    )
