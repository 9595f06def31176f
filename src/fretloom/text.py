"""Words for messages and columns for pages: lists, counts, near names, tables, and how wide a text is.

Nothing here knows of music. Text from a lesson is shown, never obeyed: `visible` puts signs in
place of characters that would control a terminal, and `columns` says how many columns a text takes.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from fretloom.characters import DIRECTION_MARKS, belongs, unseen
from fretloom.limits import LIMITS

if TYPE_CHECKING:
    from fractions import Fraction

#: How much alike two names have to be, as a ratio of `difflib`; more where very many are known.
ALIKE, CLOSELY_ALIKE, MUCH_ALIKE = 0.5, 0.6, 0.75
#: What stands for a character that is hidden or would be obeyed.
REPLACED = "�"
_TAB = "    "
#: In words up to this length, one wrong letter makes another word.
_SHORT = 4
_MOST_PLACES = 9
#: Names of those that share the most letters with another, on which a closer look is taken.
_LOOKED_AT = 8
_LONG_WORD = re.compile(rf"\S{{{LIMITS.message_word + 1},}}")
#: Signs that a line may not begin with: what runs workflows takes such a line for a command.
OBEYED = ("::", "##[")
_NO_DIRECTION = dict.fromkeys(map(ord, DIRECTION_MARKS), REPLACED)
#: Characters up to this one that print at all take one column each (Latin letters with accents).
_ONE_COLUMN_BELOW = "\u0300"


def listed(words: Iterable[object], last: str = "and") -> str:
    """Join words as a sentence does: `1, 2 and 3`; "" for none."""
    texts = [str(word) for word in words]
    if len(texts) < 2:
        return "".join(texts)
    return f"{', '.join(texts[:-1])} {last} {texts[-1]}"


def in_figures(numbers: Iterable[int]) -> str:
    """Return rising numbers in short: `1`, `1, 2`, `1–3, 5`."""
    found: list[list[int]] = []
    for number in numbers:
        if not found or number != found[-1][-1] + 1:
            found.append([])
        found[-1].append(number)
    runs = ([f"{run[0]}–{run[-1]}"] if run[2:] else map(str, run) for run in found)
    return ", ".join(one for run in runs for one in run)


def agreeing(number: int | Fraction | str, one: str, many: str) -> str:
    """Return the form of a word that goes with a number: `has` with 1 and 3/4, `have` with 0 and 2."""
    above, _, below = str(number).partition("/")
    part = above.isdecimal() and below.isdecimal() and int(above) < int(below)
    return one if part or above == "1" else many


def counted(number: int | Fraction | str, one: str, many: str = "") -> str:
    """Say how many there are of something: `1 bar`, `3 bars`, `1/2 beat`; `many` if it does not take an s."""
    return f"{number} {agreeing(number, one, many or f'{one}s')}"


def times(number: int) -> str:
    """Say how often: `once`, `twice`, `3 times`."""
    return {1: "once", 2: "twice"}.get(number, f"{number} times")


def ordinal(number: int) -> str:
    """Return `1st`, `2nd`, `3rd`, `4th`, `11th`."""
    tail = {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{'th' if number % 100 in (11, 12, 13) else tail}"


def told_apart(one: float, other: float, places: int) -> tuple[str, str]:
    """Write two numbers with `places` decimals, or with as many more as it takes to show a difference."""
    if one != other:
        while places < _MOST_PLACES and f"{one:.{places}f}" == f"{other:.{places}f}":
            places += 1
    return f"{one:.{places}f}", f"{other:.{places}f}"


def nearest(name: str, known: Iterable[str], alike: float = ALIKE) -> str:
    """Return the known name that looks most like the written one, or "".

    One that differs only in capitals comes first; a German H is an English B.
    """
    names = list(known)
    written = {name.lower(), "b" + name[1:].lower() if name[:1] in "Hh" else name.lower()}
    for other in names:
        if other.lower() in written:
            return other
    return next(iter(near_names(name, names, 1, alike)), "")


def only_near(name: str, known: Iterable[str]) -> str:
    """Return the one known name that can have been meant by a misspelt one, "" if that is not sure.

    It differs only in capitals, or by one slip (a letter too many, missing, wrong, or two swapped),
    or is much alike; and no other does. Names that differ in figures or signs do so on purpose.
    """
    from itertools import islice

    names = list(dict.fromkeys(islice(known, LIMITS.compared)))
    if name in names or len(name) > LIMITS.compared_letters:
        return ""
    same = [other for other in names if other.lower() == name.lower()]
    if same:
        return same[0] if len(same) == 1 else ""
    written = name.lower()
    alike = [one for one in names if _one_slip(written, one.lower())]
    if not alike and len(name) > _SHORT:
        alike = near_names(written, [one for one in names if len(one) > _SHORT], 2, MUCH_ALIKE)
    if len(alike) != 1 or _not_letters(alike[0]) != _not_letters(name):
        return ""
    return alike[0]


def _not_letters(name: str) -> str:
    return "".join(sign for sign in name if not sign.isalpha())


def _one_slip(one: str, other: str) -> bool:
    """Whether two words of three letters or more differ by one slip, wrong letters only in longer ones."""
    if len(one) > len(other):
        one, other = other, one
    if len(one) < _SHORT - 1 or len(other) - len(one) > 1 or one == other:
        return False
    at = next((at for at, sign in enumerate(one) if sign != other[at]), len(one))
    if len(one) < len(other):
        return one[at:] == other[at + 1 :]
    swapped = one[at : at + 2] == other[at : at + 2][::-1] and one[at + 2 :] == other[at + 2 :]
    return swapped or (len(one) >= _SHORT and one[at + 1 :] == other[at + 1 :])


def near_names(name: str, known: Iterable[str], most: int, alike: float = ALIKE) -> list[str]:
    """Return up to `most` known names that look like the written one, the most similar first.

    Only the first names are compared, and their beginnings (`Limits.compared`,
    `compared_letters`).
    """
    from difflib import get_close_matches
    from itertools import islice

    written = name[: LIMITS.compared_letters]
    shared = [
        (-share, at, other)
        for at, other in enumerate(islice(known, LIMITS.compared))
        if (share := _shared(written, other, alike)) >= alike
    ]
    # The closer look takes long, and those that share few letters never win it.
    likeliest = [other for _, _, other in sorted(shared)[: max(_LOOKED_AT, most)]]
    return get_close_matches(written, likeliest, most, alike)


def near_in_words(name: str, known: Iterable[str], most: int = 3) -> list[str]:
    """Return up to `most` known names that share a word of three letters with the written one, or look like it."""
    names = list(known)
    words = {word for word in re.split(r"[\s-]+", name.lower()) if len(word) > _SHORT - 2}
    same = [one for one in names if words & set(re.split(r"[\s-]+", one.lower()))]
    return same[:most] or near_names(name.lower(), names, most, CLOSELY_ALIKE)


def _shared(written: str, other: str, least: float) -> float:
    """Return the share of two names' letters that are in both in the same order, 0 if it is below `least`.

    It is never less than the ratio of `difflib`. The letters in order are counted with a bit for
    each place (Hyyro, "Bit-parallel LCS-length computation revisited", 2004, from memory).
    """
    both = len(written) + len(other)
    if not both or 2 * min(len(written), len(other)) < both * least:
        return 0.0
    places: dict[str, int] = {}
    for at, letter in enumerate(other):
        places[letter] = places.get(letter, 0) | 1 << at
    whole = (1 << len(other)) - 1
    left = whole
    for letter in written:
        met = left & places.get(letter, 0)
        left = (left + met | left - met) & whole
    return 2 * (len(other) - left.bit_count()) / both


def shortened(text: str) -> str:
    """Return words for a message, with very long ones shortened: `qqqqqq…qqqqqq`."""
    if len(text) <= LIMITS.message_word:
        return text
    text = _LONG_WORD.sub(lambda found: short(found[0]), text)
    return text if len(text) <= LIMITS.message else f"{text[: LIMITS.message - 2].rstrip()} …"


def short(text: str, most: int = LIMITS.message_word) -> str:
    """Return a text to be quoted in a message, its middle left out where it is long."""
    if len(text) <= most:
        return text
    half = (most - 1) // 2
    return f"{text[:half]}…{text[-half:]}"


def visible(text: str) -> str:
    """Return text that a terminal shows and does not obey."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(visible_signs(text))


def shown_name(name: object) -> str:
    """Return the name of a file, rule or option as a person reads it: on one line, shown, not obeyed.

    What runs workflows obeys lines that begin with `::` or `##[`; such a name gets `./` before it,
    with which it still names the same file.
    """
    shown = visible(str(name)).translate(_NO_DIRECTION)
    return f"./{shown}" if shown.lstrip().startswith(OBEYED) else shown


def for_machines(json: str) -> str:
    """Return JSON in which every unseen character is written as an escape, so that nothing is lost or obeyed."""
    if json.isascii():
        return json
    return "".join(_escape(one) if one != "\n" and unseen(one) else one for one in json)


def _escape(character: str) -> str:
    halves = character.encode("utf-16-be", "surrogatepass").hex()
    return "".join(f"\\u{halves[at : at + 4]}" for at in range(0, len(halves), 4))


def visible_signs(text: str) -> list[str]:
    """Return what `visible` shows for each character: tabs as spaces, control characters as signs.

    What is unseen and belongs where it stands is kept, such as the joiner between two pictures.
    """
    return [_visible(text, at) for at in range(len(text))]


def _visible(text: str, at: int) -> str:
    character = text[at]
    if character == "\t":
        return _TAB
    if character < " ":
        return chr(0x2400 + ord(character))
    if not unseen(character):
        return character
    private = unicodedata.category(character) == "Co"
    return character if belongs(text, at) and not private else REPLACED


def columns(text: str) -> int:
    """Return how many columns of a terminal a text from `visible` takes.

    Two for wide characters, none for combining ones, and what is joined counts as one picture
    (Unicode Standard Annexes 11 and 29, Unicode Technical Standard 51).
    """
    if text.isascii() or max(text) < _ONE_COLUMN_BELOW:
        return len(text)
    from wcwidth import wcswidth, wcwidth

    width: int = wcswidth(text)
    # It gives -1 for a text with control characters, which take no column of their own.
    return width if width >= 0 else sum(max(0, wcwidth(character)) for character in text)


def drawn_signs(text: str) -> list[str]:
    """Return the pieces of a text that are drawn as one sign each, and may not be cut."""
    if text.isascii():
        return list(text)
    from wcwidth import iter_graphemes

    return list(iter_graphemes(text))


def padded(text: str, width: int) -> str:
    """Return a text with spaces after it up to a width in columns."""
    return text + " " * (width - columns(text))


def table(rows: Sequence[Sequence[str]], gap: int = 2, least: int = 0) -> list[str]:
    """Return rows of cells as lines with aligned columns, without spaces at the ends.

    Args:
        rows: the cells; some rows may have fewer than others.
        gap: spaces between columns.
        least: how wide every column is at the least.
    """
    widths: list[int] = []
    for row in rows:
        widths += [least] * (len(row) - len(widths))
        for at, cell in enumerate(row):
            widths[at] = max(widths[at], columns(cell))
    between = " " * gap
    return [
        between.join(map(padded, row, widths)).rstrip()  # `map` ends with the row
        for row in rows
    ]
