"""Names that hold every tone that sounds, and yet nobody hears them: a plain C called Am7.

The thumb is the bass player here. A chord without its root, or without its fifth and with another
tone lowest, is heard as the plain chord that its other tones make; a chord over a bass of its own
is only heard if all of it is there. The rule is our own judgement of common practice.
"""

from __future__ import annotations

from fretloom.trade.harmony.degrees import ROOT, Degree
from fretloom.trade.harmony.quality import Quality
from fretloom.trade.harmony.symbol import ChordSymbol
from fretloom.trade.music.pitch import NoteName
from fretloom.values import frozen

_FIFTH = Degree(5)
_THIRDS = (Degree(3), Degree(3, -1))
#: The plain chords by their half steps above the root; a diminished one is heard as such on its root only.
_MAJOR, _MINOR, _DIMINISHED = 0b10010001, 0b10001001, 0b1001001
_PLAIN = (("", _MAJOR), ("m", _MINOR))
#: Sevenths above a plain chord that make a chord of its own, such as the Cmaj7 inside an Am9.
_SEVENTHS = (("7", _MAJOR, 10), ("maj7", _MAJOR, 11), ("m7", _MINOR, 10))


@frozen
class Mistaken:
    """Why a name whose tones all fit is still not what is heard.

    Args:
        lacks: the root or the fifth of the name that does not sound; None if its bass is at fault.
        heard: the chord that is heard in its place, as root (0 is C) and suffix; None if there is none.
        doubtful: whether a teacher might let it pass.
    """

    lacks: NoteName | None
    heard: tuple[int, str] | None
    doubtful: bool = False


def mistaken(symbol: ChordSymbol, sounding: frozenset[int], lowest: int) -> Mistaken | None:
    """Return why nobody hears a symbol in pitch classes that fit it; None if it is heard.

    `lowest` is the pitch class of the lowest note.
    """
    if symbol.quality is None or ROOT not in symbol.degrees:
        return None
    return _Hearing(symbol, symbol.quality, sounding, lowest).verdict()


class _Hearing:
    """A chord symbol beside what sounds."""

    def __init__(
        self, symbol: ChordSymbol, quality: Quality, sounding: frozenset[int], lowest: int
    ) -> None:
        self.symbol, self.quality = symbol, quality
        self.root, self.lowest = symbol.root.pitch_class, lowest
        self.bits = sum(1 << tone for tone in sounding)
        self.degrees = {one for one in symbol.degrees if one.above(symbol.root).pitch_class in sounding}
        self.others = [one for one in self._plain_chords() if one[0] != self.root]

    def verdict(self) -> Mistaken | None:
        if ROOT not in self.degrees:
            return self._without_root()
        third = any(one.number == 3 for one in self.degrees)
        if self.symbol.bass is not None and not third and self._whole(self.root):
            return Mistaken(None, self._whole(self.root))
        whole = self._exactly()
        if self.lowest == self.root and (third or whole is None):
            return None
        if _FIFTH in self.quality.degrees and _FIFTH not in self.degrees:
            return self._without_fifth(whole)
        return Mistaken(None, whole) if whole else None

    def _without_root(self) -> Mistaken | None:
        heard = self._exactly() or self._seventh_chord()
        if heard:
            return Mistaken(self.symbol.root, heard)
        if self._is_diminished():
            return Mistaken(self.symbol.root, (self.lowest, "dim"), doubtful=True)
        return self._bare_slash()

    def _without_fifth(self, whole: tuple[int, str] | None) -> Mistaken | None:
        fifth = _FIFTH.above(self.symbol.root)
        heard = whole or next((one for one in self.others if one[0] == self.lowest), None)
        if heard:
            return Mistaken(fifth, heard)
        if self._is_diminished():
            return Mistaken(fifth, (self.lowest, "dim"), doubtful=True)
        return self._bare_slash()

    def _bare_slash(self) -> Mistaken | None:
        """Whether a chord lacks its fifth over a bass from outside it."""
        bass = self.symbol.bass
        if bass is None or self.symbol.degree_of(bass.pitch_class) is not None:
            return None
        if _FIFTH not in self.quality.degrees or _FIFTH in self.degrees:
            return None
        heard = next(iter(self.others), None)
        return Mistaken(_FIFTH.above(self.symbol.root), heard, doubtful=heard is None)

    def _plain_chords(self) -> list[tuple[int, str]]:
        return [whole for root in range(12) if (whole := self._whole(root))]

    def _whole(self, root: int) -> tuple[int, str] | None:
        """Return the plain chord on a root if all of it sounds."""
        above = self._above(root)
        return next(((root, suffix) for suffix, bits in _PLAIN if above & bits == bits), None)

    def _exactly(self) -> tuple[int, str] | None:
        """Return the plain chord of another name that is all that sounds."""
        return self.others[0] if self.bits.bit_count() == 3 and self.others else None

    def _seventh_chord(self) -> tuple[int, str] | None:
        """Return the seventh chord on the lowest note that is all that sounds."""
        above = self._above(self.lowest)
        fitting = (suffix for suffix, bits, seventh in _SEVENTHS if above == bits | 1 << seventh)
        suffix = next(fitting, None)
        return None if suffix is None else (self.lowest, suffix)

    def _is_diminished(self) -> bool:
        return self.lowest != self.root and self._above(self.lowest) == _DIMINISHED

    def _above(self, root: int) -> int:
        """Return what sounds as bits counted from a root."""
        return (self.bits >> root | self.bits << (12 - root)) & 0xFFF
