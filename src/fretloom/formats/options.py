"""Options of a format: each is declared once, for the library, the command and the documentation.

A format's options are a frozen class whose fields are made by `number`, `switch`, `one_of`, `several_of`, `date`
and their like. Each knows its default, what it means and which values it allows, and refuses all others.
"""

from __future__ import annotations

import datetime
import math
import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any, TypeGuard, TypeVar

import attrs

from fretloom.errors import FretloomError
from fretloom.text import short, shown_name
from fretloom.values import frozen

_DECLARED = "fretloom option"


@frozen(kw_only=True)
class FormatOptions:
    """What the options of every format are: a frozen class with a default for each of its fields."""


@frozen(kw_only=True)
class OptionKind:
    """Which values an option takes.

    Args:
        allowed: the values in words that follow "is": `a whole number from 40 to 10000`.
        accepts: whether a value is one of them.
        shown: how the command's help shows the value: `N`, `DATE`; "" for a switch, which has none.
        read: makes a value of what was typed; what cannot be read stays text and is refused.
        words: the words that it can be, where these are few.
        refusal: what is said of a value, after the option's name; "" for the usual words.
    """

    allowed: str
    accepts: Callable[[object], bool] = attrs.field(eq=False, repr=False)
    shown: str
    read: Callable[[str], object] = attrs.field(default=str, eq=False, repr=False)
    refusal: Callable[[object], str] = attrs.field(default=lambda _: "", eq=False, repr=False)
    words: tuple[str, ...] = attrs.field(default=(), eq=False, repr=False)


@frozen(kw_only=True)
class Option:
    """One option as a format has declared it; `says` is what it means, without a full stop."""

    name: str
    default: object
    says: str
    kind: OptionKind

    @property
    def switch(self) -> str:
        """How the command calls it: `--ring-ties`."""
        return f"--{self.name.replace('_', '-')}"


Options = TypeVar("Options", bound=FormatOptions)


def number(default: int, says: str, *, least: int, most: int) -> Any:
    """Declare a whole number from `least` to `most`."""
    return _declared(
        default,
        says,
        OptionKind(
            allowed=f"a whole number from {least} to {most}",
            accepts=lambda value: type(value) is int and least <= value <= most,
            shown="N",
            read=_whole,
        ),
    )


def several_numbers(says: str, *, least: int, most: int) -> Any:
    """Declare whole numbers from `least` to `most`, as a tuple or typed with commas between them; none unless given."""

    def accepts(value: object) -> bool:
        return isinstance(value, tuple) and all(
            type(one) is int and least <= one <= most for one in value
        )

    kind = OptionKind(
        allowed=f"whole numbers from {least} to {most}, with commas between them",
        accepts=accepts,
        shown="N,N",
        read=lambda text: tuple(_whole(part.strip()) for part in text.split(",")),
    )
    return _declared(
        (), says, kind, lambda value: tuple(value) if isinstance(value, list) else value
    )


def step_label(says: str) -> Any:
    """Declare a step as pages for students call it, `3` or `3a`; none unless one is given."""
    allowed = "a step as it is called: 3, or 3a"
    return _written(says, allowed, "STEP", r"(?=.)[0-9]{0,4}[a-z]{0,3}")


def bar_numbers(says: str) -> Any:
    """Declare bars as `3` or `3-6`; all unless some are given."""
    return _written(says, "bars like 3 or 3-6", "N-N", r"[0-9]{1,5}(-[0-9]{1,5})?")


def _written(says: str, allowed: str, shown: str, pattern: str) -> Any:
    """Declare a text of a pattern; None unless one is given."""

    def accepts(value: object) -> bool:
        return value is None or (isinstance(value, str) and bool(re.fullmatch(pattern, value)))

    return _declared(None, says, OptionKind(allowed=allowed, accepts=accepts, shown=shown))


def _whole(text: str) -> int | str:
    return int(text) if re.fullmatch(r"[-+]?[0-9]{1,9}", text) else text


def decimal(default: int, says: str, *, least: int, most: int) -> Any:
    """Declare a number from `least` to `most` with up to three places; as a Fraction, an int or a float."""
    allowed = f"a number from {least} to {most}"

    def refusal(value: object) -> str:
        return f"is {allowed}, not {float(value):g}" if _is_number(value) else ""

    kind = OptionKind(
        allowed=allowed,
        accepts=lambda value: _is_number(value) and least <= value <= most,
        shown="N",
        read=lambda text: (
            Fraction(text) if re.fullmatch(r"[-+]?[0-9]{1,9}(\.[0-9]{1,3})?", text) else text
        ),
        refusal=refusal,
    )
    return _declared(default, says, kind, _exact)


def _is_number(value: object) -> TypeGuard[int | Fraction]:
    return isinstance(value, int | Fraction) and not isinstance(value, bool)


def _exact(value: object) -> object:
    """Return a float as the thousandths it is nearest to; anything else as it is."""
    if isinstance(value, float) and math.isfinite(value):
        return Fraction(round(value * 1000), 1000)
    return value


def switch(says: str) -> Any:
    """Declare a switch, which is off unless it is asked for."""
    kind = OptionKind(
        allowed="True or False", accepts=lambda value: isinstance(value, bool), shown=""
    )
    return _declared(False, says, kind)


def one_of(values: tuple[str, ...], says: str) -> Any:
    """Declare a choice of one word out of several; the first is the default."""
    allowed = f"one of {', '.join(values)}"
    kind = OptionKind(
        allowed=allowed, accepts=lambda value: value in values, shown="WORD", words=values
    )
    return _declared(values[0], says, kind)


def several_of(values: tuple[str, ...], says: str) -> Any:
    """Declare a choice of words in any case, as a tuple or list or typed with commas between them; none means all."""
    allowed = f"any of {', '.join(values)}, with commas between them"

    def refusal(value: object) -> str:
        if not isinstance(value, tuple) or not all(isinstance(word, str) for word in value):
            return f"is a tuple of words, not {_kind_of(value)}"
        wrong = next(word for word in value if word not in values)
        return f"is {allowed}, not {shown_name(short(wrong)) if wrong else 'an empty word'}"

    kind = OptionKind(
        allowed=allowed,
        accepts=lambda value: isinstance(value, tuple) and all(word in values for word in value),
        shown="WORDS",
        read=lambda text: tuple(text.split(",")),
        refusal=refusal,
        words=values,
    )
    return _declared((), says, kind, _plain_words)


def _kind_of(value: object) -> str:
    if isinstance(value, tuple):
        wrong = next(one for one in value if not isinstance(one, str))
        return f"of {type(wrong).__name__}"
    return "text" if isinstance(value, str) else type(value).__name__


def _plain_words(value: object) -> object:
    """Return words of a tuple or list without blanks around them, in small letters; anything else as it is."""
    if not isinstance(value, (tuple, list)):
        return value
    return tuple(one.strip().lower() if isinstance(one, str) else one for one in value)


def date(says: str) -> Any:
    """Declare a day as `YYYY-MM-DD` (ISO 8601); none unless one is given."""
    kind = OptionKind(
        allowed="a day written YYYY-MM-DD",
        accepts=lambda value: value is None or _is_day(value),
        shown="DATE",
    )
    return _declared(None, says, kind)


def name(says: str, *, longest: int, wrong: Callable[[str], str]) -> Any:
    """Declare a person's name; none unless one is given. `wrong` says what is wrong with one, "" if nothing is."""
    kind = OptionKind(
        allowed=f"a name of at most {longest} letters, without brackets and signs that are not seen",
        accepts=lambda value: value is None or (isinstance(value, str) and not wrong(value)),
        shown="NAME",
    )
    return _declared(None, says, kind)


def declared(options: type[FormatOptions]) -> tuple[Option, ...]:
    """Return the options that a format's class declares, in its order; other fields are none."""
    return tuple(
        Option(
            name=one.name,
            default=one.default,
            says=one.metadata[_DECLARED][0],
            kind=one.metadata[_DECLARED][1],
        )
        for one in attrs.fields(options)
        if _DECLARED in one.metadata
    )


def as_options(given: object, wanted: type[Options]) -> Options | None:
    """Return options as those of another class, None where both are not of one kind: all that is heard is of one."""
    kinds = set(type(given).__mro__) & set(wanted.__mro__) - {FormatOptions}
    if not any(issubclass(kind, FormatOptions) for kind in kinds):
        return None
    names = [one.name for one in declared(wanted) if hasattr(given, one.name)]
    return wanted(**{name: getattr(given, name) for name in names})


def chosen(options: type[Options], given: Mapping[str, object], name: str) -> Options:
    """Return the options of the format called `name`, with the values that were given.

    Raises:
        FretloomError: the format has no such option, or the option does not take the value.
    """
    known = [one.name for one in declared(options)]
    for option in given:
        if option not in known:
            has = f"its options are {', '.join(known)}" if known else "it has no options"
            raise FretloomError(f"{name} does not take the option {option}: {has}")
    return options(**given)


def _declared(
    default: object,
    says: str,
    kind: OptionKind,
    converter: Callable[[object], object] | None = None,
) -> Any:
    metadata = {_DECLARED: (says, kind)}
    return attrs.field(default=default, validator=_check, converter=converter, metadata=metadata)


def _check(_: object, attribute: attrs.Attribute[object], value: object) -> None:
    kind: OptionKind = attribute.metadata[_DECLARED][1]
    if not kind.accepts(value):
        wrong = kind.refusal(value) or f"is {kind.allowed}, not {_shown(value)}"
        raise FretloomError(f"{attribute.name} {wrong}")


def _shown(value: object) -> str:
    if isinstance(value, tuple):
        return ",".join(map(str, value))[:40] or "nothing"
    text = repr(value)
    return text if len(text) <= 40 else f"{text[:40]}..."


def _is_day(value: object) -> bool:
    if not (isinstance(value, str) and re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value)):
        return False
    try:
        return bool(datetime.date.fromisoformat(value))
    except ValueError:
        return False
