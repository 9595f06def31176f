"""When dead objects are looked for: not while many live ones are made."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def no_collection() -> Iterator[None]:
    """Put off the search for dead objects: while a lesson is read, expanded or checked there are hardly any.

    A long lesson has a hundred thousand objects, and searching them again and again takes half the
    time of reading it.
    """
    collects = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collects:
            gc.enable()
