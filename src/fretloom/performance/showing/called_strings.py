"""How strings are called by those who read or hear a page: by number, "string 5", or by name, "the A string"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from fretloom.text import listed
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

#: Strings in a row that are named by their ends: strings 5 to 2.
_RUN = 3


@frozen(kw_only=True)
class CalledStrings:
    """Names of strings, and of frets on them.

    Args:
        capo: where it leaves strings out; else none, as it changes nothing of what is said.
        string_names: of each string, from the highest number to string 1; "" for one that goes by its number,
            as all do where there are none.
    """

    string_names: tuple[str, ...] = ()
    capo: Capo = Capo()

    def string(self, string: int) -> str:
        """Name a string: "string 5", "the A string"."""
        name = self._name(string)
        return say("hands.string-named", name=name) if name else say("hands.string", number=string)

    def strings(self, strings: Sequence[int]) -> str:
        """Name strings: "strings 5 and 4", "strings 5 to 2", "the A and D strings"."""
        if len(strings) == 1:
            return self.string(strings[0])
        by_number = not all(self._name(one) for one in strings)
        if by_number and len(strings) >= _RUN and _is_run(strings):
            return say("hands.strings-run", first=strings[0], last=strings[-1])
        return self.one_by_one(strings)

    def one_by_one(self, strings: Sequence[int]) -> str:
        """Name strings one by one: "strings 5, 4 and 3", "the A, D and G strings"."""
        names = [self._name(one) for one in strings]
        if len(strings) == 1:
            return self.string(strings[0])
        if all(names):
            return say("hands.strings-named", names=_joined(names))
        return say("hands.strings", numbers=_joined(strings))

    def span(self, first: int, last: int) -> str:
        """Name the strings from one to another, of which a barre lies over all."""
        step = -1 if last < first else 1
        strings = range(first, last + step, step)
        if len(strings) >= _RUN and self._name(first) and self._name(last):
            return say("hands.strings-span", first=self._name(first), last=self._name(last))
        return self.strings(strings)

    def place(self, string: int, fret: int) -> str:
        """Name a place of the fretboard, its fret as the lesson counts it: "string 3, fret 2"."""
        if not fret:
            return say("hands.place-open", string=self.string(string))
        return say("hands.place", string=self.string(string), fret=fret)

    def fret_of(self, voicing: Voicing, strings: Sequence[int]) -> str:
        """Say at which fret a finger lies: "4", or "4 of string 6" where it has another number on other strings."""
        frets = [voicing.fret(one) for one in strings]
        if len(set(frets)) == 1:
            return str(frets[0])
        return say("hands.fret-of", fret=frets[0], string=self.string(strings[0]))

    def counted(self, voicings: Sequence[Voicing]) -> str:
        """Say on which strings frets count from the capo, "" where none of these voicings has a finger on one."""
        stopped = any(
            voicing.fret(string) for voicing in voicings for string in self.capo.strings
            if self.capo.fret and string <= len(voicing.frets)
        )  # fmt: skip
        strings = self.one_by_one(sorted(self.capo.strings, reverse=True)) if stopped else ""
        return say("spoken.capo", strings=strings) if stopped else ""

    def _name(self, string: int) -> str:
        if not self.string_names:
            return ""
        return self.string_names[len(self.string_names) - string]


def _joined(words: Sequence[object]) -> str:
    return listed(words, say("hands.and"))


def _is_run(strings: Sequence[int]) -> bool:
    step = strings[1] - strings[0]
    return abs(step) == 1 and all(after - before == step for before, after in pairwise(strings))
