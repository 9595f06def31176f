"""When dead objects are looked for: not while many live ones are made."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock

#: Held by whoever has put the search off, which counts for the whole process.
_put_off = Lock()


@contextmanager
def no_collection() -> Iterator[None]:
    """Put off the search for dead objects: while a lesson is read, expanded or checked there are hardly any.

    A long lesson has a hundred thousand objects, and searching them again and again takes half the
    time of reading it.

    One holder at a time puts it off and brings it back. Whoever comes meanwhile, from further in or
    in another thread, changes nothing: so it is always brought back, and threads that overlap
    without end cannot keep it off, since each holder brings it back while others still work.
    """
    if not _put_off.acquire(blocking=False):
        yield
        return
    collects = gc.isenabled()
    try:
        gc.disable()
        yield
    finally:
        if collects:
            gc.enable()
        _put_off.release()
