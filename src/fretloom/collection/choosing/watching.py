"""Does something again whenever one of the files it is about has changed, until somebody stops it."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable
from pathlib import Path

#: Seconds between two looks.
INTERVAL = 0.5

Stamps = dict[str, tuple[int, ...]]


def stamps(names: Iterable[str]) -> Stamps:
    """Return what shows that a file has changed: its size, time and place; nothing for one that is not there."""
    found: Stamps = {}
    for name in names:
        try:
            status = Path(name).stat()
        except (OSError, ValueError):
            found[name] = ()
        else:
            found[name] = (status.st_mtime_ns, status.st_size, status.st_dev, status.st_ino)
    return found


def watch(
    once: Callable[[], object],
    look: Callable[[], Stamps],
    pause: Callable[[], object] = lambda: time.sleep(INTERVAL),
) -> None:
    """Do something, and again whenever `look` sees that something has changed, until the keyboard interrupts it.

    Args:
        once: what is done; it may find out what else is to be looked at.
        look: returns the state of all that it depends on.
        pause: waits until the next look.
    """
    try:
        while True:
            before = look()
            once()
            # What was looked at before counts as it was then, so that changes meanwhile are seen.
            seen = before | {name: one for name, one in look().items() if name not in before}
            while look() == seen:
                pause()
    except KeyboardInterrupt:
        return
