"""Options of pictures: those of the score that is drawn, and those of the paper."""

from __future__ import annotations

from typing import Literal, TypeAlias

import attrs

from fretloom.formats.musicxml.options import ScoreOptions
from fretloom.formats.options import number, one_of
from fretloom.values import frozen

PaperName: TypeAlias = Literal["a4", "letter", "strip"]
#: Width and height in tenths of a millimetre: ISO 216, and ANSI/ASME Y14.1 size A.
PAPERS: dict[str, tuple[int, int]] = {"a4": (2100, 2970), "letter": (2159, 2794)}


@frozen(kw_only=True)
class PictureOptions(ScoreOptions):
    """How a score is drawn; the options of the score itself are those of `ScoreOptions`.

    Args:
        paper: "a4" or "letter" for pages, "strip" for one system as long as the piece.
        staff_size: height of the five lines of the notation in millimetres, 4 to 9.
        encoding_date: always None, for nobody sees it in a picture.
    """

    paper: PaperName = one_of((*PAPERS, "strip"), "pages of a paper, or one long strip")
    staff_size: int = number(6, "millimetres from the first to the fifth line", least=4, most=9)
    encoding_date: None = attrs.field(default=None, init=False)


@frozen(kw_only=True)
class DotsOptions(PictureOptions):
    """How a picture made of dots is drawn.

    Args:
        dpi: dots per inch, 72 to 600.
    """

    dpi: int = number(150, "dots per inch", least=72, most=600)
