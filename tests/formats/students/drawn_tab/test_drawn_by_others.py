"""Drawn tab in a program that is not ours."""

from __future__ import annotations

import io

import pytest
from drawn_bars import HEAD

from fretloom.api import export, loads


def test_a_general_renderer_opens_it():
    """resvg-py (npm and PyPI; https://github.com/linebender/resvg): as large as it says, and not empty."""
    resvg = pytest.importorskip("resvg_py")
    image = pytest.importorskip("PIL.Image")
    [output] = export(loads(f"{HEAD}section verse using step\n  E | B7\n"), "drawn-tab")
    drawn = image.open(io.BytesIO(bytes(resvg.svg_to_bytes(svg_string=output.text, dpi=96))))
    assert drawn.width == pytest.approx(176 / 25.4 * 96, abs=3)
    _, inked = (
        drawn.convert("RGBA").getchannel("A").point(lambda one: 255 * (one > 200)).getcolors()
    )
    assert inked[0] > 1000
