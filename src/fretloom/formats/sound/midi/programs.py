"""Which sound of General MIDI plays an instrument, and which key of its percussion is which knock.

Source: MIDI Manufacturers Association, "General MIDI System Level 1": its sound set and its percussion key map.
"""

from __future__ import annotations

from fretloom.trade.guitar.instruments import Instrument

#: Acoustic guitar with nylon and with steel strings, electric guitar (clean), electric guitar (muted).
NYLON, STEEL, ELECTRIC, MUTED = 25, 26, 28, 29
#: Percussion is always on channel 10, here counted from 0.
PERCUSSION = 9
#: A slap on the strings: side stick. On the body: low conga.
ON_STRINGS, ON_BODY = 37, 64
#: A click: high and low wood block.
FIRST, OTHER = 76, 77

#: Nearest to them in the sound set; all others have steel strings, as mandolins and twelve strings do.
_NYLON = ("classical", "short classical")
_ELECTRIC = ("electric",)


def program_of(instrument: Instrument) -> int:
    """Return the program that plays an instrument, from 1."""
    name = instrument.name
    if name in _NYLON or name.endswith("ukulele"):
        return NYLON
    return ELECTRIC if name in _ELECTRIC else STEEL
