"""`frozen`: attrs' decorator for values, made so that the program starts sooner.

attrs writes and compiles Python source for every class, and describes each field of it. With some
150 classes that takes a quarter of a whole `fretloom check`. Here

* comparison, hash and representation are ordinary functions over the same fields;
* `__init__` is a function that is compiled once for each number of fields, its arguments renamed;
* attrs describes a class (`attrs.fields`, `evolve`, `asdict`) when that is asked for.

A class with more than plain values (converters, factories, base classes, cached properties) is made
by attrs itself, at once, and so is every class where Python does not take such an `__init__`.
`evolve` copies plain values without attrs. `tests/test_values.py` compares both.
"""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

__all__ = ["checking", "evolve", "frozen"]

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any

    from attrs import evolve, frozen  # What type checkers see: they know attrs' own.

    def checking(cls: type, check: Callable[[Any], None], unless: Callable[[], bool]) -> None:
        """Have a class of values call `check` with each new value, unless `unless()` is true."""

else:
    from functools import cached_property, partial
    from operator import attrgetter

    import attrs
    from attrs.exceptions import FrozenInstanceError

    _MARKER = type(attrs.field())
    #: What attrs leaves on a class for its own functions.
    _DESCRIPTION = ("__attrs_attrs__", "__attrs_props__")

    def frozen(cls=None, *, eq=True, order=False, kw_only=False, **options):
        """Make a class a frozen, slotted attrs class; takes attrs' own options."""
        if cls is None:
            return partial(frozen, eq=eq, order=order, kw_only=kw_only, **options)
        if order:
            return attrs.frozen(cls, eq=eq, order=order, kw_only=kw_only, **options)
        options.pop("cache_hash", None)
        fields = None if options or not _works_here() else _plain_fields(cls)
        if fields is not None:
            made = _value_class(cls, fields, kw_only)
        else:
            made = attrs.frozen(cls, eq=False, repr=False, kw_only=kw_only, **options)
            fields = [(one.name, None, one.eq, one.repr, None) for one in attrs.fields(made)]
        if eq:
            _compare(made, [name for name, _, counts, *_ in fields if counts])
        _represent(made, [name for name, *_, shown, _ in fields if shown])
        return made

    def evolve(value, **changes):
        """Return a copy of a value with some fields changed, as attrs' own does."""
        cls = type(value)
        if type(cls) is not _Value:
            return attrs.evolve(value, **changes)
        return cls(**{**_state(value), **changes})

    def checking(cls, check, unless):
        """Have a class of values call `check` with each new value, unless `unless()` is true."""
        plain, kw_only = cls.__dict__.get("_plain", (None, False))
        if plain is not None:
            fields, written = _plain_fields(plain), _annotations(plain)
            cls.__init__ = _init(cls, fields, kw_only, written, check, unless)
            return
        made = cls.__init__

        @functools.wraps(made)
        def __init__(self, *args, **kwargs):
            made(self, *args, **kwargs)
            unless() or check(self)

        cls.__init__ = __init__

    class _Value(type):
        """The class of classes of values: attrs describes one when its description is asked for."""

        def __getattr__(cls, name):
            plain, kw_only = cls.__dict__.get("_plain", (None, False))
            if plain is None or name not in _DESCRIPTION:
                raise AttributeError(f"type object {cls.__name__!r} has no attribute {name!r}")
            # attrs leaves a mark on the class it is given: each thread gives it one of its own.
            body = plain.__dict__.copy()
            for left_out in ("__dict__", "__weakref__"):
                body.pop(left_out, None)
            own = type(plain.__name__, (), body)
            described = attrs.frozen(own, eq=False, repr=False, kw_only=kw_only)
            for kept in _DESCRIPTION:
                if kept in described.__dict__:
                    setattr(cls, kept, described.__dict__[kept])
            return cls.__dict__[name]

    def _plain_fields(cls):
        """Return a class's fields as (name, default, compared, shown, validator), None if it is not plain."""
        body = cls.__dict__
        if cls.__bases__ != (object,) or type(cls) is not type or "__attrs_post_init__" in body:
            return None
        if any(
            isinstance(value, cached_property) or _names_class(value) for value in body.values()
        ):
            return None
        fields = []
        for name, kind in _annotations(cls).items():
            given = body.get(name, attrs.NOTHING)
            if name.startswith("_") or "ClassVar" in str(kind):
                return None
            if not isinstance(given, _MARKER):
                fields.append((name, given, True, True, None))
                continue
            special = given.converter or given.metadata or given.alias or given.kw_only
            if special or not given.init or isinstance(given._default, attrs.Factory):
                return None
            compared, shown = given.eq is not False, given.repr is not False
            fields.append((name, given._default, compared, shown, given._validator))
        return fields

    def _annotations(cls):
        """Return the annotations of a class's own fields by name; none of them is worked out for it."""
        body = cls.__dict__
        if "__annotations__" in body or not {"__annotate__", "__annotate_func__"} & body.keys():
            return body.get("__annotations__", {})
        # From Python 3.14 on they are kept as a function (PEP 649), but for modules that import them from
        # `__future__`; asking for their values would need names that only type checkers know.
        from annotationlib import Format, get_annotations

        return get_annotations(cls, format=Format.STRING)

    @functools.cache
    def _works_here():
        """Whether this Python takes an `__init__` whose arguments are renamed; if not, attrs makes all classes."""
        body = {"__slots__": ("first", "second")}
        fields = [
            (name, default, True, True, None)
            for name, default in (("first", attrs.NOTHING), ("second", 2))
        ]
        try:
            tried = type("Tried", (), body)
            tried.__init__ = _init(tried, fields, False, {})
            one, other = tried(1), tried(second=4, first=3)
        except Exception:
            return False
        return (one.first, one.second, other.first, other.second) == (1, 2, 3, 4)

    def _names_class(value):
        """Whether a function says `super()` or `__class__`, which would mean the class as written."""
        return "__class__" in getattr(getattr(value, "__code__", None), "co_freevars", ())

    def _value_class(cls, fields, kw_only):
        """Make a plain class one of values."""
        names = tuple(name for name, *_ in fields)
        body = {key: value for key, value in cls.__dict__.items() if key not in names}
        for left_out in ("__dict__", "__weakref__"):
            body.pop(left_out, None)
        body |= {
            "__slots__": (*names, "__weakref__"),
            "__match_args__": () if kw_only else names,
            "__setattr__": _refuse,
            "__delattr__": _refuse,
            "__getstate__": _state,
            "__setstate__": _set_state,
            "_plain": (cls, kw_only),
        }
        made = _Value(cls.__name__, (), body)
        made.__qualname__ = cls.__qualname__
        made.__init__ = _init(made, fields, kw_only, _annotations(cls))
        return made

    def _init(cls, fields, kw_only, annotations, also=None, unless=None):
        """Return `__init__` for fields with their defaults and validators; `also` checks the whole."""
        names = [name for name, *_ in fields]
        checks = [(_FieldName(name), validator) for name, *_, validator in fields if validator]
        setters = [cls.__dict__[name].__set__ for name in names]
        check = _checker(cls, checks) if checks else None
        steps = (check is not None, also is not None)
        init = _pattern(len(names), *steps)(*setters, check, also, unless)
        asked = 1 if kw_only else 1 + len(names)
        init.__code__ = init.__code__.replace(
            co_varnames=("self", *names),
            co_argcount=asked,
            co_kwonlyargcount=1 + len(names) - asked,
            co_qualname=f"{cls.__qualname__}.__init__",
        )
        defaults = {name: default for name, default, *_ in fields if default is not attrs.NOTHING}
        if kw_only:
            init.__kwdefaults__ = defaults
        else:
            init.__defaults__ = tuple(defaults.values())
        init.__qualname__ = f"{cls.__qualname__}.__init__"
        init.__module__ = cls.__module__
        init.__annotations__ = {**annotations, "return": None}
        return init

    @functools.cache
    def _pattern(count, checked, shaped):
        """Return a maker of an `__init__` with a number of fields, given what sets each and checks all."""
        places = range(count)
        steps = [f"set{place}(self, field{place})" for place in places]
        steps += ["check(self)"] if checked else []
        steps += ["unless() or also(self)"] if shaped else []
        made = {}
        exec(
            f"def make({', '.join([*(f'set{place}' for place in places), 'check', 'also', 'unless'])}):\n"
            f"    def __init__({', '.join(['self', *(f'field{place}' for place in places)])}):\n"
            f"        {'; '.join(steps) or 'pass'}\n"
            "    return __init__",
            made,
        )
        return made["make"]

    class _FieldName:
        """Stands in for attrs' description of a field, of which validators read the name."""

        __slots__ = ("name",)

        def __init__(self, name):
            self.name = name

    def _checker(cls, checks):
        """Return what runs the validators on a new value.

        One that objects is run again with attrs' description of the field.
        """

        def check(value):
            for named, validator in checks:
                given = getattr(value, named.name)
                try:
                    validator(value, named, given)
                except Exception:
                    validator(value, getattr(attrs.fields(cls), named.name), given)
                    raise

        return check

    def _refuse(self, *_):
        raise FrozenInstanceError

    def _state(self):
        return {name: getattr(self, name) for name in self.__slots__ if name != "__weakref__"}

    def _set_state(self, state):
        for name, value in state.items():
            object.__setattr__(self, name, value)

    def _compare(cls, names):
        """Give a class comparison and hash by some of its fields."""
        values = _getter(names)

        def __eq__(self, other):
            if other.__class__ is not self.__class__:
                return NotImplemented
            return values(self) == values(other)

        def __hash__(self):
            return hash((cls, values(self)))

        cls.__eq__, cls.__hash__ = __eq__, __hash__

    def _represent(cls, names):
        """Give a class a representation by some of its fields."""

        def __repr__(self):
            values = ", ".join(f"{name}={getattr(self, name)!r}" for name in names)
            return f"{cls.__qualname__}({values})"

        cls.__repr__ = __repr__

    def _getter(names):
        """Return a function that gets the values of some fields as a tuple."""
        if len(names) > 1:
            return attrgetter(*names)
        if not names:
            return lambda _: ()
        only = attrgetter(names[0])
        return lambda value: (only(value),)
