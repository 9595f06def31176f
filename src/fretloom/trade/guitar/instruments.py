"""Ready instruments: the measures of a neck that decide how far fingers have to reach.

All lengths are millimetres. `nut` and `bridge` are measured from the outer string (or course) to
the outer string, centre to centre. Sources:

L: option sheets and guitar pages of luthiers: scale 630 to 660 offered for classical guitars,
   628.7 (24.75 in) to 647.7 (25.5 in) for steel strings; nut 38 to 44.5 and bridge 53 to 58
   (classical), nut width 43 to 44.5 less 3.2 of margins and saddle 54 to 58.7 (steel); frets clear
   of the body 14 on steel strings (standard since about 1930) and 12 on classical guitars.
M: from memory, the usual sizes of the trade; no single published source.
"""

from __future__ import annotations

import re

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.values import frozen

DEFAULT_INSTRUMENT = "steel string"


@frozen
class Instrument:
    """A kind of instrument.

    Args:
        name: as a lesson names it.
        scale: length of the open strings from nut to bridge.
        nut, bridge: distance of the outer strings there.
        strings: strings, or courses where they are doubled.
        frets: frets in all; free: frets clear of the body.
        source: "L" or "M", see above.
    """

    name: str
    scale: float
    nut: float
    bridge: float
    strings: int
    frets: int
    free: int
    source: str


INSTRUMENTS: tuple[Instrument, ...] = (
    Instrument("steel string", 647.7, 36.0, 54.0, 6, 20, 14, "L"),
    Instrument("short scale", 628.7, 36.0, 54.0, 6, 20, 14, "L"),
    Instrument("classical", 650.0, 43.0, 58.0, 6, 19, 12, "L"),
    Instrument("short classical", 630.0, 42.0, 57.0, 6, 19, 12, "L"),
    Instrument("travel guitar", 580.0, 36.0, 52.0, 6, 19, 14, "M"),
    Instrument("12-string", 647.7, 40.5, 56.0, 6, 20, 14, "M"),
    Instrument("7-string", 650.0, 44.0, 64.0, 7, 22, 14, "M"),
    Instrument("8-string", 650.0, 51.0, 75.0, 8, 22, 14, "M"),
    Instrument("electric", 647.7, 35.0, 52.0, 6, 22, 17, "M"),
    Instrument("baritone", 700.0, 37.0, 55.0, 6, 20, 14, "M"),
    Instrument("soprano ukulele", 346.0, 27.0, 41.0, 4, 12, 12, "M"),
    Instrument("concert ukulele", 381.0, 28.0, 42.0, 4, 18, 14, "M"),
    Instrument("tenor ukulele", 432.0, 29.0, 43.0, 4, 19, 14, "M"),
    Instrument("baritone ukulele", 485.0, 29.0, 43.0, 4, 19, 14, "M"),
    Instrument("mandolin", 352.0, 23.0, 42.0, 4, 20, 12, "M"),
    Instrument("octave mandolin", 560.0, 27.0, 45.0, 4, 20, 14, "M"),
    Instrument("tenor guitar", 584.0, 24.0, 36.0, 4, 19, 14, "M"),
)

#: Other names that the trade has for some of them.
OTHER_NAMES = {"guitar": "steel string", "nylon string": "classical", "ukulele": "soprano ukulele"}
#: What people say besides, without the word guitar; common practice, no source.
_SPOKEN = {
    "steel string": ("steel", "acoustic", "western", "folk", "dreadnought", "6 string"),
    "short scale": ("parlour", "parlor"),
    "classical": ("nylon", "spanish", "flamenco", "classic", "concert"),
    "travel guitar": ("travel",),
    "electric": ("electro", "e"),
    "soprano ukulele": ("uke", "soprano uke", "soprano"),
    "concert ukulele": ("concert uke",),
    "tenor ukulele": ("tenor uke",),
    "baritone ukulele": ("baritone uke",),
}
_NUMBERS = {"six": "6", "seven": "7", "eight": "8", "twelve": "12", "strings": "string"}


def plain_name(name: str) -> str:
    """Return what a name comes down to, however it is written: `Twelve-String` is `12 string`."""
    apart = re.sub(r"(?<=[a-z0-9])(?=strings?\b)", " ", name.lower())
    words = re.sub(r"[-\s_]+", " ", apart).split()
    if len(words) > 1 and words[-1] in ("guitar", "tuning"):
        words.pop()
    return " ".join(_NUMBERS.get(word, word) for word in words)


_BY_NAME = {one.name: one for one in INSTRUMENTS}
_BY_NAME |= {other: _BY_NAME[name] for other, name in OTHER_NAMES.items()}
_BY_PLAIN_NAME = {plain_name(name): one for name, one in _BY_NAME.items()}
_BY_PLAIN_NAME |= {said: _BY_NAME[name] for name, spoken in _SPOKEN.items() for said in spoken}


def find_instrument(name: str) -> Instrument | None:
    """Return the instrument a lesson names, as people say it too; None if it is not known."""
    return _BY_PLAIN_NAME.get(plain_name(name))


def usual_instrument(tuning: Tuning) -> Instrument:
    """Return the instrument a tuning is usually found on, for lessons that name none.

    Common practice, no source: four high strings are a ukulele, seven or eight strings a guitar
    with more bass strings, six strings from C2 down a baritone, anything else a steel string.
    """
    lowest = min(pitch.midi for pitch in tuning.pitches)
    if tuning.strings == 4 and lowest >= 50:
        return _BY_NAME["concert ukulele" if lowest > 52 else "baritone ukulele"]
    if tuning.strings in (7, 8):
        return _BY_NAME[f"{tuning.strings}-string"]
    if tuning.strings == 6 and lowest < 36:
        return _BY_NAME["baritone"]
    return _BY_NAME["12-string"] if tuning.doubles else INSTRUMENTS[0]


def instrument_for(name: str, tuning: Tuning) -> Instrument:
    """Return the instrument of a lesson by what its heading comes to: the default name leaves it to the tuning."""
    named = None if name == DEFAULT_INSTRUMENT else find_instrument(name)
    return named or usual_instrument(tuning)


def family(instrument: Instrument) -> str:
    """Return what people call an instrument of its kind who learn it: "guitar", "ukulele", "mandolin"."""
    return next((one for one in ("ukulele", "mandolin") if one in instrument.name), "guitar")


def neck_of(
    instrument: Instrument, *, strings: int, scale: float | None = None, capo: Capo | None = None
) -> Neck:
    """Return the neck of an instrument, with another scale length or string count where given.

    More or fewer strings than the instrument usually has keep their distance from one another.
    """
    spread = (strings - 1) / (instrument.strings - 1)
    return Neck(
        scale=scale or instrument.scale,
        nut=instrument.nut * spread,
        bridge=instrument.bridge * spread,
        strings=strings,
        frets=instrument.frets,
        free=instrument.free,
        capo=capo or Capo(),
    )
