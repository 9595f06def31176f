"""Suggested voicings and capos, and lessons in another key, as JSON values."""

from __future__ import annotations

from typing import Any

from fretloom.arranging.find_capos import CapoChoice, CapoChoices
from fretloom.arranging.find_voicings import FoundVoicing, FoundVoicings
from fretloom.arranging.new_key import Transposed
from fretloom.arranging.remarks import (
    CommonShapeTaken,
    LineLost,
    NamedInWords,
    NoLongerNeeded,
    NutBarred,
    Remark,
)
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.report.advice.remarks import remark_text
from fretloom.trade.guitar.voicing import Voicing

_KINDS: dict[type, str] = {
    CommonShapeTaken: "common-shape",
    NutBarred: "barre",
    NoLongerNeeded: "left-out",
    NamedInWords: "named-in-words",
    LineLost: "line-lost",
}


def voicings_data(found: FoundVoicings) -> dict[str, Any]:
    """Return suggested voicings, best first."""
    return {"chord": found.chord, "voicings": [_found(one) for one in found.voicings]}


def capos_data(found: CapoChoices) -> dict[str, Any]:
    """Return capo choices, easiest first; points are rounded to a hundredth."""
    return {
        "sounds": str(found.sounds),
        "choices": [_choice(one) for one in found.choices],
        "left_aside": found.left_aside,
    }


def transposed_data(found: Transposed) -> dict[str, Any]:
    """Return a lesson in another key as its text, with what its teacher should look at."""
    return {
        "lesson": format_lesson(found.lesson),
        "remarks": [remark_data(one) for one in found.remarks],
    }


def remark_data(remark: Remark) -> dict[str, Any]:
    """Return a remark: its kind, what it is about, and the sentence that people read."""
    data: dict[str, Any] = {"kind": _KINDS.get(type(remark), "fret-named")}
    if isinstance(remark, CommonShapeTaken | NutBarred):
        data |= {"voicing": remark.name, "now": _voicing(remark.voicing)}
        data["hops_left_out"] = len(remark.hops)
    elif isinstance(remark, NoLongerNeeded):
        data["voicing"] = remark.name
    elif isinstance(remark, LineLost):
        data |= {"from": remark.before, "to": remark.after}
    else:
        data["place"] = str(remark.place)
        if isinstance(remark, NamedInWords):
            data["names"] = list(remark.names)
    return data | {"message": remark_text(remark)}


def _found(one: FoundVoicing) -> dict[str, Any]:
    return {
        **_voicing(one.voicing),
        "bass": list(one.voicing.bass),
        "difficulty": one.effort.level,
        "barres": dict(one.effort.barres),
        "inverted": one.fit.inverted,
        "rootless": one.fit.rootless,
        "usual": one.usual,
    }


def _choice(one: CapoChoice) -> dict[str, Any]:
    before, after, level = one.hardest
    return {
        "capo": one.capo,
        "plays": str(one.plays),
        "sounds": str(one.sounds),
        "difficulty": round(one.points, 2),
        "barres": list(one.barres),
        "hidden": list(one.hidden),
        "hardest": {"from": before, "to": after, "difficulty": level} if level else None,
        "now": one.now,
        "voicings": [_voicing(voicing) for voicing in one.voicings],
        "remarks": [remark_data(remark) for remark in one.remarks],
    }


def _voicing(voicing: Voicing) -> dict[str, Any]:
    return {
        "name": voicing.name,
        "frets": voicing.frets_text,
        "fingers": voicing.fingers_text,
    }
