"""The pieces that the suffix of a chord symbol is made of, and tables about them."""

from __future__ import annotations

import re

from fretloom.trade.harmony.degrees import ROOT, Degree

TOKEN = re.compile(
    r"""(?P<open>[(\[])|(?P<close>[)\]])|(?P<gap>[\s,]+)
    |(?P<omit>(?:no|omit)\.?\s*(?P<gone>root|[0-9]{1,2})(?:st|rd|th)?)
    |(?P<sus>sus\s*(?:2\s*/?\s*4|4\s*/?\s*2|[24])?)
    |(?P<add>add\s*(?P<addsign>[#b+-])?\s*(?P<added>[0-9]{1,2})(?:nd|rd|th)?)
    |(?P<alt>alt(?:ered)?\.?)
    |(?P<half>[øØ∅]|(?:half[\s-]?|h)dim(?:inished)?)
    |(?P<dom>dom(?:inant)?\.?)
    |(?P<dim>dim(?:inished)?\.?|[°º˚o])
    |(?P<aug>aug(?:mented)?\.?)
    |(?P<major>[Mm]aj(?:or)?\.?|MAJ|[Mm]a(?!dd)|MA|M(?!I)|[Δ∆△▵]|j(?=[0-9]))
    |(?P<minor>[Mm]in(?:or)?\.?|MIN|[Mm]i|MI|m)
    |(?P<sixnine>6\s*/?\s*9)
    |(?P<number>[0-9]{1,3})
    |(?P<sign>[#b+-])
    |(?P<slash>/)""",
    re.VERBOSE | re.ASCII,
)
TRIANGLES = "Δ∆△▵"
#: Typographic signs and their plain equivalents, one for one so that offsets stay true.
PLAIN = str.maketrans("♯♭−–‐⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁽⁾", "#b---0123456789+-()")
ALTERS = {"#": 1, "+": 1, "b": -1, "-": -1}
#: Altered tones that exist under their own name, and what to write for those that do not.
ALTERABLE = {(5, -1), (5, 1), (6, -1), (9, -1), (9, 1), (11, 1), (13, -1)}
OTHER_NAMES = {(4, 1): (11, 1), (2, -1): (9, -1), (2, 1): (9, 1), (10, -1): (9, 1)}
BARE = {
    "2": "write Cadd9 (with the third) or Csus2 (without it)",
    "4": "write Cadd11 (with the third) or Csus4 (without it)",
    "3": "a plain C already has its third",
    "8": "a plain C already has its root",
}


ALT = (ROOT, Degree(3), Degree(5, -1), Degree(5, 1), Degree(7, -1), Degree(9, -1), Degree(9, 1))
PARTS = ("gone", "addsign", "added")


def kind_of(match: re.Match[str]) -> str:
    """Return the name of the token that `TOKEN` matched."""
    return next(name for name, found in match.groupdict().items() if found and name not in PARTS)
