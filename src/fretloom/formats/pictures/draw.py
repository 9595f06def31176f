"""Has verovio draw a score. Nothing else in the house knows of it."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from fretloom.errors import FretloomError
from fretloom.formats.pictures.options import PAPERS, PictureOptions

if TYPE_CHECKING:
    from types import ModuleType

#: What installs the libraries that pictures need.
INSTALL = "pip install 'fretloom[pictures]'"
#: Tenths of a millimetre around the music; a strip is trimmed closer.
_MARGIN, _STRIP_MARGIN = 150, 40
_WIDEST = 100_000


def draw(score: str, options: PictureOptions) -> tuple[str, ...]:
    """Return a score as verovio draws it: an SVG a page, or one for a strip.

    Raises:
        FretloomError: verovio is not installed.
    """
    library: Any = needed("verovio", "scores are drawn by verovio")
    library.enableLog(library.LOG_OFF)
    kit = library.toolkit()
    kit.setOptions(_settings(options))
    if not kit.loadData(score):
        raise FretloomError("verovio, which draws the score, could not read it: please report this")
    return tuple(kit.renderToSVG(page) for page in range(1, kit.getPageCount() + 1))


def needed(name: str, why: str) -> ModuleType:
    """Return the library of a name; `why` is what a sentence says of what it does.

    Raises:
        FretloomError: it is not installed.
    """
    try:
        return import_module(name)
    except ImportError:
        raise FretloomError(f"{why}, which is not installed: install it with {INSTALL}") from None


def _settings(options: PictureOptions) -> dict[str, object]:
    """Return what verovio goes by; its lengths are tenths of a millimetre at this scale."""
    width, height = PAPERS.get(options.paper, (_WIDEST, PAPERS["a4"][1]))
    strip = options.paper == "strip"
    margin = _STRIP_MARGIN if strip else _MARGIN
    return {
        "adjustPageHeight": strip,
        "adjustPageWidth": strip,
        "breaks": "none" if strip else "auto",
        "footer": "none",
        "header": "none" if strip else "auto",
        "mmOutput": True,
        "pageHeight": height,
        "pageMarginBottom": margin,
        "pageMarginLeft": margin,
        "pageMarginRight": margin,
        "pageMarginTop": margin,
        "pageWidth": width,
        "scale": 100,
        "smuflTextFont": "none",
        "spacingStaff": 8,
        "svgFormatRaw": True,
        "unit": options.staff_size * 10 / 8,
        "xmlIdSeed": 1,
    }
