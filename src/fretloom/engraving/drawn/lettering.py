"""How wide words are in the letters of the pages for students, in millimetres.

The widths are those of Andika (SIL Open Font License 1.1), regular and bold, in thousandths of the size;
what it does not have is taken as broad.
"""

from __future__ import annotations

from functools import lru_cache

from fretloom.text import columns, drawn_signs

_REGULAR = {
    259: "‘",
    266: "’",
    269: " ",
    276: "il",
    283: "`",
    291: "j",
    295: "'",
    312: ".:",
    317: ",;",
    337: "|",
    366: "f",
    373: "!",
    386: "[]‹›",
    388: "()",
    408: "t",
    415: "^",
    420: "-",
    435: "r",
    471: "Js",
    476: "I",
    488: "/\\{}",
    493: "”",
    498: "c",
    500: '"',
    502: "*",
    505: "k",
    508: "z",
    513: "?“",
    515: "–",
    518: "y",
    522: "v",
    527: "L",
    530: "x",
    535: "e",
    544: "~",
    549: "g",
    552: "q",
    557: "o",
    562: "Fa",
    564: "b",
    566: "E",
    571: "p",
    574: "Sh",
    579: "nu",
    581: "d",
    583: "P",
    586: "#$+0123456789<=>",
    597: "&",
    601: "Z",
    618: "T",
    622: "_",
    627: "B",
    637: "R",
    640: "K",
    645: "Y",
    647: "X",
    662: "C",
    667: "V",
    681: "A",
    693: "G",
    701: "D",
    703: "U",
    713: "O",
    720: "HQ",
    732: "N",
    745: "%",
    757: "w",
    781: "¼½¾",
    823: "m",
    831: "@",
    842: "…",
    847: "—",
    876: "M",
    1016: "W",
}
_BOLD = {
    269: " ",
    305: "'",
    312: "`il",
    325: ",",
    327: "j",
    337: "|",
    347: ".:;",
    374: "‘",
    378: "’",
    381: "!",
    391: "f‹›",
    415: "[]",
    420: "()",
    430: "^",
    432: "t",
    437: "-",
    486: "r",
    499: "c",
    503: "J",
    505: "s",
    508: "*{}",
    510: "I",
    518: "z",
    527: "/\\",
    530: '"',
    532: "?",
    537: "y",
    539: "v",
    540: "–",
    542: "e",
    544: "~",
    552: "L",
    556: "k",
    566: "o",
    579: "gx",
    586: "+<=>F",
    591: "q",
    592: "E",
    593: "b",
    603: "hp",
    605: "#$0123456789",
    607: "S",
    608: "nu",
    610: "Z",
    613: "a",
    618: "Td",
    620: "”",
    623: "P",
    632: "_",
    642: "“",
    662: "&",
    666: "Y",
    667: "X",
    674: "R",
    676: "BC",
    698: "K",
    715: "V",
    719: "G",
    725: "AD",
    728: "U",
    732: "O",
    740: "H",
    754: "NQ",
    764: "%",
    767: "w",
    811: "…",
    843: "¼½¾",
    851: "@",
    859: "m",
    872: "—",
    906: "M",
    1042: "W",
}
#: Between the lines and beside what the table has; signs of chord names stand in a font of our own.
_OTHER, _WIDE = 0.8, 1.1
_WIDTHS = {
    bold: {sign: width / 1000 for width, signs in table.items() for sign in signs}
    for bold, table in ((False, _REGULAR), (True, _BOLD))
}
#: How much smaller what follows the root of a chord is.
AFTER = 0.86


@lru_cache(maxsize=4096)
def width_of(text: str, size: float, bold: bool = False) -> float:
    """Return how wide a text is, in the unit of `size`."""
    widths = _WIDTHS[bold]
    if text.isascii():
        return size * sum(widths.get(sign, _OTHER) for sign in text)
    return size * sum(_sign(sign, widths) for sign in drawn_signs(text))


def wrapped(text: str, size: float, room: float) -> tuple[str, ...]:
    """Break a text into lines no wider than `room`, at spaces, and within a word where it must be."""
    lines, line = list[str](), ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if width_of(longer, size) <= room:
            line = longer
            continue
        if line:
            lines.append(line)
        *whole, line = _pieces(word, size, room)
        lines += whole
    return (*lines, line) if line else tuple(lines)


def widest_word(text: str, size: float) -> float:
    """Return how wide the widest word of a text is, in the unit of `size`: in so much room none is broken."""
    return max((width_of(word, size) for word in text.split()), default=0.0)


def _pieces(word: str, size: float, room: float) -> list[str]:
    pieces, piece, used = list[str](), "", 0.0
    for sign in drawn_signs(word):
        width = width_of(sign, size)
        if piece and used + width > room:
            pieces.append(piece)
            piece, used = "", 0.0
        piece, used = piece + sign, used + width
    return [*pieces, piece]


def _sign(sign: str, widths: dict[str, float]) -> float:
    if sign in widths:
        return widths[sign]
    taken = columns(sign)
    return 0.0 if not taken else _OTHER if taken == 1 else _WIDE * taken / 2
