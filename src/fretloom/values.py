"""`frozen`: attrs' decorator for values, made so that the program starts sooner.

attrs writes and compiles Python source for the methods of every class: for `__init__`, which is
worth it, and for `__eq__`, `__hash__` and `__repr__`. With some 130 classes compiling the latter
three takes a seventh of a whole `fretloom check` (24 of 187 ms, measured with bytecode cached).
Here they are ordinary functions over the same fields, and do the same.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

__all__ = ["frozen"]

if TYPE_CHECKING:
    from attrs import frozen  # What type checkers see: they know attrs' decorator.
else:
    from functools import partial
    from operator import attrgetter

    import attrs

    def frozen(cls=None, *, eq=True, order=False, **options):
        """Make a class a frozen, slotted attrs class; takes attrs' own options."""
        if cls is None:
            return partial(frozen, eq=eq, order=order, **options)
        if not eq or order:
            return attrs.frozen(cls, eq=eq, order=order, **options)
        options.pop("cache_hash", None)
        return _with_values(attrs.frozen(cls, eq=False, repr=False, **options))

    def _with_values(cls):
        """Give a class comparison, hash and representation by its fields."""
        fields = attrs.fields(cls)
        compared = _getter([field.name for field in fields if field.eq])
        shown = [field.name for field in fields if field.repr]

        def __eq__(self, other):
            if other.__class__ is not self.__class__:
                return NotImplemented
            return compared(self) == compared(other)

        def __hash__(self):
            return hash((cls, compared(self)))

        def __repr__(self):
            values = ", ".join(f"{name}={getattr(self, name)!r}" for name in shown)
            return f"{cls.__qualname__}({values})"

        cls.__eq__, cls.__hash__, cls.__repr__ = __eq__, __hash__, __repr__
        return cls

    def _getter(names):
        """Return a function that gets the values of some fields as a tuple."""
        if len(names) > 1:
            return attrgetter(*names)
        if not names:
            return lambda _: ()
        only = attrgetter(names[0])
        return lambda value: (only(value),)
