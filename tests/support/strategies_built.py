"""Lessons built in Python, their fields filled by their types alone: what constructors accept, however odd."""

from __future__ import annotations

from fractions import Fraction
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

import attrs
from hypothesis import strategies as st

from fretloom.errors import ModelError
from fretloom.model import Capo, Count, Group, Hold, Key, Lesson, Meter, Setting, Tempo, Tuning
from fretloom.notation.model.heading import SETTINGS
from fretloom.trade.guitar.tunings import parse_tuning
from fretloom.trade.music.key import parse_key
from fretloom.trade.music.meter import parse_count, parse_meter

_WORDS = (
    "E", "C#m7", "plain", "verse", "show", "use", "section", "form", "lesson", "end", "rest", "same", "x2", "but",
    "names german", "tuning drop D", "based on", "#", "# no", "#1", '"', '\\', "|", ":", "a(b", "a(b)", "G]", "Plain",
    "\u200d", "\u00a0", "\x00", "\n", "\r", "\ud800", "“a”", "1", "p", "i", "-", "%", "", " ", "\t", "with", "on 1",
    "tempo 90", "picking", 'use "a"', "日本", "step", "like", "{", "}", "[a]", "allow", "# allow", "from", "to",
)  # fmt: skip
texts = st.lists(st.sampled_from(_WORDS), min_size=1, max_size=3).map(" ".join) | st.sampled_from(
    _WORDS
)
_NUMBERS = (Fraction(3), Fraction(3, 2), Fraction(1, 3), Fraction(1, 10000), Fraction(999999, 998), Fraction(0), Fraction(60), Fraction(650))  # fmt: skip
_MADE: dict[Any, st.SearchStrategy[Any]] = {
    bool: st.booleans(),
    int: st.sampled_from([1, 2, 3, 4, 6, 0, 12, 99, 100, -1, -2, 9999, 1_000_000]),
    str: texts,
    Fraction: st.sampled_from(_NUMBERS),
    Count: st.sampled_from(["1", "2&", "3a", "4+1/6", "12"]).map(parse_count) | st.just(Count(0)),
    Meter: st.sampled_from(["4/4", "6/8", "2+2+3/8"]).map(parse_meter)
    | st.just(parse_meter("6/8", 6)),
    Tempo: st.builds(
        Tempo,
        st.sampled_from([Fraction(96), Fraction(185, 2), Fraction(100, 3)]),
        st.sampled_from([Fraction(1), Fraction(3, 2)]),
    ),
    Key: st.sampled_from(["E", "Bb", "F#m", "D dorian", "B", "A ionian"]).map(parse_key),
    Tuning: st.sampled_from(["standard", "drop D", "G4 C4 E4 A4", "E2+E3 A2+A3 D3"]).map(
        parse_tuning
    ),
    Capo: st.builds(Capo, st.integers(0, 9), st.sampled_from([(), (5, 4), (13,)])),
}


def of(hint: Any, depth: int = 0) -> st.SearchStrategy[Any]:
    """Values of a declared type, limits not minded."""
    origin, inner = get_origin(hint), get_args(hint)
    if hint in _MADE:
        return _MADE[hint]
    if origin is Annotated:
        return of(inner[0], depth)
    if origin in (Union, UnionType):
        kinds = [one for one in inner if not (depth > 3 and one is Group)]
        return st.one_of([of(one, depth) for one in kinds])
    if origin is tuple and inner[-1] is not ...:
        return st.tuples(*(of(one, depth) for one in inner))
    if origin is tuple:
        return st.lists(of(inner[0], depth), max_size=2).map(tuple)
    if origin is Literal:
        return st.sampled_from(inner)
    return st.none() if hint is NoneType else st.deferred(lambda: made(hint, depth + 1))


@st.composite
def made(draw: st.DrawFn, kind: Any, depth: int = 0) -> Any:
    """A value of a class of the model that its constructor accepts; fields with defaults are rarely given."""
    hints = get_type_hints(kind, include_extras=True)
    for _ in range(6):
        fields: dict[str, Any] = {}
        for one in attrs.fields(kind):
            if one.eq is False or (one.default is not attrs.NOTHING and draw(st.integers(0, 2))):
                continue
            if one.name in ("opening", "text") and one.default is not attrs.NOTHING:
                continue
            hint = (
                SETTINGS[fields["name"]]
                if kind is Setting and one.name == "value"
                else hints[one.name]
            )
            fields[one.name] = draw(of(hint, depth))
        try:
            return kind(**fields)
        except ModelError:
            continue
    return draw(st.nothing()) if kind is not Hold else Hold()


def lessons() -> st.SearchStrategy[Lesson]:
    """Whole lessons of up to four blocks."""
    hints = get_type_hints(Lesson, include_extras=True)
    blocks = st.lists(of(get_args(hints["blocks"])[0]), min_size=1, max_size=4).map(tuple)
    return st.builds(Lesson, blocks=blocks)
