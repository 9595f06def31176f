"""Ways to mend numbers, meters, counts, frets and fingers."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fretloom.notation.syntax.mending.ways import Case, Way, each, put
from fretloom.notation.syntax.slips.habits import JOINED_TIMES

_NUMBERS = "one two three four five six seven eight nine ten eleven twelve"
NUMBER_WORDS = {word: number for number, word in enumerate(_NUMBERS.split(), 1)}
_TIMES_WORDS = {"once": 1, "twice": 2, "thrice": 3}
_COUNTED = "|".join((*NUMBER_WORDS, r"\d{1,3}"))
_NUMBER_WORD = re.compile(rf"\b(?:{'|'.join(NUMBER_WORDS)})\b", re.I)
_ORDINAL = re.compile(r"\b(\d{1,2})(?:st|nd|rd|th)\b")
_DECIMAL = re.compile(r"(?<=\d),(?=\d)")
_IN_A_ROW = re.compile(r"(?<=\d)\s*[,;]\s*(?=\d)|(?<=\b\d)\s*[-–/]\s*(?=\d\b)")
_METER = re.compile(r"(?<!\S)(\d{1,2})\s*[-–:|\\.,/]\s*(2|4|8|16)(?!\S)")
_METER_TOGETHER = re.compile(r"(?<!\S)(\d{1,2})(2|4|8|16)(?!\S)")
_TIMES = re.compile(
    rf"(?<!\S)(?:(?P<a>\d{{1,3}})\s*[x×]|[xX×*]\s*(?P<b>\d{{1,3}})"
    rf"|(?P<c>{_COUNTED})\s+times|(?P<d>once|twice|thrice))(?!\S)",
    re.I,
)
_AND = re.compile(r"(?<!\S)(\d{1,2})\s*(?:and|\+|et|und)(?=\s|$|:)")
_FRETS_APART = re.compile(r"(?<!\S)(?:[xX]|\d{1,2})(?:[\s,]+(?:[xX]|\d{1,2})){3,}(?!\S)")
_FRET_SIGNS = str.maketrans("lIOoХх×", "1100xxx")
_FINGERS = re.compile(r"(?<=\bfingers)\s+[1-4Tt.0xXoO_-]{4,}(?!\S)")
_FINGERS_APART = re.compile(r"(?<=\bfingers)\s+[1-4T.](?:[ \t]*[1-4T.])+(?!\S)")
_PLACE = re.compile(r"(?<=\bto)\s+(\d{1,2})\s*[-:/@]\s*(\d{1,2})(?!\S)")


def decimals(case: Case) -> Iterator[Way]:
    """Write a full stop for a decimal comma."""
    yield from each(case, _DECIMAL, lambda _: ".", "write a full stop for the comma")


def rows(case: Case) -> Iterator[Way]:
    """Write a row of numbers without commas or hyphens."""
    yield from each(case, _IN_A_ROW, lambda _: " ", "write the numbers with spaces between them")


def meters(case: Case) -> Iterator[Way]:
    """Write a meter with its stroke."""
    for pattern in (_METER, _METER_TOGETHER) if "METER" in case.wanted else ():
        for match in case.near(pattern):
            yield put(case, match.start(), match.end(), f"{match[1]}/{match[2]}")


def words(case: Case) -> Iterator[Way]:
    """Write a number in figures."""
    for pattern in (_NUMBER_WORD, _ORDINAL):
        for match in case.near(pattern):
            number = NUMBER_WORDS.get(match[0].lower()) or match[1]
            yield put(case, match.start(), match.end(), str(number))


def times(case: Case) -> Iterator[Way]:
    """Write how often as x2."""
    if case.block not in ("section", "form"):
        return
    for match in case.near(_TIMES):
        said = match["a"] or match["b"] or (match["c"] or match["d"]).lower()
        number = NUMBER_WORDS.get(said) or _TIMES_WORDS.get(said) or int(said)
        if number > 1:
            yield put(case, match.start(), match.end(), f"x{number}")


def joined_times(case: Case) -> Iterator[Way]:
    """Part how often a bar is played from the voicing."""
    if case.block in ("section", "form"):
        for match in case.near(JOINED_TIMES):
            yield put(case, match.end(1), match.end(1), " ", "put a space before it")


def counts(case: Case) -> Iterator[Way]:
    """Write the count between two beats with &."""
    for match in case.near(_AND):
        yield put(case, match.start(), match.end(), f"{match[1]}&")


def frets(case: Case) -> Iterator[Way]:
    """Write frets together, in figures."""
    if case.rule != "bad-frets":
        return
    for match in case.near(_FRETS_APART):
        places = re.split(r"[\s,]+", match[0])
        together = ("-" if any(len(one) > 1 for one in places) else "").join(places)
        yield put(case, match.start(), match.end(), together)
    word = case.word
    plain = word.translate(_FRET_SIGNS)
    if plain != word:
        yield put(case, case.start, case.end, plain)
    if word.strip("-") and re.fullmatch(r"[xX\d-]+", word):
        yield put(case, case.start, case.end, word.replace("-", "x"))


def fingers(case: Case) -> Iterator[Way]:
    """Write . for no finger, and the fingers of a voicing together."""
    if case.block != "voicings":
        return
    for match in case.near(_FINGERS, 8):
        plain = re.sub(r"[0xXoO_-]", ".", match[0]).replace("t", "T")
        yield put(case, match.start(), match.end(), plain)
    for match in case.near(_FINGERS_APART, 8):
        together = f" {''.join(match[0].split())}"
        yield put(case, match.start(), match.end(), together)


def places(case: Case) -> Iterator[Way]:
    """Write a string and a fret with @ between them."""
    for match in case.near(_PLACE):
        yield put(case, match.start(), match.end(), f" {match[1]}@{match[2]}")
