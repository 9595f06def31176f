"""What was made easier in a lesson, as JSON."""

from __future__ import annotations

from typing import Any

from fretloom.arranging.easing.eased import Eased, PickingEased, ShapeEased
from fretloom.arranging.easing.heard_otherwise import HeardOtherwise
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.report.advice.suggestions_json import remark_data
from fretloom.report.easing.eased_text import picking_text, shape_text, tempo_text
from fretloom.report.easing.levels_json import fit_data, tempo_data
from fretloom.trade.guitar.voicing import Voicing


def eased_data(found: Eased) -> dict[str, Any]:
    """Return what was made easier, what is heard otherwise for it, what was left, and the new lesson's text."""
    return {
        "title": found.settings.title,
        "level": found.level,
        "lesson": format_lesson(found.lesson) if found.lesson else None,
        "shapes": [_shape(one, found) for one in found.shapes],
        "picking": [_picking(one) for one in found.picking],
        "tempo": _tempo(found),
        "left": fit_data(found.left),
        "remarks": [remark_data(one) for one in found.words],
    }


def _shape(one: ShapeEased, found: Eased) -> dict[str, Any]:
    return {
        "kind": one.kind,
        "reasons": list(one.reasons),
        "before": _voicing(one.before) | {"difficulty": one.effort_before.level},
        "after": _voicing(one.after) | {"difficulty": one.effort_after.level},
        "heard": _heard(one.heard),
        "message": shape_text(one, found),
    }


def _voicing(voicing: Voicing) -> dict[str, Any]:
    return {
        "name": voicing.name,
        "frets": voicing.frets_text,
        "fingers": voicing.fingers_text,
        "bass": list(voicing.bass),
    }


def _heard(heard: HeardOtherwise) -> dict[str, Any]:
    return {
        "added": list(heard.added),
        "gone": list(heard.gone),
        "bass_before": list(heard.bass_before),
        "bass_after": list(heard.bass_after),
        "fingers": [
            {"string": one.string, "before": one.before, "after": one.after, "top": one.top}
            for one in heard.fingers
        ],
    }


def _picking(one: PickingEased) -> dict[str, Any]:
    return {
        "pattern": one.pattern,
        "bar": one.bar,
        "before": one.before,
        "after": one.after,
        "dropped": list(map(str, one.dropped)),
        "thumb_rests": list(map(str, one.thumb)),
        "lost": list(one.lost),
        "message": picking_text(one),
    }


def _tempo(found: Eased) -> dict[str, Any] | None:
    if found.tempo is None:
        return None
    return {
        "before": tempo_data(found.tempo.before),
        "after": tempo_data(found.tempo.after),
        "message": tempo_text(found.tempo),
    }
