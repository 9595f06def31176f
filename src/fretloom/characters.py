"""Which characters are not seen, which of them belong in a text, and which only look like others.

By Unicode's general categories (Unicode Standard, chapter 4), its default ignorable characters, and
the sequences of Unicode Technical Standard 51 (pictures). The page "What is promised"
(docs/explanation) has the table of what becomes of each.
"""

from __future__ import annotations

import unicodedata

#: Joins two pictures, or two letters of a script that is written joined.
JOINER = "\u200d"
_NON_JOINER = "\u200c"
#: Marks that set the direction of what has none beside letters written from right to left.
DIRECTION_MARKS = "\u200e\u200f\u061c"
#: Characters that are formats by their category, and are seen: signs of Arabic numbers and the like.
_SEEN_FORMATS = frozenset(
    "\u0600\u0601\u0602\u0603\u0604\u0605\u06dd\u070f\u0890\u0891\u08e2\U000110bd\U000110cd"
)
#: Letters and marks that nobody sees.
_BLANK = frozenset("\u034f\u115f\u1160\u17b4\u17b5\u2800\u3164\uffa0")
#: Places kept for such characters, most of them not given out yet.
_TO_COME = ((0x2060, 0x206F), (0xFFF0, 0xFFFB), (0xE0000, 0xE0FFF))
_MONGOLIAN_SELECTORS = "\u180b\u180c\u180d\u180f"
_BLACK_FLAG, _END_OF_TAGS = "\U0001f3f4", "\U000e007f"
#: A flag has five letters after its black one, or six.
_MOST_TAGS = 8
#: Arabic and its kin, the scripts of India and South-East Asia, Mongolian: written joined.
_JOINED_SCRIPTS = ((0x600, 0x10FF), (0x1780, 0x18AF), (0xA800, 0xABFF), (0x11000, 0x11FFF))
_PICTURES = (0x1F000, 0x1FAFF)
#: Letters, digits and signs that look like plain ones (from memory of Unicode Technical Standard 39).
_ALIKE = {
    **dict(zip(map(ord, "АВЕКМНОРСТХЅІЈаеорсухѕіјԁһ"), "ABEKMHOPCTXSIJaeopcyxsijdh", strict=True)),
    **dict(zip(map(ord, "ΑΒΕΖΗΙΚΜΝΟΡΤΥΧαορυνιϲ"), "ABEZHIKMNOPTYXaopuvic", strict=True)),
    **{code: chr(code - 0xFEE0) for code in range(0xFF01, 0xFF5F)},
    **{
        first + digit: str(digit)
        for first in (0x660, 0x6F0, 0x966, 0x9E6, 0xE50, 0x17E0, 0x1810)
        for digit in range(10)
    },
}
_PICTURE_SIGNS = ("So", "Sm")
_UNSEEN = frozenset(("Cc", "Cf", "Cs", "Co", "Zl", "Zp"))


def unseen(character: str) -> bool:
    """Whether nobody sees a character, or not everybody: controls, formats, selectors, private ones."""
    if " " <= character < "\x7f":
        return False
    if character in _BLANK or selector(character) or nonsense(character):
        return True
    if any(first <= ord(character) <= last for first, last in _TO_COME):
        return True
    return unicodedata.category(character) in _UNSEEN and character not in _SEEN_FORMATS


def nonsense(character: str) -> bool:
    """Whether a character is one that will never stand for anything (Unicode's noncharacters)."""
    code = ord(character)
    return 0xFDD0 <= code <= 0xFDEF or code & 0xFFFE == 0xFFFE


def selector(character: str) -> bool:
    """Whether a character only chooses how the one before it looks."""
    code = ord(character)
    return (
        0xFE00 <= code <= 0xFE0F or 0xE0100 <= code <= 0xE01EF or character in _MONGOLIAN_SELECTORS
    )


def nothing_hidden(text: str) -> str:
    """Return a text on one line, without characters that would control a screen or hide others."""
    text = text.replace("\t", " ").replace("\n", " ")
    kept = (sign for at, sign in enumerate(text) if not unseen(sign) or belongs(text, at))
    return " ".join("".join(kept).split())


def belongs(text: str, at: int) -> bool:
    """Whether an unseen character does in a text what it is for, and harms nobody.

    So do joiners between pictures or joined letters, selectors after what has several looks, tags in
    a flag, marks of direction, and private characters (whoever wrote one sees it).
    """
    character = text[at]
    if character in DIRECTION_MARKS:
        return True
    if character == JOINER:
        return joins(text, at) or _after_joined_letter(text, at)
    if character == _NON_JOINER:
        return _after_joined_letter(text, at)
    if selector(character):
        return at > 0 and _has_looks(text[at - 1])
    if 0xE0020 <= ord(character) <= 0xE007F:
        return _in_flag(text, at)
    return unicodedata.category(character) == "Co" and not nonsense(character)


def joins(text: str, at: int) -> bool:
    """Whether the character at an offset joins two pictures into one.

    It does with pictures on both sides, variation selectors and skin tones (Mn, Sk) passed over.
    """
    if text[at] != JOINER:
        return False
    before = at - 1
    while before > 0 and unicodedata.category(text[before]) in ("Mn", "Sk"):
        before -= 1
    return before >= 0 and at + 1 < len(text) and _picture(text[before]) and _picture(text[at + 1])


def _picture(character: str) -> bool:
    first, last = _PICTURES
    return first <= ord(character) <= last or unicodedata.category(character) in _PICTURE_SIGNS


def _after_joined_letter(text: str, at: int) -> bool:
    code = ord(text[at - 1]) if at else 0
    return any(first <= code <= last for first, last in _JOINED_SCRIPTS)


def _has_looks(character: str) -> bool:
    """Whether a character can have several looks: not a letter of ours, a space, or another selector."""
    if character.isascii():
        return character in "#*0123456789"
    return not (character.isspace() or unseen(character))


def _in_flag(text: str, at: int) -> bool:
    """Whether a tag is one of those that make a flag out of a black one."""
    flag = text.rfind(_BLACK_FLAG, max(at - _MOST_TAGS, 0), at)
    end = text.find(_END_OF_TAGS, at, at + _MOST_TAGS)
    tags = text[flag + 1 : end] if flag >= 0 and end >= 0 else ""
    return 0 < len(tags) < _MOST_TAGS and all("\U000e0020" <= tag < _END_OF_TAGS for tag in tags)


def look_alike(text: str) -> str:
    """Say which character of a text only looks like a plain one, and what to type; "" if there is none.

    Letters of another script only count in words that have no others than such letters and plain
    signs: what is left is honest Greek or Russian.
    """
    if text.isascii():
        return ""
    for word in text.split():
        plain = word.translate(_ALIKE)
        if not plain.isascii():
            continue
        for one, other in zip(word, plain, strict=True):
            if one != other:
                return f"this {one} is {_kind(one)}: type a plain {other}"
    return ""


def _kind(character: str) -> str:
    """Say what a character is that looks like a plain one: `a Cyrillic letter`."""
    first = unicodedata.name(character, "").split(" ")[0].lower()
    if first in ("cyrillic", "greek", "armenian"):
        return f"a{'n' * (first[0] == 'a')} {first.capitalize()} letter"
    if character.isdecimal():
        return "a digit of another script" if first != "fullwidth" else "a full-width digit"
    return "a full-width character"


def composed(text: str) -> str:
    """Return a text with letters and their accents as one character each (normal form C)."""
    return text if text.isascii() else unicodedata.normalize("NFC", text)


def whole_number(text: str, most: int) -> int | None:
    """Read a whole number in plain digits, up to a limit; None for anything else."""
    if not (text.isascii() and text.isdigit()) or len(text) > len(str(most)) + 2:
        return None
    return number if (number := int(text)) <= most else None
