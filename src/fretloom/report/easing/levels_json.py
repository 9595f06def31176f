"""For which level a lesson is, as JSON."""

from __future__ import annotations

from math import isfinite
from typing import Any

from fretloom.arranging.easing.fits import LevelFit, LevelFits, PickingBeyond, VoicingBeyond
from fretloom.performance.hands.hardest import MadeChange
from fretloom.report.easing.words import (
    change_reasons,
    headline,
    picking_reasons,
    voicing_reasons,
)
from fretloom.trade.music.tempo import Tempo


def levels_data(found: LevelFits) -> dict[str, Any]:
    """Return what is beyond each level; seconds are rounded to a hundredth."""
    first = found.first
    return {
        "title": found.settings.title,
        "level": found.settings.level,
        "tempo": tempo_data(found.settings.tempo),
        "suits": first.level if first else None,
        "levels": [fit_data(one) for one in found.levels],
    }


def fit_data(fit: LevelFit) -> dict[str, Any]:
    """Return what is beyond one level."""
    return {
        "level": fit.level,
        "fits": fit.fits,
        "message": headline(fit),
        "voicings": [_voicing(one) for one in fit.voicings],
        "changes": [_change(one) for one in fit.changes],
        "picking": [_picking(one, fit.level) for one in fit.picking],
        "tempo": tempo_data(fit.tempo) if fit.tempo else None,
        "slow_enough": fit.slow_enough,
    }


def tempo_data(tempo: Tempo) -> dict[str, Any]:
    """Return a tempo: how many notes a minute, and of what length in quarter notes."""
    return {"per_minute": float(tempo.per_minute), "unit": float(tempo.unit)}


def _voicing(one: VoicingBeyond) -> dict[str, Any]:
    voicing = one.held.voicing
    return {
        "name": voicing.name,
        "frets": voicing.frets_text,
        "fingers": voicing.fingers_text,
        "bars": one.held.times,
        "difficulty": one.held.effort.level,
        "reasons": list(one.reasons),
        "message": voicing_reasons(one),
    }


def _change(one: MadeChange) -> dict[str, Any]:
    pressed = one.pressed
    return {
        "from": one.before,
        "to": one.after,
        "times": one.times,
        "difficulty": one.level,
        "seconds_needed": round(pressed.needed, 2) if pressed else None,
        "seconds_available": round(pressed.available, 2) if pressed else None,
        "message": change_reasons(one),
    }


def _picking(one: PickingBeyond, level: str) -> dict[str, Any]:
    return {
        "pattern": one.pattern,
        "bar": one.bar,
        "reasons": list(one.reasons),
        "between": one.load.between,
        "pinches": one.load.pinches,
        "seconds": round(one.seconds, 3) if isfinite(one.seconds) else None,
        "message": picking_reasons(one, level),
    }
