"""The picture of a change: the new shape in full, and where the fingers come from.

Dashed rings are the old places, those under the new shape left out; of an old barre only its bass end
is shown. A straight arrow leads along a string where a finger slides on it. Where the two shapes lie
too far apart for one picture, a line says at which fret the hand comes from.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

from attrs import field

from fretloom.engraving.drawn import signs as draw
from fretloom.engraving.drawn.diagrams.board import (
    EDGE,
    RIGHT,
    Board,
    covers,
    held_frets,
    left_room,
    neck_of,
    on_neck,
)
from fretloom.engraving.drawn.diagrams.names import fitted, printed
from fretloom.engraving.drawn.drawing import Drawing, Letters, Mark
from fretloom.engraving.drawn.lettering import width_of
from fretloom.engraving.drawn.neck import window
from fretloom.engraving.drawn.shape_diagram import DiagramLook
from fretloom.engraving.drawn.shape_words import spoken_change
from fretloom.performance.showing.taken_shapes import TakenShape
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.phrases.table import say
from fretloom.trade.playability.moving.changes import Change
from fretloom.values import frozen

#: So many frets are shown at the most to have both shapes in one picture.
MOST_FRETS = 7
_NAME, _LEAST_NAME, _FROM = 4.4, 3.2, 2.9


def change_diagram(
    before: TakenShape, after: TakenShape, change: Change, tuning: Tuning, look: DiagramLook, *,
    capo: Capo | None = None, says: str = "",
) -> Drawing:  # fmt: skip
    """Draw a change from one shape to another.

    Args:
        before, after: shapes of one tuning whose fingers are known. change: between them.
        capo: as `shape_diagram` takes it.
        says: the change in words, for those who hear it; "" for plain ones made here.
    """
    return _ChangeDiagram(before, after, change, tuning, look, capo or Capo(), says).picture()


def room_beside_change(before: TakenShape, after: TakenShape, capo: Capo | None = None) -> float:
    """Return the millimetres that an upright picture needs on the left of its strings."""
    old, new = (on_neck(one.voicing, capo or Capo()) for one in (before, after))
    low, _ = window(_frets_shown(old, new))
    return left_room(low)


@frozen(eq=False)
class _ChangeDiagram:
    before: TakenShape
    after: TakenShape
    change: Change
    tuning: Tuning
    look: DiagramLook
    capo: Capo
    says: str = field()

    @cached_property
    def _old(self) -> Voicing:
        return on_neck(self.before.voicing, self.capo)

    @cached_property
    def _new(self) -> Voicing:
        return on_neck(self.after.voicing, self.capo)

    @cached_property
    def near(self) -> bool:
        """Whether both shapes fit in one picture."""
        return _are_near(self._old, self._new)

    @cached_property
    def board(self) -> Board:
        """The piece of neck, with its place in the picture."""
        look = self.look
        neck = neck_of(
            len(self._new.frets), _frets_shown(self._old, self._new), lying=look.lying,
            rows=len(self._names), room=look.room,
        )  # fmt: skip
        return Board(neck, self.tuning, self.capo, look.names)

    def picture(self) -> Drawing:
        """Put it together."""
        (x, y), neck = self.board.neck.corner, self.board.neck
        marks = [*self._marks()]
        width = x + (neck.length + 3.4 if neck.lying else neck.breadth + RIGHT)
        height = y + (neck.breadth + 3.0 if neck.lying else neck.length + 5.0)
        if neck.lying and not self.board.from_nut:
            height += 3.0
        if not self.near:
            [words] = self._from_afar(height + 3.0)
            width = max(width, words.at[0] + width_of(words.text, words.size) + EDGE)
            height += 4.0
            marks.append(words)
        called = self.look.called
        says = self.says or spoken_change(self.before, self.after, self.change, called)
        counted = called.counted([self.before.voicing, self.after.voicing])
        return self.board.finished(
            marks,
            size=(width, height),
            name=self._names,
            mirror=self.look.mirrored,
            title=self._title,
            says=f"{says} {counted}".rstrip(),
        )

    @cached_property
    def _title(self) -> str:
        before, after = printed(self.before.name), printed(self.after.name)
        return say("drawn.change", before=before, after=after)

    @cached_property
    def _names(self) -> tuple[Letters, ...]:
        """The name over the picture: in one row, or in two where it would be cut."""
        if not self.look.named:
            return ()
        one = fitted(self._title, _NAME, _LEAST_NAME)
        if one.text == self._title:
            return (one,)
        rows = (printed(self.before.name), say("drawn.change-to", after=printed(self.after.name)))
        return tuple(fitted(row, _NAME, _LEAST_NAME) for row in rows)

    def _marks(self) -> Iterator[Mark]:
        board = self.board
        yield from board.lines()
        yield from board.open_strings(self._new, self._plucked)
        if self.near:
            yield from self._slides()
            yield from self._old_places()
        yield from board.fingers(self._new, self._plucked)

    def _plucked(self, string: int) -> bool:
        return string in self.after.use.plucked

    def _shown_places(self) -> Iterator[tuple[str, int, int]]:
        """Yield the old places that the new shape leaves free: finger, string and fret."""
        for string in range(self.board.neck.strings, 0, -1):
            fret, finger = self._old.fret(string), self._old.finger(string)
            if not fret or self._taken(string, fret):
                continue
            inside = any(
                one.finger == finger and covers(one, string, fret) and string != one.first
                for one in self._old.barres
            )
            if not inside:
                yield finger or "", string, fret

    def _taken(self, string: int, fret: int) -> bool:
        """Whether a finger of the new shape is on a place."""
        new = self._new
        return new.fret(string) == fret or any(covers(one, string, fret) for one in new.barres)

    def _old_places(self) -> Iterator[Mark]:
        for finger, string, fret in self._shown_places():
            self.board.signs.add("was-here")
            yield from draw.finger_was(finger, self.board.place(string, fret))

    def _slides(self) -> Iterator[Mark]:
        """Draw an arrow from each old place that is shown to where its finger slides on the same string."""
        board = self.board
        sliding = self.change.of_kind("guide")
        for finger, string, fret in self._shown_places():
            goal = self._new.fret(string)
            if finger not in sliding or not goal or self._new.finger(string) != finger:
                continue
            board.signs.add("slide")
            toward = 1 if goal > fret else -1
            start, end = board.neck.finger(fret), board.neck.finger(goal)
            yield from draw.slide(
                board.neck.at(string, start + toward * 0.86 * draw.RADIUS),
                board.neck.at(string, end - toward * (draw.RADIUS + 0.15)),
            )

    def _from_afar(self, y: float) -> Iterator[Letters]:
        """Say at which fret the hand comes from."""
        lowest = min(fret for fret in self._old.frets if fret)
        x = self.board.neck.corner[0] - (0.0 if self.look.lying else draw.RADIUS)
        partial = self.capo.leaves_out(self.board.neck.strings)
        text = say("drawn.from-fret-nut" if partial else "drawn.from-fret", fret=lowest)
        yield Letters(at=(x, y), text=text, size=_FROM, ink="soft", anchor="start")


def _frets_shown(old: Voicing, new: Voicing) -> list[int]:
    """Return the frets that the piece of neck is for: of both shapes, or of the new one alone."""
    frets = held_frets(new)
    if not _are_near(old, new):
        return frets
    both = frets + held_frets(old)
    by_nut = window(frets)[0] == 0 and max(both, default=0) <= MOST_FRETS
    # A shape that is learnt by the nut is shown there.
    return [*both, 1] if by_nut else both


def _are_near(old: Voicing, new: Voicing) -> bool:
    frets = held_frets(new)
    return _span(frets + held_frets(old)) <= max(MOST_FRETS, _span(frets))


def _span(frets: list[int]) -> int:
    low, high = window(frets)
    return high - low
