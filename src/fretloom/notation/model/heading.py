"""The head of a lesson: who, what instrument, what key, how fast."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Any, Literal

from attrs import field

from fretloom.notation.model.limits import (
    HAND_MM,
    SCALE_MM,
    Comment,
    Opening,
    Quoted,
    WrittenCapo,
    WrittenKey,
    WrittenMeter,
    WrittenTempo,
    WrittenTuning,
    ranged,
)
from fretloom.notation.model.margin import BARE, Margin, Unread
from fretloom.shapes import Limit, between, check_of, shaped
from fretloom.source import Span
from fretloom.values import frozen

SettingName = Literal[
    "by", "rights", "tuning", "capo", "plays", "sounds", "meter", "tempo", "swing", "instrument", "scale",
    "hand", "level", "names", "based",
]  # fmt: skip
HandSize = Literal["small", "average", "large"]
Level = Literal["beginner", "intermediate", "advanced"]
Naming = Literal["english", "german", "romance"]


def _instrument(text: str) -> str:
    from fretloom.trade.guitar.instruments import INSTRUMENTS, find_instrument

    if find_instrument(text) is not None and text == " ".join(text.split()):
        return ""
    return "one of " + ", ".join(one.name for one in INSTRUMENTS) + f", not {text[:40]!r}"


_Ratio = Annotated[int, between(1, 20)]
#: What the value of each line of the heading is; lengths are in millimetres.
SETTINGS: dict[str, Any] = {
    "by": Quoted,
    "rights": Quoted,
    "tuning": WrittenTuning,
    "capo": WrittenCapo,
    "plays": WrittenKey,
    "sounds": WrittenKey,
    "meter": WrittenMeter,
    "tempo": WrittenTempo,
    "swing": tuple[_Ratio, _Ratio],
    "instrument": Annotated[str, Limit(_instrument, "a known instrument")],
    "scale": Annotated[Fraction, ranged(*SCALE_MM)],
    "hand": HandSize | Annotated[Fraction, ranged(*HAND_MM)],
    "level": Level,
    "names": Naming,
    "based": Quoted,
}


def _wrong_value(setting: Setting) -> str:
    check_of(SETTINGS[setting.name])(setting.value, f"Setting.value of {setting.name!r}")
    return ""


@shaped(also=_wrong_value)
@frozen(kw_only=True)
class Setting:
    """One line of the heading.

    `name` is the first word of the line (`plays` for "plays in", `based` for "based on"), and says
    which type `value` has (see `SETTINGS`). A swing is a pair
    such as (2, 1), lengths are Fractions in millimetres, `based` is a path as written.
    """

    name: SettingName
    value: object
    margin: Margin = BARE
    value_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class Heading:
    """The `lesson` block.

    `opening` is the line that opens it as it stands, if that could not be understood, else "".
    """

    title: Quoted
    settings: tuple[Setting | Unread, ...] = ()
    tail: tuple[Comment, ...] = ()
    margin: Margin = BARE
    opening: Opening = ""
    title_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)

    def setting(self, name: str) -> Setting | None:
        """Return the first line of the heading that sets a field, if there is one."""
        for line in self.settings:
            if isinstance(line, Setting) and line.name == name:
                return line
        return None
