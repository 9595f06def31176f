"""How many beats are left in bars that are being typed: in patterns, in `{ }`, and in shares of voicings."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from fretloom.collection.while_typing.line_at import LineAt, line_at
from fretloom.errors import SymbolError
from fretloom.limits import LIMITS
from fretloom.notation.syntax.lines import comment_at
from fretloom.notation.syntax.reader import beyond_limits
from fretloom.notation.syntax.signs import QUOTED
from fretloom.source import Source
from fretloom.text import counted
from fretloom.trade.music.meter import Meter, parse_meter
from fretloom.values import frozen

_METER = re.compile(
    r"(?<!\S)(?:in|meter)[ \t]+([0-9+]+/[0-9]+)(?:[ \t]+in[ \t]+([0-9]{1,2}))?(?![^\s:])"
)
_PATTERN = re.compile(
    rf'[^\s|:{{}}"%,]+[ \t]*(?:{QUOTED}[ \t]*)?(?:in[ \t]+\S+[ \t]*(?:in[ \t]+[0-9]+[ \t]*)?)?:?'
)
_WRITTEN = re.compile(r"\{([^{}]*)(\}?)")
_SHARE = re.compile(r"(?<=\S):([0-9]{1,3}(?:\.[0-9]{1,4}|/[0-9]{1,3})?)(?![^\s|])")
#: Lines of a section that have bars which need not be whole, or none.
_NO_BARS = re.compile(
    r"(?:pickup|last|words|meter|tempo|dynamic|repeat|using|end|a tempo|free time|"
    r"crescendo|diminuendo|ritardando|accelerando)(?![^\s:])"
)
_QUOTED = re.compile(QUOTED)


@frozen
class BeatsLeft:
    """Beats that a bar still lacks, or has too many (below 0), of those of its meter; `at` is where it ends."""

    at: int
    left: Fraction
    of: int

    @property
    def words(self) -> str:
        """Say it in short."""
        number = abs(self.left)
        said = counted(number, "beat")
        return f"{said} left" if self.left > 0 else f"{said} too many"


def beats_left(source: Source, heading: Meter, first: int, last: int) -> tuple[BeatsLeft, ...]:
    """Return what is left in the bars of some lines.

    Args:
        source: the text.
        heading: the meter where no line of the text says another.
        first, last: 1-based lines, both counted in; lines outside the text do not count.

    In a text that is too large to be read there are none; of more than `LIMITS.outlined`, the first.
    """
    if beyond_limits(source):
        return ()
    meters = _Meters(heading)
    found: list[BeatsLeft] = []
    for number in range(1, min(last, len(source.line_starts())) + 1):
        text = source.line_text(number)
        meters.take(text)
        if number >= first and len(text) <= LIMITS.line:
            here = line_at(source, source.line_starts()[number - 1] + len(text))
            found += _in_line(here, meters.now)
        if len(found) >= LIMITS.outlined:
            break
    return tuple(found[: LIMITS.outlined])


class _Meters:
    """The meter in force at each line of a text, from the first one on."""

    def __init__(self, heading: Meter) -> None:
        self.heading = self.now = heading
        self.block = ""

    def take(self, text: str) -> None:
        """Go on to the next line."""
        body = text.lstrip(" \t")
        statement = body[: comment_at(body)]
        if not statement:
            return
        if body == text:
            self.block = re.split(r"[ \t:]", statement, maxsplit=1)[0]
            self.now = _meter_in(statement) or self.heading
        elif self.block == "section" and statement.startswith("meter"):
            self.now = _meter_in(statement) or self.now
        elif self.block == "patterns" and not statement.startswith("|"):
            self.now = _meter_in(statement) or self.heading


def _in_line(here: LineAt, meter: Meter) -> Iterator[BeatsLeft]:
    statement = here.body[: comment_at(here.body)].rstrip(" \t")
    if here.rule == "pattern_line":
        name = None if here.continues else _PATTERN.match(statement)
        at = name.end() if name else 1 if here.continues else 0
        for bar in statement[at:].split("|"):
            yield from _missing(here, bar, at, meter)
            at += len(bar) + 1
    elif here.rule == "body_line" and not _NO_BARS.match(statement):
        bars = _blank(_QUOTED, statement)
        for found in _WRITTEN.finditer(bars):
            yield from _missing(here, found[1], found.start(1), meter)
        for piece in re.finditer(r"[^|]+", _blank(_WRITTEN, bars)):
            yield from _shares(here, piece, meter)


def _missing(here: LineAt, beats: str, at: int, meter: Meter) -> Iterator[BeatsLeft]:
    """Yield what is left in the beats of one bar; nothing before the first of them."""
    parts = beats.split(",")
    number = len(parts) - (not parts[-1].strip())
    left = len(meter.beats) - number
    if number and left:
        yield BeatsLeft(here.start + at + len(beats.rstrip()), Fraction(left), len(meter.beats))


def _shares(here: LineAt, piece: re.Match[str], meter: Meter) -> Iterator[BeatsLeft]:
    """Yield what is left in a bar whose voicings have shares; where one has none it takes what is left."""
    text = piece[0].rstrip()
    shares = _SHARE.findall(text)
    if not shares or len(shares) < len(re.findall(r"(?<!\S)[^\W\d_]\S*", text)):
        return
    try:
        total = sum(map(Fraction, shares), Fraction(0))
    except ZeroDivisionError:
        return
    left = len(meter.beats) - total
    if left:
        yield BeatsLeft(here.start + piece.start() + len(text), left, len(meter.beats))


def _meter_in(text: str) -> Meter | None:
    found = _METER.search(_blank(_QUOTED, text))
    if found is None:
        return None
    try:
        return parse_meter(found[1], int(found[2]) if found[2] else None)
    except SymbolError:
        return None


def _blank(pattern: re.Pattern[str], text: str) -> str:
    """Return a text with blanks where a pattern fits, so that places stay true."""
    return pattern.sub(lambda found: " " * len(found[0]), text)
