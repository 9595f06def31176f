"""Options of captions."""

from __future__ import annotations

from fractions import Fraction

from fretloom.formats.options import decimal
from fretloom.formats.sound.choice import SoundOptions
from fretloom.values import frozen

#: A day, in seconds: as far as captions can be moved.
DAY = 86_400


@frozen(kw_only=True)
class CaptionOptions(SoundOptions):
    """What the captions go with: what is played, as for every sound, and where it begins.

    Args:
        offset: how many seconds after its beginning the music starts; below 0 where its beginning is cut off.
    """

    offset: Fraction = decimal(
        0, "seconds from the beginning of a recording to its music", least=-DAY, most=DAY
    )
