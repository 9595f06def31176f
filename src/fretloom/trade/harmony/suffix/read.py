"""Reads what stands after the root of a chord symbol: `m7b5`, `maj9#11`, `7sus4(b9)`, `6/9`."""

from __future__ import annotations

import re

from fretloom.errors import SymbolError
from fretloom.trade.harmony.degrees import Degree
from fretloom.trade.harmony.quality import Quality
from fretloom.trade.harmony.suffix.content import SuffixContent
from fretloom.trade.harmony.suffix.tokens import (
    ALTERABLE,
    ALTERS,
    BARE,
    OTHER_NAMES,
    TOKEN,
    TRIANGLES,
    kind_of,
)


class _SuffixReader(SuffixContent):
    """Reads the tokens of one suffix."""

    def read(self) -> None:
        while self.at < len(self.text) and self.bass_at is None:
            match = TOKEN.match(self.text, self.at)
            if match is None or match.lastgroup is None:
                raise self.error("has no meaning here", self.advice())
            kind = kind_of(match)
            getattr(self, f"on_{kind}")(match)
            self.at = max(self.at, match.end())
            if kind not in ("gap", "open", "close"):
                self.before = kind
        if self.depth:
            raise SymbolError("a bracket is opened but not closed", len(self.text), "add )")
        self.finish_major()

    # -- brackets and gaps

    def on_gap(self, match: re.Match[str]) -> None:
        pass

    def on_open(self, _: re.Match[str]) -> None:
        self.depth += 1

    def on_close(self, _: re.Match[str]) -> None:
        self.finish_major()
        self.depth -= 1
        if self.depth < 0:
            raise self.error("does not close a bracket", "remove it")

    # -- words for the quality

    def set_quality(self, word: str, third: int, fifth: int) -> None:
        if not self.first:
            raise self.error("comes too late", f"write it right after {self.root}")
        self.quality, self.third, self.fifth = word, third, fifth

    def on_minor(self, _: re.Match[str]) -> None:
        self.set_quality("minor", -1, 0)

    def on_dim(self, _: re.Match[str]) -> None:
        self.set_quality("dim", -1, -1)

    def on_half(self, _: re.Match[str]) -> None:
        self.set_quality("half", -1, -1)
        self.seventh = -1

    def on_aug(self, _: re.Match[str]) -> None:
        if not self.first:
            self.alter(5, 1)
            return
        self.set_quality("aug", 0, 1)

    def on_dom(self, match: re.Match[str]) -> None:
        self.set_quality("dominant", 0, 0)
        if self.text[match.end() :].lstrip()[:1] not in tuple("79") and not re.match(
            r"\s*1[13]", self.text[match.end() :]
        ):
            raise self.error("needs its number", f"write {self.root}7")

    def on_major(self, match: re.Match[str]) -> None:
        self.finish_major()
        late = self.number == 7 and self.seventh == -1 and self.before == "number"
        if late:
            self.seventh, self.before = 0, "number"
            return
        if self.first and match[0] not in TRIANGLES:
            self.quality = "major"
        self.major = match[0]

    def finish_major(self) -> None:
        """Settle a "maj" without a number: a plain major chord, or a triangle's seventh."""
        if not self.major:
            return
        if self.major in TRIANGLES:
            self.stack(7, 0)
        elif self.quality != "major" or self.before != "major":
            raise self.error("is not complete", "write maj7", self.at - len(self.major))
        self.major = ""

    # -- numbers

    def on_sixnine(self, match: re.Match[str]) -> None:
        self.sixth_chord(match)
        self.added.add(Degree(9))

    def on_number(self, match: re.Match[str]) -> None:
        value = int(match[0])
        if self.major:
            self.major_number(value)
        elif self.depth and (self.trailing_sign(match) or self.bare_addition(value)):
            return
        elif value in (2, 4) and self.before == "sus":
            self.sus.add(value)
        elif value == 6:
            self.sixth_chord(match)
        elif value == 5:
            self.power(match)
        elif self.before in ("alter", "add") and value in (6, 9, 11, 13):
            self.add(value, 0)
        elif value in (7, 9, 11, 13) and not self.number and not self.sixth and not self.sus:
            self.stack(value, -2 if self.quality == "dim" else -1)
        else:
            raise self.bad_number(match[0])

    def major_number(self, value: int) -> None:
        word, self.major = self.major, ""
        if value in (7, 9, 11, 13) and not self.number and self.quality != "half":
            self.stack(value, 0)
        elif value == 6 and self.quality == "major":
            self.sixth = True
        else:
            raise self.error(f"has no meaning after {word!r}", "write maj7, maj9, maj11 or maj13")

    def sixth_chord(self, match: re.Match[str]) -> None:
        if self.number == 7 and self.before == "number" and self.depth:
            self.add(13, 0)
            return
        if self.number or self.sixth or self.quality in ("dim", "half", "aug") or self.sus:
            raise self.bad_number(match[0])
        self.sixth = True
        self.number = 6

    def power(self, match: re.Match[str]) -> None:
        if not self.first:
            raise self.bad_number(match[0])
        self.third, self.quality = None, "power"

    def trailing_sign(self, match: re.Match[str]) -> bool:
        """Read the old way to alter in brackets, sign last: `(5-)`, `(9+)`."""
        sign = self.text[match.end() : match.end() + 1]
        if sign not in ("+", "-") or self.text[match.end() + 1 :][:1].isdigit():
            return False
        self.alter(int(match[0]), ALTERS[sign])
        self.at = match.end() + 1
        self.before = "alter"
        return True

    def bare_addition(self, value: int) -> bool:
        if value in (9, 11, 13) or (value in (6, 9, 11, 13) and self.number >= 7):
            self.add(value, 0)
            return True
        return False

    def bad_number(self, number: str) -> SymbolError:
        if number in BARE and not self.number and not self.sixth:
            hint = BARE[number].replace("C", self.text[: self.at])
            return (
                self.ambiguous(hint) if number in ("2", "4") else self.error("is not a chord", hint)
            )
        hint = "put what is added in words or brackets: add9, (b9), (13)"
        return self.error("is a number that has no meaning here", hint)

    # -- added, altered, left out

    def on_add(self, match: re.Match[str]) -> None:
        self.finish_major()
        self.add(int(match["added"]), ALTERS.get(match["addsign"] or "", 0))

    def add(self, number: int, alter: int) -> None:
        number, alter = OTHER_NAMES.get((number, alter), (number, alter))
        number = {2: 9, 4: 11}.get(number, number)
        if number == 3 and not alter and self.sus:
            self.added.add(Degree(3))
            return
        if number == 7:
            hint = f"write {self.root}7 (flat seventh) or {self.root}maj7"
            raise self.ambiguous(hint)
        if alter:
            self.alter(number, alter)
        elif number in (6, 9, 11, 13):
            self.added.add(Degree(number))
        else:
            raise self.error("adds nothing new", "add 6, 9, 11 or 13")

    def on_sign(self, match: re.Match[str]) -> None:
        self.finish_major()
        number = re.compile(r"\s*([0-9]{1,2})").match(self.text, match.end())
        if self.first and not self.depth and match[0] in "+-":
            self.leading_sign(match[0], number[1] if number else "")
            return
        if number is None:
            if match[0] != "+":
                raise self.error("needs a number", "write which tone: b5, b9, b13")
            self.alter(5, 1)
            return
        if self.quality == "minor" and not self.number and number[1] == "7":
            if match[0] == "+":
                raise self.ambiguous(f"write {self.root}m(maj7) or {self.root}m7#5")
            if match[0] == "#":
                self.stack(7, 0)
                self.at = number.end()
                return
        self.alter(int(number[1]), ALTERS[match[0]])
        self.at = number.end()

    def leading_sign(self, sign: str, number: str) -> None:
        """Read a sign right after the root: - is minor and + augmented."""
        if sign == "-":
            if number == "5":
                raise self.ambiguous(f"write {self.root}(b5), {self.root}m or {self.root}dim")
            self.set_quality("minor", -1, 0)
        elif number in ("", "5", "7", "9"):
            self.set_quality("aug", 0, 1)
            if number == "5":
                self.at = self.text.index("5", self.at) + 1
        else:
            hint = f"write {self.root}add{number}, or {self.root}7#{number} for the sharp one"
            raise self.ambiguous(hint)

    def alter(self, number: int, alter: int) -> None:
        number, alter = OTHER_NAMES.get((number, alter), (number, alter))
        if (number, alter) not in ALTERABLE:
            hint = "write one of b5, #5, b6, b9, #9, #11 and b13"
            raise self.error("is not an altered tone with a name of its own", hint)
        self.altered.setdefault(number, set()).add(alter)
        self.before = "alter"

    def on_omit(self, match: re.Match[str]) -> None:
        self.finish_major()
        number = 1 if match["gone"] == "root" else int(match["gone"])
        if number not in (1, 3, 5, 7, 9, 11, 13):
            raise self.error("leaves out a tone that is not there", "write no3 or no5")
        self.gone.add(number)

    def on_sus(self, match: re.Match[str]) -> None:
        self.finish_major()
        self.sus |= {int(digit) for digit in match[0] if digit in "24"} or {4}

    def on_alt(self, _: re.Match[str]) -> None:
        if self.quality or self.number not in (0, 7) or self.altered or self.added or self.sus:
            raise self.error("only goes with a plain seventh", f"write {self.root}7alt")
        self.alt = "7alt" if self.number else "alt"
        self.stack(7, -1)

    def on_slash(self, match: re.Match[str]) -> None:
        self.finish_major()
        if self.depth:
            return
        after = self.text[match.end() :].lstrip()
        if (
            self.quality == "minor"
            and not self.number
            and re.match(r"([Mm]aj|M|Δ|∆|△)(7|9|1[13])", after)
        ):
            return
        self.bass_at = match.end() + len(self.text[match.end() :]) - len(after)


def read_suffix(text: str, start: int, minor: bool = False) -> tuple[Quality, int | None]:
    """Read the suffix that begins at `start`; return the quality and where a slash bass begins.

    `minor` says that the root alone already means a minor chord.

    Raises:
        SymbolError: the suffix cannot be understood, or can be understood in two ways.
    """
    reader = _SuffixReader(text, start, minor)
    reader.read()
    degrees = reader.degrees()
    if not degrees:
        raise SymbolError(f"{text[:24]!r} leaves out every tone", start, "leave out less")
    return Quality(degrees, reader.alt), reader.bass_at
