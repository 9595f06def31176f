"""The head of a lesson: who, what instrument, what key, how fast."""

from __future__ import annotations

from fractions import Fraction

from attrs import field

from fretloom.notation.model.margin import BARE, Margin, Unread
from fretloom.source import Span
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.music.key import Key
from fretloom.trade.music.meter import Meter
from fretloom.trade.music.tempo import Tempo
from fretloom.values import frozen

#: The fields of a heading and the type of their value.
FIELDS: dict[str, type] = {
    "by": str,
    "rights": str,
    "tuning": Tuning,
    "capo": Capo,
    "plays": Key,
    "sounds": Key,
    "meter": Meter,
    "tempo": Tempo,
    "swing": tuple,
    "instrument": str,
    "scale": Fraction,
    "hand": object,
    "level": str,
    "names": str,
    "based": str,
}
LEVELS = ("beginner", "intermediate", "advanced")
HANDS = ("small", "average", "large")
NAMINGS = ("english", "german", "romance")


@frozen(kw_only=True)
class Setting:
    """One line of the heading.

    `name` is a key of `FIELDS` (`plays` for "plays in", `based` for "based on"). `value` has that
    type: `swing` is a pair such as (2, 1); `scale` is in millimetres; `hand` is one of `HANDS` or a
    hand length in millimetres as a Fraction; `based` is a path as written.
    """

    name: str
    value: object
    margin: Margin = BARE
    value_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Heading:
    """The `lesson` block."""

    title: str
    settings: tuple[Setting | Unread, ...] = ()
    tail: tuple[str, ...] = ()
    margin: Margin = BARE
    title_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)

    def setting(self, name: str) -> Setting | None:
        """Return the first line of the heading that sets a field, if there is one."""
        for line in self.settings:
            if isinstance(line, Setting) and line.name == name:
                return line
        return None
