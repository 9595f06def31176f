"""Remarks on a lesson in another key, in words."""

from __future__ import annotations

from fretloom.arranging.new_key import Transposed
from fretloom.arranging.remarks import (
    CommonShapeTaken,
    LineLost,
    NamedInWords,
    NoLongerNeeded,
    NutBarred,
    Remark,
)
from fretloom.text import listed, visible


def remarks_text(found: Transposed) -> str:
    """Return what the teacher of a lesson in another key should look at, a line each."""
    return "".join(f"{visible(remark_text(one))}\n" for one in found.remarks)


def remark_text(remark: Remark) -> str:
    """Return one remark as a sentence without a full stop, names as the lesson has them."""
    if isinstance(remark, CommonShapeTaken):
        new = f"{remark.voicing.name} {remark.voicing.frets_text}"
        worked_out = "its fingers and bass order are new"
        return f"{remark.name} becomes {new}: {worked_out}{_hops(remark)}"
    if isinstance(remark, NutBarred):
        new = f"{remark.voicing.name} with a barre at fret {remark.fret}"
        return f"{remark.name} becomes {new}: look for an easier shape{_hops(remark)}"
    if isinstance(remark, NoLongerNeeded):
        return f"{remark.name} is left out: it was there for voicings like it, which have frets now"
    if isinstance(remark, NamedInWords):
        return f"{remark.place} speaks of {listed(remark.names)}: say it anew for the new shapes"
    if isinstance(remark, LineLost):
        line = f"from {remark.before} to {remark.after}"
        return f"{line} a note went on by steps, and does not any more: look for other shapes"
    return f"{remark.place} names a fret that was not moved: check what to play there"


def _hops(remark: CommonShapeTaken | NutBarred) -> str:
    if not remark.hops:
        return ""
    return ", and its hop is left out" if len(remark.hops) == 1 else ", and its hops are left out"
