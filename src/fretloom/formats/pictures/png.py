"""Writes pictures of a score as PNG (ISO 15948), a file a page."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from fretloom.errors import FretloomError
from fretloom.formats.pictures.draw import needed
from fretloom.formats.pictures.fonts import NAME, font_files
from fretloom.formats.pictures.options import DotsOptions
from fretloom.formats.pictures.picture import DrawnScore, outputs, pictures_of
from fretloom.formats.shape import Output
from fretloom.limits import LIMITS
from fretloom.performance.reading import Reading

if TYPE_CHECKING:
    from types import ModuleType

_MM_IN_AN_INCH = 25.4


def write(reading: Reading, options: DotsOptions) -> tuple[Output, ...]:
    """Draw what is played as PNG, a file a page.

    Raises:
        FretloomError: as for SVG; or one page or all pages together have too many dots.
    """
    resvg = needed("resvg_py", "pictures are made of dots by resvg-py")
    pictures, left_out = pictures_of(reading, options)
    _refuse_too_many(pictures, options.dpi)
    with font_files() as fonts:
        made = tuple(_png(resvg, one, options.dpi, fonts) for one in pictures)
    return outputs(reading, ".png", made, left_out)


def _png(resvg: ModuleType, picture: DrawnScore, dpi: int, fonts: Sequence[Path]) -> bytes:
    """Return a page as PNG; what the font has not comes from the fonts of the system."""
    return bytes(
        resvg.svg_to_bytes(
            svg_string=picture.document(),
            dpi=float(dpi),
            width=_dots(picture.width, dpi),
            height=_dots(picture.height, dpi),
            font_files=[*map(str, fonts)],
            serif_family=NAME,
            font_family=NAME,
        )
    )


def _refuse_too_many(pictures: tuple[DrawnScore, ...], dpi: int) -> None:
    each = [_dots(one.width, dpi) * _dots(one.height, dpi) for one in pictures]
    dots = sum(each)
    if max(each, default=0) > LIMITS.dots_of_one:
        raise FretloomError(
            f"a picture would have {max(each):,} dots, and {LIMITS.dots_of_one:,} are the most: take a smaller --dpi"
        )
    if dots > LIMITS.dots:
        raise FretloomError(
            f"these pictures have {dots:,} dots, and {LIMITS.dots:,} are the most: take a smaller --dpi"
        )


def _dots(length: float, dpi: int) -> int:
    """Return millimetres in dots."""
    return round(length / _MM_IN_AN_INCH * dpi)
