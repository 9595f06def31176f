"""A bar as it stands on the page, with what is said around it."""

from __future__ import annotations

from fretloom.formats.tab.drawing.layout import Picture
from fretloom.formats.tab.drawing.signs import Sign
from fretloom.values import frozen


@frozen(kw_only=True)
class Drawn:
    """A bar as it is drawn: its picture, the signs at its lines and the words over it.

    `opens` and `closes` count the repeats that start before the bar and end after it; `before`
    stands over its start ("1st time", "in 3/4"), `after` over its end ("3 times"). `first` and
    `last` are the numbers of the bars it stands for, 0 for a pickup; `place` is what is said in
    place of them if it begins a line. `full` is what a `%` stands for: at the start of a line the
    reader cannot look back. `signs` are those among the words over it. A bar that is wider than the
    page is drawn in pieces: `continued` if something of it stands before, `goes_on` if something
    follows.
    """

    picture: Picture
    first: int
    last: int
    cue: str = ""
    before: tuple[str, ...] = ()
    after: str = ""
    opens: int = 0
    closes: int = 0
    full: Picture | None = None
    place: str = ""
    signs: frozenset[Sign] = frozenset()
    continued: bool = False
    goes_on: bool = False
