"""What has been read of a suffix so far, the degrees that it comes to, and what can be wrong with it."""

from __future__ import annotations

from fretloom.errors import SymbolError
from fretloom.trade.harmony.degrees import ROOT, Degree
from fretloom.trade.harmony.suffix.tokens import ALT, PLAIN


class SuffixContent:
    """What the tokens of one suffix have said so far.

    Args:
        text: the whole symbol. start: where its suffix begins.
        minor: whether the root alone already means a minor chord.

    `at` is where reading stands, `bass_at` where a slash bass begins, if there is one; `before` is
    the kind of token before, `depth` how many brackets are open, `major` a "maj" that waits for its
    number. `third`, `fifth` and `seventh` are in half steps beside the major or perfect one, None
    for a tone that is not there; `number` is the highest of a stack of thirds, or 6.
    """

    def __init__(self, text: str, start: int, minor: bool) -> None:
        self.text = text.translate(PLAIN)
        self.start = self.at = start
        self.root = text[:start]
        self.third: int | None = -1 if minor else 0
        self.fifth: int | None = 0
        self.seventh: int | None = None
        self.number = 0
        self.sixth = False
        self.sus: set[int] = set()
        self.altered: dict[int, set[int]] = {}
        self.added: set[Degree] = set()
        self.gone: set[int] = set()
        self.alt = ""
        self.depth = 0
        self.major = ""
        self.before = ""
        self.quality = "minor" if minor else ""
        self.bass_at: int | None = None

    def error(self, why: str, hint: str = "", at: int | None = None) -> SymbolError:
        """Return the error about the text at a place (by default where reading stands)."""
        place = self.at if at is None else at
        rest = self.text[place : place + 16].strip()
        return SymbolError(f"{rest!r} {why}", place, hint)

    def advice(self) -> str:
        """Return the hint for a token without any meaning."""
        if self.at == self.start and self.text[self.at : self.at + 2] in ("is", "es", "s"):
            return 'say "names german" in the heading if this is a German note name'
        return "after the root write m, 7, maj7, sus4, add9, dim, b5 and the like"

    def ambiguous(self, hint: str) -> SymbolError:
        """Return the error about a symbol that players read in two ways."""
        return SymbolError(f"{self.text[:24]!r} can be read in two ways", self.at, hint)

    @property
    def first(self) -> bool:
        """Whether nothing but gaps and brackets has been read yet."""
        return not self.before

    def stack(self, value: int, seventh: int) -> None:
        """Take a stack of thirds up to 7, 9, 11 or 13, with its seventh."""
        self.number, self.seventh = value, seventh

    def degrees(self) -> tuple[Degree, ...]:
        """Return the degrees of the chord in order; empty if all are left out."""
        if self.alt:
            return ALT
        found = self.core() | self.added
        for number, alters in self.altered.items():
            found -= {Degree(number)} - self.added
            found |= {Degree(number, alter) for alter in alters}
        if self.seventh is not None and Degree(6) in found:
            found = found - {Degree(6)} | {Degree(13)}
        if 4 in self.sus:
            found.discard(Degree(11))
        return tuple(sorted(one for one in found if one.number not in self.gone))

    def core(self) -> set[Degree]:
        """Return the degrees without what is added, altered or left out."""
        found = {ROOT} | {Degree(number) for number in self.sus}
        if self.third is not None and not self.sus:
            found.add(Degree(3, self.third))
        if self.fifth is not None:
            found.add(Degree(5, self.fifth))
        if self.sixth:
            found.add(Degree(6))
        if self.seventh is not None:
            found.add(Degree(7, self.seventh))
        return found | {Degree(number) for number in (9, 11, 13) if number <= self.number}
