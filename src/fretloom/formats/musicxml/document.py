"""Writes a timeline as MusicXML 4.0, plain (`.musicxml`) or packed (`.mxl`).

What is written is the performance, every bar in full. The fingers are voice 1 and the thumb voice 2
on a staff of notation, and the same notes stand again on a tablature staff below.
"""

from __future__ import annotations

from fretloom.formats.musicxml.page import LAYOUTS
from fretloom.performance.events import Timeline


def to_musicxml(
    timeline: Timeline,
    *,
    layout: str = "notation-and-tab",
    concert: bool = False,
    ring_ties: bool = False,
    encoding_date: str | None = None,
    left_out: list[str] | None = None,
) -> bytes:
    """Write a timeline as a MusicXML 4.0 file in UTF-8.

    The same timeline gives the same bytes every time.

    Args:
        layout: "notation-and-tab" (one part with two staves), "two-parts", "notation" or "tab".
        concert: write what sounds instead of what the hand plays with the capo.
        ring_ties: mark every note that rings over a bar line with a let-ring tie. Left off, the
            words "let ring" stand over the first bar: some programs play a bar late after such ties.
        encoding_date: `YYYY-MM-DD` to be stated in the file; none if not given.
        left_out: takes a remark, in plain words, for each thing the file cannot carry.

    Raises:
        FretloomError: nothing is played, a text holds a character that XML cannot, or a beat is
            divided too finely for a notation file.
        ValueError: there is no such layout.
    """
    from fretloom.formats.musicxml.score import Choices, score_bytes

    if layout not in LAYOUTS:
        raise ValueError(f"layout is one of {', '.join(LAYOUTS)}, not {layout!r}")
    remarks: set[str] = set()
    choices = Choices(
        layout=layout, concert=concert, ring_ties=ring_ties, encoding_date=encoding_date
    )
    score = score_bytes(timeline, choices, remarks)
    if left_out is not None:
        left_out.extend(sorted(remarks))
    return score


def to_mxl(
    timeline: Timeline,
    *,
    layout: str = "notation-and-tab",
    concert: bool = False,
    ring_ties: bool = False,
    encoding_date: str | None = None,
    left_out: list[str] | None = None,
) -> bytes:
    """Write a timeline as a compressed MusicXML file; see `to_musicxml` for the arguments."""
    from fretloom.formats.musicxml.mxl import pack

    return pack(
        to_musicxml(
            timeline,
            layout=layout,
            concert=concert,
            ring_ties=ring_ties,
            encoding_date=encoding_date,
            left_out=left_out,
        )
    )
