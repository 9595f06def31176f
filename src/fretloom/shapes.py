"""`shaped`: values that refuse, when they are made, what their fields cannot hold.

The types that a class declares say what is checked; `Annotated[str, Limit(...)]` says more than a
type can, and `shaped(also=...)` what holds between fields. A wrong type is a `TypeError`, a wrong
value a `ModelError`; both name class and field. Inside `trusted()`, as while a text is read,
nothing is checked: the grammar has done so.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from types import NoneType, UnionType
from typing import (
    Annotated,
    Any,
    Literal,
    TypeVar,
    Union,
    cast,
    get_args,
    get_origin,
    get_type_hints,
)

from fretloom.errors import ModelError
from fretloom.values import checking

T = TypeVar("T", bound=type)
Check = Callable[[Any, str], None]

_TRUSTED: ContextVar[bool] = ContextVar("trusted", default=False)


class Limit:
    """What a value must be besides its type.

    `problem` says what is wrong with one, "" if nothing is; `says` is for the documentation.
    """

    def __init__(self, problem: Callable[[Any], str], says: str = "") -> None:
        self.problem = problem
        self.says = says

    def __repr__(self) -> str:
        return self.says


def between(least: int, most: int) -> Limit:
    """Return the limit of a number from one to another, both included."""
    return Limit(
        lambda n: "" if least <= n <= most else f"a number from {least} to {most}, not {n}",
        f"{least} to {most}",
    )


@contextmanager
def trusted() -> Iterator[None]:
    """Make values without checking them, in this thread or task."""
    before = _TRUSTED.set(True)
    try:
        yield
    finally:
        _TRUSTED.reset(before)


def shaped(*, also: Callable[[Any], str] | None = None) -> Callable[[T], T]:
    """Return a decorator, to stand above `frozen`, for a class that checks its fields.

    `also` says what is wrong between the fields of a value, beginning with the name of one (it may
    be "" for nothing).
    """

    def shape(cls: T) -> T:
        checking(cls, lambda value: check_shape(value, also), _TRUSTED.get)
        return cls

    return shape


def check_shape(value: Any, also: Callable[[Any], str] | None = None) -> None:
    """Check the fields of a value by the types that its class declares.

    Raises:
        TypeError: a field holds another type.
        ModelError: a field holds what it cannot.
    """
    cls = type(value)
    for name, check in _checks(cast("Hashable", cls)):
        check(getattr(value, name), f"{cls.__name__}.{name}")
    problem = also(value) if also else ""
    if problem:
        raise ModelError(f"{cls.__name__}.{problem}")


@cache
def _checks(cls: Hashable) -> tuple[tuple[str, Check], ...]:
    hints = get_type_hints(cls, include_extras=True)
    own = [
        (name, hint)
        for name, hint in hints.items()
        if get_origin(hint) is not None or hint is not object
    ]
    return tuple((name, check_of(hint)) for name, hint in own)


def check_of(hint: Any) -> Check:
    """Return what checks a value of a declared type, given where it stands."""
    origin, inner = get_origin(hint), get_args(hint)
    if origin is Annotated:
        return _limited(check_of(inner[0]), [one for one in inner[1:] if isinstance(one, Limit)])
    if origin in (Union, UnionType):
        return _one_of([(kinds_of(one), check_of(one)) for one in inner], in_words(hint))
    if origin is tuple:
        return _each(check_of(inner[0]), None if inner[-1] is ... else len(inner), in_words(hint))
    if origin is Literal:
        return _among(inner)
    return _plain(kinds_of(hint), in_words(hint))


def _limited(check: Check, limits: list[Limit]) -> Check:
    def limited(value: Any, place: str) -> None:
        check(value, place)
        for limit in limits:
            if problem := limit.problem(value):
                raise ModelError(f"{place}: {problem}")

    return limited


def _one_of(arms: list[tuple[tuple[type, ...], Check]], wanted: str) -> Check:
    def one_of(value: Any, place: str) -> None:
        for kinds, check in arms:
            if _is(value, kinds):
                check(value, place)
                return
        _refuse(value, place, wanted)

    return one_of


def _each(check: Check, count: int | None, wanted: str) -> Check:
    def each(value: Any, place: str) -> None:
        if not isinstance(value, tuple):
            _refuse(value, place, wanted)
        if count is not None and len(value) != count:
            raise ModelError(f"{place} holds {count} values, not {len(value)}")
        for number, one in enumerate(value):
            check(one, f"{place}[{number}]")

    return each


def _among(words: tuple[Any, ...]) -> Check:
    listed = ", ".join(map(repr, words[:-1])) + f" or {words[-1]!r}"

    def among(value: Any, place: str) -> None:
        if not isinstance(value, str):
            _refuse(value, place, "a str")
        if value not in words:
            raise ModelError(f"{place} is {listed}, not {value[:40]!r}")

    return among


def _plain(kinds: tuple[type, ...], wanted: str) -> Check:
    def plain(value: Any, place: str) -> None:
        if not _is(value, kinds):
            _refuse(value, place, wanted)

    return plain


def _is(value: Any, kinds: tuple[type, ...]) -> bool:
    """Whether a value is of one of some types; a bool is not a number here."""
    return isinstance(value, kinds) and (
        type(value) is not bool or bool in kinds or object in kinds
    )


def _refuse(value: Any, place: str, wanted: str) -> None:
    raise TypeError(f"{place} is {wanted}, not {_article(type(value).__name__)}")


def kinds_of(hint: Any) -> tuple[type, ...]:
    """Return the types that a value of a declared type can have."""
    origin, inner = get_origin(hint), get_args(hint)
    if origin is Annotated:
        return kinds_of(inner[0])
    if origin in (Union, UnionType):
        return tuple(kind for one in inner for kind in kinds_of(one))
    if origin is Literal:
        return (str,)
    if hint is Any:
        return (object,)
    return (NoneType if hint is None else origin or hint,)


def in_words(hint: Any) -> str:
    """Name a declared type as a message does: `a tuple of Part`, `a Fraction or None`."""
    origin, inner = get_origin(hint), get_args(hint)
    if origin is Annotated:
        return in_words(inner[0])
    if origin in (Union, UnionType):
        words = list(dict.fromkeys(map(in_words, inner)))
        return ", ".join(words[:-1]) + f" or {words[-1]}" if len(words) > 1 else words[0]
    if origin is tuple:
        each = dict.fromkeys(in_words(one) for one in inner if one is not ...)
        return "a tuple of " + " and ".join(_bare(one) for one in each)
    if origin is Literal:
        return "a str"
    if hint in (None, NoneType):
        return "None"
    if origin is not None and issubclass(origin, Mapping):
        return "a mapping"
    return _article(getattr(hint, "__name__", str(hint)))


def refuse_other_than_text(given: object) -> None:
    """Refuse an argument `text` that is not a str.

    Raises:
        TypeError: as said.
    """
    if not isinstance(given, str):
        decode = ": decode it first, data.decode()" if isinstance(given, bytes | bytearray) else ""
        raise TypeError(f"text is a str, not {type(given).__name__}{decode}")


def _bare(words: str) -> str:
    return " or ".join(
        one.removeprefix("a ").removeprefix("an ")
        for one in words.replace(", ", " or ").split(" or ")
    )


def _article(name: str) -> str:
    if name == "NoneType":
        return "None"
    return f"{'an' if name[:1] in 'aeiouAEIO' else 'a'} {name}"
