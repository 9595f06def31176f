"""What the notation can write in one place: names, texts, comments, numbers, and values of the trade.

The types below are what the fields of the model declare; `fretloom.shapes` holds constructors to
them. They refuse only what no text can say: music that is wrong is for the rules to find.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Annotated, Any

from fretloom.limits import LIMITS
from fretloom.notation.model import words
from fretloom.shapes import Limit, between
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.guitar.voicing import Hop
from fretloom.trade.music.key import Key, parse_key
from fretloom.trade.music.meter import Count, Meter, parse_count, parse_meter
from fretloom.trade.music.tempo import Tempo

#: Ranges that any guitar-like instrument, hand and lesson lies in (wide on purpose).
SCALE_MM = (200, 1200)
HAND_MM = (100, 260)
#: Quarter notes a minute, or other notes of the tempo's unit.
TEMPOS = (10, 400)


def _optional(problem: Callable[[str], str], says: str) -> Limit:
    return Limit(lambda text: problem(text) if text else "", f'{says}, or ""')


#: What stands in quotes: any text of one line.
Quoted = Annotated[str, Limit(words.one_line, "one line")]
#: A comment on a line of its own, and one at the end of a line.
Comment = Annotated[str, Limit(words.comment, "a comment with its #")]
Beside = Annotated[str, Limit(words.beside, "a comment with its # and a space, or none")]
#: A line without its comment, as it stands; "" for none.
Opening = Annotated[str, _optional(words.opening, "a line")]
ProseText = Annotated[str, Limit(words.prose, "a line of prose")]
UnreadText = Annotated[str, Limit(words.unread, "lines as they stand")]
UnreadBarText = Annotated[str, Limit(words.unread_bar, "a bar as it stands")]
#: Names: where a thing gets its name, where it is used, and where a voicing stands in a bar.
Name = Annotated[str, Limit(words.name, "a name")]
SmallName = Annotated[str, Limit(words.used_name, "a name")]
PlayedName = Annotated[str, Limit(words.played_name, "a name")]
MaybeName = Annotated[str, _optional(words.name, "a name")]
MaybeSmallName = Annotated[str, _optional(words.used_name, "a name")]


def _bar_number(number: int) -> str:
    inside = number and -999_999 <= number <= 999_999
    return "" if inside else f"a bar from 1, or from -1, the last, backwards, not {number}"


#: How often, or which one, from 1; as many as six figures can say.
Times = Annotated[int, between(1, 999_999)]
Amount = Annotated[int, between(0, 999_999)]
#: A bar of a section from 1, or -1 for its last, -2 for the one before it.
BarNumber = Annotated[int, Limit(_bar_number, "from 1, or -1 for the last bar")]
Repeats = Annotated[int, between(1, LIMITS.repeats)]
#: A string or fret where it takes two figures at most; 0 is the open string.
Place = Annotated[int, between(0, 99)]
StringNumber = Annotated[int, between(1, 12)]
Frets = Annotated[int, between(-999_999, 999_999)]


def decimal(value: Fraction) -> bool:
    """Whether a number is exact with four decimals or fewer."""
    return 10_000 % value.denominator == 0


def number(value: Fraction) -> str:
    """Say what keeps a number from being written as 3, 1.5 or 5/3."""
    if not 0 <= value < 1_000_000 or not (
        decimal(value) or (value.denominator <= 999 and value.numerator <= 999_999)
    ):
        return (
            "a number has six figures at most before the point and four behind it, or is a fraction "
            "of six figures over three"
        )
    return ""


def _share(value: Fraction) -> str:
    return number(value) or ("" if value else "a number above 0, not 0")


def ranged(least: int, most: int) -> Limit:
    """Return the limit of a number from one to another."""

    def problem(value: Fraction) -> str:
        return number(value) or (
            "" if least <= value <= most else f"a number from {least} to {most}, not {value}"
        )

    return Limit(problem, f"{least} to {most}")


#: A length in beats, more than 0.
Share = Annotated[Fraction, Limit(_share, "more than 0, in beats")]
Speed = Annotated[Fraction, ranged(*TEMPOS)]


def _same_as_read(read: Callable[[Any], object]) -> Limit:
    """Return the limit that a value is what reading its text gives."""

    def problem(value: Any) -> str:
        try:
            if read(value) == value:
                return ""
        except (ValueError, TypeError, AttributeError, ArithmeticError):
            pass
        return f"no text says this {type(value).__name__}: {value!r}"[:160]

    return Limit(problem, "as the notation can write it")


def _tuning(value: Tuning) -> Tuning:
    from fretloom.trade.guitar.tunings import parse_tuning

    return parse_tuning(value.name or str(value))


def _meter(value: Meter) -> Meter:
    return parse_meter(str(value).partition(" in ")[0], value.pulses)


def _tempo(value: Tempo) -> str:
    unit = value.unit / 4
    if not 0 < unit.numerator <= 999 or unit.denominator > 999:
        return "Tempo.unit is a note from 1/999 to 999 whole notes, in quarter notes"
    problem = ranged(*TEMPOS).problem(value.per_minute)
    return f"Tempo.per_minute: {problem}" if problem else ""


def _count(value: Count) -> str:
    if value.number < 1:
        return f"counting starts at 1, not {value.number}"
    return _same_as_read(lambda count: parse_count(str(count))).problem(value)


WrittenCount = Annotated[Count, Limit(_count, "from 1")]
WrittenMeter = Annotated[Meter, _same_as_read(_meter)]
WrittenTempo = Annotated[Tempo, Limit(_tempo, f"{TEMPOS[0]} to {TEMPOS[1]} a minute")]
WrittenKey = Annotated[Key, _same_as_read(lambda key: parse_key(str(key)))]
WrittenTuning = Annotated[Tuning, _same_as_read(_tuning)]


def _strings(most: int) -> Callable[[Any], str]:
    def problem(value: Capo) -> str:
        wrong = [string for string in value.strings if not 1 <= string <= most]
        return f"Capo.strings: a string from 1 to {most}, not {wrong[0]}" if wrong else ""

    return problem


WrittenCapo = Annotated[Capo, Limit(_strings(12), "strings 1 to 12")]


def _hop(value: Hop) -> str:
    if 0 <= value.string <= 99 and 0 <= value.fret <= 99:
        return ""
    return f"Hop: a string and a fret from 0 to 99, not {value.string} and {value.fret}"


WrittenHop = Annotated[Hop, Limit(_hop, "string and fret of two figures")]
