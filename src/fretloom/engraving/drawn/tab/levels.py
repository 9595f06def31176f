"""How high everything stands in the bars of a line: the rows over the strings, and what lies below."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

from fretloom.engraving.drawn.tab.values import COUNTS, FOOT, RISE, STRING_GAP
from fretloom.values import frozen

#: Heights of rows: words over the bar, chord names, words sung (the first, further ones), words at a time.
_OVER, _CHORDS, _SUNG, _FURTHER, _SIGNS = 3.9, 5.6, 4.8, 4.2, 3.6
#: A tuplet's number, the wedges of accents, one more bar at a stem's tip, words of slaps.
_TUPLET, _WEDGES, _FLAG, _SLAPS = 2.9, 1.9, 1.2, 3.6
#: A row of words under the counts.
_UNDER = 3.3
#: From the top string to what stands over it: with the stems and letters of fingers, with stems alone,
#: with bends or slurs at most, with nothing.
_FINGERS, _STEMS, _BENDS, _BARE = 6.7, 4.0, 5.8, 1.6
#: Room for a bar's number over the letters of the strings.
_NUMBER = 5.0


@frozen(kw_only=True)
class Levels:
    """The rows that the bars of a line need; places are in millimetres from the top of the drawing.

    Args:
        strings: how many. over: lines of words over the bars. chords: whether there are names.
        sung: rows of words. signs: words at a time. tuplets: rows of them. wedges: accents of fingers.
        stems, letters: of fingers. flags: the most bars at a stem's tip. bends: whether a string is bent.
        slaps: whether the picking hand slaps. under: rows of words under the counts.
    """

    strings: int
    over: int = 0
    chords: bool = False
    sung: int = 0
    signs: bool = False
    tuplets: int = 0
    wedges: bool = False
    stems: bool = False
    letters: bool = False
    flags: int = 0
    bends: bool = False
    slaps: bool = False
    under: int = 0

    @property
    def rise(self) -> float:
        """How far the stems of fingers reach above the top string."""
        return RISE + _FLAG * max(self.flags - 2, 0)

    @cached_property
    def _stack(self) -> tuple[float, ...]:
        """Where the rows end: words over, chords, words sung, words at a time, tuplets, wedges; then the top string."""
        rows = (
            _OVER * self.over + (0.6 if self.over else 0.0),
            _CHORDS if self.chords else 0.0,
            _SUNG + _FURTHER * (self.sung - 1) if self.sung else 0.0,
            _SIGNS if self.signs else 0.0,
            _TUPLET * self.tuplets,
            _WEDGES if self.wedges else 0.0,
        )
        ends, at = list[float](), max(_NUMBER - sum(rows) - self._near, 0.3)
        for height in rows:
            at += height
            ends.append(at)
        return (*ends, at + self._near)

    @property
    def _near(self) -> float:
        near = (_FINGERS if self.letters else _STEMS) + self.rise - RISE if self.stems else _BARE
        return max(near, _BENDS if self.bends else 0.0)

    @property
    def top(self) -> float:
        """The top string."""
        return self._stack[-1]

    def string(self, string: int) -> float:
        """Return where a string lies, 1 on top."""
        return self.top + STRING_GAP * (string - 1)

    @property
    def bottom(self) -> float:
        """The lowest string."""
        return self.string(self.strings)

    @property
    def foot(self) -> float:
        """Where the thumb's stems stand."""
        return self.bottom + FOOT

    @property
    def counts(self) -> float:
        """The baseline of the counts."""
        return self.bottom + COUNTS

    @property
    def slapped(self) -> float:
        """The baseline of the words of slaps."""
        return self.counts + 3.8

    def under_row(self, row: int) -> float:
        """Return the baseline of a row of words under the counts and the words of slaps."""
        return self.counts + (_SLAPS if self.slaps else 0.0) + 0.5 + _UNDER * (row + 1)

    @property
    def height(self) -> float:
        """The whole height."""
        return self.counts + 1.6 + (_SLAPS if self.slaps else 0.0) + _UNDER * self.under

    def words_over(self, line: int) -> float:
        """Return the baseline of a line of words over the bar; the last stands right over the chords."""
        return self._stack[0] - _OVER * (self.over - 1 - line) - 1.2

    @property
    def names(self) -> float:
        """The baseline of the chord names."""
        return self._stack[1] - 1.6

    def sung_row(self, row: int) -> float:
        """Return the baseline of a row of words sung."""
        return self._stack[1] + 3.3 + _FURTHER * row

    @property
    def words_at(self) -> float:
        """The baseline of words at a time."""
        return self._stack[3] - 1.0

    def tuplet(self, row: int) -> float:
        """Return the baseline of a tuplet's number; the longest stand on top."""
        return self._stack[4] - _TUPLET * (self.tuplets - 1 - row) - 0.6

    @property
    def wedge(self) -> float:
        """The middle of the wedges over the fingers."""
        return self.fingers - 3.2

    @property
    def tip(self) -> float:
        """Where the stems of fingers end."""
        return self.top - self.rise

    @property
    def fingers(self) -> float:
        """The baseline of the fingers' letters."""
        return self.tip - 0.8


def deepest(found: Iterable[Levels]) -> Levels:
    """Return the levels that all bars of a line need together."""
    every = list(found)
    first = every[0]
    return Levels(
        strings=first.strings,
        over=max(one.over for one in every),
        chords=any(one.chords for one in every),
        sung=max(one.sung for one in every),
        signs=any(one.signs for one in every),
        tuplets=max(one.tuplets for one in every),
        wedges=any(one.wedges for one in every),
        stems=any(one.stems for one in every),
        letters=any(one.letters for one in every),
        flags=max(one.flags for one in every),
        bends=any(one.bends for one in every),
        slaps=any(one.slaps for one in every),
        under=max(one.under for one in every),
    )
