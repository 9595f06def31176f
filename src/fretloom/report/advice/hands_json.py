"""The report on hands as JSON."""

from __future__ import annotations

from math import isfinite
from typing import Any

from fretloom.performance.hands.hardest import Hands, HeldVoicing, MadeChange
from fretloom.report.advice.hands_text import sureness
from fretloom.trade.guitar.voicing import fingers_text
from fretloom.trade.playability.moving.haste import Haste


def hands_data(found: Hands) -> dict[str, Any]:
    """Return the report as JSON values; millimetres and seconds are rounded to a hundredth."""
    return {
        "title": found.settings.title,
        "scale_mm": round(found.neck.scale, 2),
        "capo": found.neck.capo.fret,
        "hand_mm": round(found.hand.length, 2),
        "level": found.skill.name,
        "changes": [_change(made) for made in found.changes],
        "voicings": [_voicing(held) for held in found.voicings],
        "fingers_found_are": sureness(found),
        "no_fingering": [voicing.name for voicing in found.unfingered],
    }


def _change(made: MadeChange) -> dict[str, object]:
    return {
        "from": made.before,
        "to": made.after,
        "times": made.times,
        "difficulty": made.level,
        "seconds": round(made.change.time, 2),
        "fingers": {move.finger: move.kind for move in made.change.moves},
        "tightest": _haste(made.pressed),
    }


def _haste(pressed: Haste | None) -> dict[str, object] | None:
    if pressed is None:
        return None
    return {
        "finger": pressed.finger or "all",
        "seconds_needed": round(pressed.needed, 2),
        "seconds_available": round(pressed.available, 2),
        "ratio": round(pressed.ratio, 2) if isfinite(pressed.ratio) else None,
    }


def _voicing(held: HeldVoicing) -> dict[str, object]:
    return {
        "name": held.voicing.name,
        "frets": held.voicing.frets_text,
        "fingers": held.voicing.fingers_text,
        "fingers_found": not held.voicing.fingers_given,
        "bars": held.times,
        "difficulty": held.effort.level,
        "barres": dict(held.effort.barres),
        "widest": {
            "fingers": "".join(held.effort.widest),
            "mm": round(held.effort.distance, 2),
            "limit_mm": round(held.effort.limit, 2),
        },
        "second_best": fingers_text(held.other),
        "remarks": [
            {
                "rule": verdict.rule,
                "severity": verdict.severity,
                "fingers": "".join(verdict.fingers),
                "mm": round(verdict.value, 2),
                "limit_mm": round(verdict.limit, 2),
            }
            for verdict in held.verdicts
        ],
    }
