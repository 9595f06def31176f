"""The quality of a chord: which degrees it has, which of them must sound, and its one plain name."""

from __future__ import annotations

from functools import cached_property

from fretloom.trade.harmony.degrees import ROOT, Degree
from fretloom.values import frozen

_FIFTH = Degree(5)


@frozen
class Quality:
    """The degrees of a chord in order, root first unless it is left out on purpose.

    `altered` is "alt" or "7alt" for the dominant chord so written, else empty: its degrees are all
    that it may hold, at least one of the altered ones must sound, and with "alt" alone the seventh
    may sound or not.
    """

    degrees: tuple[Degree, ...]
    altered: str = ""

    def alters(self, number: int) -> tuple[int, ...]:
        """Return the alterations with which a degree's number occurs; empty if it does not."""
        return tuple(one.alter for one in self.degrees if one.number == number)

    @cached_property
    def extension(self) -> int:
        """Highest number that the stack of thirds carries: 7, 9, 11 or 13, and 0 without seventh."""
        has = {one.number for one in self.degrees}
        if 7 not in has:
            return 0
        if Degree(13) in self.degrees and 9 in has and has & {4, 11}:
            return 13
        if Degree(11) in self.degrees and 9 in has:
            return 11
        return 9 if Degree(9) in self.degrees else 7

    @cached_property
    def essential(self) -> tuple[Degree, ...]:
        """The degrees without which the name is wrong.

        Third or its suspension, sixth or seventh, an altered fifth, what was added or altered, the
        extension that gives the name; the root unless there is a seventh or a sixth and ninth. A
        perfect fifth may be left out, except from a chord that has nothing else (common practice).
        """
        return tuple(one for one in self.degrees if self._is_essential(one))

    @cached_property
    def optional(self) -> tuple[Degree, ...]:
        """The degrees that may be left out, in order."""
        return tuple(one for one in self.degrees if one not in self.essential)

    def _is_essential(self, degree: Degree) -> bool:
        if degree == ROOT:
            return not self.extension and not {Degree(6), Degree(9)} <= set(self.degrees)
        if self.altered:
            return degree == Degree(3) or (degree.number == 7 and self.altered == "7alt")
        if degree == _FIFTH:
            return len(self.degrees) <= 2
        # the third of an eleventh chord clashes with the eleventh and is usually left out
        if degree == Degree(3) and self.extension == 11:
            return False
        return bool(degree.alter) or degree.number not in range(9, self._top)

    @property
    def _top(self) -> int:
        """Number of the highest tone of an extended chord, below which natural ones may be left out."""
        return max(one.number for one in self.degrees) if self.extension > 7 else 0

    @cached_property
    def suffix(self) -> str:
        """The canonical text after the root: `m7b5`, `7sus4`, `6/9`, `m(maj7)`."""
        if self.altered:
            return self.altered
        return _Suffix(self).text()


class _Suffix:
    """Puts the canonical text of a quality together, part by part."""

    def __init__(self, quality: Quality) -> None:
        self.degrees = set(quality.degrees)
        self.number = quality.extension
        self.fifths = quality.alters(5)
        self.seventh = next(iter(quality.alters(7)), None)
        self.minor = Degree(3, -1) in self.degrees
        self.sus = "".join(f"sus{n}" for n in (2, 4) if Degree(n) in self.degrees)
        self.spoken = {ROOT, Degree(2), Degree(3, -1), Degree(3), Degree(4), Degree(6)}
        self.spoken |= {Degree(7, alter) for alter in quality.alters(7)}

    def text(self) -> str:
        core, implied = self.core()
        self.spoken |= implied
        extras = self.alterations(implied) + self.additions()
        if extras and extras[0][0] in "b#" and not core[-1:].isdigit():
            return f"{core}({''.join(extras)}){self.sus}{self.omissions()}"
        return core + self.sus + "".join(extras) + self.omissions()

    def core(self) -> tuple[str, set[Degree]]:
        """Return the name without its extras, and the degrees that it already says."""
        flat_five = self.minor and self.fifths == (-1,)
        if self.degrees <= {ROOT, _FIFTH} and _FIFTH in self.degrees:
            return "5", {_FIFTH}
        if self.seventh == -2:
            return ("dim7", {Degree(5, -1)}) if flat_five else ("m(bb7)", set())
        if flat_five and self.seventh != -1:
            tail = "" if self.seventh is None else f"(maj{self.number})"
            return f"dim{self.sixth()}{tail}", {Degree(5, -1), *self.stack()}
        if self.seventh is None:
            return self.triad()
        number = f"maj{self.number}" if self.seventh == 0 else str(self.number)
        if self.minor:
            number = f"m({number})" if self.seventh == 0 else f"m{number}"
        return number, self.stack()

    def triad(self) -> tuple[str, set[Degree]]:
        if self.fifths == (1,) and Degree(3) in self.degrees and Degree(6) not in self.degrees:
            return "aug", {Degree(5, 1)}
        return ("m" if self.minor else "") + self.sixth(), self.stack()

    def sixth(self) -> str:
        if Degree(6) not in self.degrees:
            return ""
        return "6/9" if Degree(9) in self.degrees else "6"

    def stack(self) -> set[Degree]:
        if self.seventh is None:
            return {Degree(9)} if self.sixth() == "6/9" else set()
        return {Degree(n) for n in (9, 11, 13) if n <= self.number}

    def alterations(self, implied: set[Degree]) -> list[str]:
        """Return b5, #9 and so on: every altered degree that the core does not say."""
        left = sorted(self.degrees - self.spoken - implied)
        return [str(one) for one in left if one.alter]

    def additions(self) -> list[str]:
        left = sorted(self.degrees - self.spoken - {_FIFTH})
        texts = [f"add{one}" for one in left if not one.alter]
        if self.sus and (Degree(3) in self.degrees or self.minor):
            texts.append("add3")
        return texts

    def omissions(self) -> str:
        gone = [] if ROOT in self.degrees else ["noroot"]
        third = {Degree(2), Degree(4), Degree(3), Degree(3, -1)}
        if not self.degrees & third and not self.degrees <= {ROOT, _FIFTH}:
            gone.append("no3")
        if self.degrees == {ROOT}:
            gone.append("no3")
        if not self.fifths:
            gone.append("no5")
        return "".join(f"({one})" for one in gone)
