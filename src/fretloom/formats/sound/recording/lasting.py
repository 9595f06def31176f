"""How long a recording may be, counted before anything is made."""

from __future__ import annotations

from fretloom.errors import FretloomError
from fretloom.limits import LIMITS
from fretloom.performance.playback.sounds import Playback
from fretloom.text import counted


def refuse_too_long(playback: Playback, what: str = "") -> None:
    """Make sure that a recording has an end in sight; `what` is which one.

    Raises:
        FretloomError: it would last too long; the message says what to do.
    """
    most, minutes = LIMITS.minutes_of_sound, -(-playback.seconds // 60)
    if minutes > most:
        raise FretloomError(
            f"a recording lasts {counted(most, 'minute')} at most, and {what or 'this one'} would last {minutes:,}: "
            "choose fewer bars, or a faster tempo"
        )
