"""What a teacher should look at in a lesson that was moved to another key: values, put into words elsewhere."""

from __future__ import annotations

from fretloom.notation.model.walking.places import WrittenPlace
from fretloom.trade.guitar.voicing import Hop, Voicing
from fretloom.values import frozen


@frozen
class CommonShapeTaken:
    """A common shape stands for a voicing that could not be moved.

    Args:
        name: of the old voicing. voicing: the new one, its fingers and bass order left open.
        hops: those of the old voicing, which the new one does not have.
    """

    name: str
    voicing: Voicing
    hops: tuple[Hop, ...] = ()


@frozen
class NutBarred:
    """A barre stands in the nut's place under a voicing without a common shape in the new key.

    Args:
        name: of the voicing that was replaced. voicing: the new one, its fingers and bass order
            open.
        fret: of the barre. hops: those of the old voicing, which the new one does not have.
    """

    name: str
    voicing: Voicing
    fret: int
    hops: tuple[Hop, ...] = ()


@frozen
class FretNamed:
    """Plucks in a place name frets of their own, which have no place beside the new voicing."""

    place: WrittenPlace


@frozen
class NamedInWords:
    """The words of a step name chords or frets of the old key, in the order of `names`."""

    place: WrittenPlace
    names: tuple[str, ...]


@frozen
class LineLost:
    """From one voicing to the next, by their new names, a note no longer goes on by steps as it did."""

    before: str
    after: str


@frozen
class NoLongerNeeded:
    """A voicing is left out: only others that were written like it needed it."""

    name: str


Remark = CommonShapeTaken | NutBarred | FretNamed | NamedInWords | LineLost | NoLongerNeeded
