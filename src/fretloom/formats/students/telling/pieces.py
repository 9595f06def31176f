"""What a step shows, looked up: the shape, the change, the pattern alone, the bars.

A teacher's steps and those of a practice path show the same kinds of things (`Show`), so that pages draw
both alike.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import TypeAlias

from attrs import field

from fretloom.characters import nothing_hidden
from fretloom.notation.model.step import Show, Step
from fretloom.performance.events import TimedBar, Timeline, WrittenBar
from fretloom.performance.hands.fingering import neck_of_settings
from fretloom.performance.reading import Reading
from fretloom.performance.showing.patterns_alone import FirstOvers, patterns_alone
from fretloom.performance.showing.shape_names import signed_names
from fretloom.performance.showing.shape_use import ShapeUse, shape_uses
from fretloom.performance.showing.step_text import paragraphs
from fretloom.performance.showing.taken_shapes import TakenShape
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.phrases.table import say
from fretloom.trade.playability.moving.changes import Change, change
from fretloom.trade.playability.shape import Fretted
from fretloom.values import frozen


@frozen(kw_only=True)
class Tempos:
    """How fast something is practised, in quarter notes a minute; `goal` is `start` where one stays."""

    start: Fraction
    goal: Fraction


@frozen(kw_only=True)
class ShapePiece:
    """A shape to look at."""

    title: str
    shape: TakenShape
    tempos: Tempos | None = None


@frozen(kw_only=True)
class ChangePiece:
    """A change to practise; `change` is None where the fingers of a shape are not known."""

    title: str
    before: TakenShape
    after: TakenShape
    change: Change | None
    tempos: Tempos | None = None


@frozen(kw_only=True)
class PatternPiece:
    """A pattern alone, over a shape."""

    title: str
    bars: tuple[TimedBar, ...]
    tempos: Tempos | None = None


@frozen(kw_only=True)
class BarsPiece:
    """Bars of a section as they are written; `section` is its name."""

    title: str
    section: str
    bars: tuple[WrittenBar, ...]
    tempos: Tempos | None = None


@frozen(kw_only=True)
class SongPiece:
    """The whole song."""

    title: str
    tempos: Tempos | None = None


ShownPiece: TypeAlias = ShapePiece | ChangePiece | PatternPiece | BarsPiece | SongPiece


@frozen(kw_only=True)
class ShownStep:
    """A step of the lesson: what the teacher says, and what is shown."""

    title: str
    text: tuple[str, ...]
    pieces: tuple[ShownPiece, ...]


@frozen(eq=False)
class Pieces:
    """Looks up what is shown of a lesson."""

    reading: Reading
    names: dict[str, str] = field()
    _uses: dict[str, ShapeUse] = field(repr=False)
    _overs: FirstOvers = field(repr=False)

    @classmethod
    def of(cls, reading: Reading) -> Pieces:
        """Return the pieces of a lesson."""
        timeline = reading.timeline
        return cls(reading, signed_names(timeline), shape_uses(timeline), FirstOvers(timeline))

    @property
    def _timeline(self) -> Timeline:
        return self.reading.timeline

    def shape(self, name: str) -> TakenShape | None:
        """Return a voicing with its use in the song; None if it is not there."""
        voicing = self._timeline.voicings.get(name)
        if voicing is None:
            return None
        return TakenShape(voicing, self.names.get(name, name), self._uses.get(name, ShapeUse()))

    def steps(self, steps: Sequence[Step]) -> tuple[ShownStep, ...]:
        """Return the teacher's steps with what they show."""
        shows = [[line for line in step.lines if isinstance(line, Show)] for step in steps]
        pieces = iter(self.pieces([one for each in shows for one in each]))
        return tuple(
            ShownStep(
                title=nothing_hidden(step.title),
                text=tuple(paragraphs(step, self.names)),
                pieces=tuple(filter(None, (next(pieces) for _ in shown))),
            )
            for step, shown in zip(steps, shows, strict=True)
        )

    def pieces(self, shows: Sequence[Show]) -> tuple[ShownPiece | None, ...]:
        """Return what is shown, one for one; None for what the lesson does not have."""
        wanted = {
            show: (show.name, show.over or self.first_over(show.name))
            for show in shows
            if show.kind == "pattern"
        }
        alone = patterns_alone(self.reading, wanted.values())
        return tuple(
            self._pattern(show, alone.get(wanted[show], ()))
            if show.kind == "pattern"
            else self._piece(show)
            for show in shows
        )

    def first_over(self, pattern: str) -> str:
        """Return the voicing over which a pattern comes first in the song, else the first one of the lesson."""
        return self._overs.of(pattern)

    def _piece(self, show: Show) -> ShownPiece | None:
        tempos = _tempos(show)
        if show.kind == "form":
            return SongPiece(title=say("pieces.song"), tempos=tempos)
        if show.kind == "voicing":
            shape = self.shape(show.name)
            return ShapePiece(title=shape.name, shape=shape, tempos=tempos) if shape else None
        if show.kind == "change":
            return self._change(show)
        return self._bars(show)

    def _change(self, show: Show) -> ShownPiece | None:
        before, after = self.shape(show.name), self.shape(show.over)
        if before is None or after is None:
            return None
        title = say("pieces.change", before=before.name, after=after.name)
        made = self.made(before.voicing, after.voicing)
        return ChangePiece(
            title=title, before=before, after=after, change=made, tempos=_tempos(show)
        )

    def made(self, before: Voicing, after: Voicing) -> Change | None:
        """Return what the fingers do from one voicing to another; None where they are not known."""
        if not (before.fingers and after.fingers):
            return None
        neck = neck_of_settings(self._timeline.settings)
        one, other = Fretted(before.frets, before.fingers), Fretted(after.frets, after.fingers)
        return change(neck, one, other)

    def _pattern(self, show: Show, bars: tuple[TimedBar, ...]) -> ShownPiece | None:
        printed = self._timeline.patterns.get(show.name)
        name = nothing_hidden(printed.name if printed and printed.name else show.name)
        title = name[:1].upper() + name[1:]
        if show.over:
            title = say(
                "pieces.pattern-over", pattern=title, shape=self.names.get(show.over, show.over)
            )
        return PatternPiece(title=title, bars=bars, tempos=_tempos(show)) if bars else None

    def _bars(self, show: Show) -> ShownPiece | None:
        section = next((one for one in self._timeline.sections if one.name == show.name), None)
        if section is None:
            return None
        bars, title = section.bars, self.section_title(show.name)
        if show.first is not None:
            last = show.first if show.last is None else show.last
            bars = tuple(one for one in bars if show.first <= one.number <= last)
            one_bar = show.first == last
            title = (
                say("pieces.bar", section=title, bar=show.first) if one_bar
                else say("pieces.bars", section=title, first=show.first, last=last)
            )  # fmt: skip
        if not bars:
            return None
        return BarsPiece(title=title, section=show.name, bars=bars, tempos=_tempos(show))

    def section_title(self, name: str) -> str:
        """Return what students read for a section: its title, or its name with a capital."""
        titles = {one.name: one.title for one in self._timeline.sections}
        title = nothing_hidden(titles.get(name) or name)
        return title[:1].upper() + title[1:]


def _tempos(show: Show) -> Tempos | None:
    if show.start is None:
        return None
    return Tempos(start=show.start, goal=show.start if show.goal is None else show.goal)
