"""A practice path as JSON values."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from fretloom.notation.model.step import Show
from fretloom.practising.novelty import NewThing
from fretloom.practising.plan import (
    ChangeDrill,
    PathPart,
    PathStep,
    PracticePath,
    PracticeSession,
    SessionItem,
)
from fretloom.practising.tempos import PracticeTempos


def practice_data(path: PracticePath) -> dict[str, Any]:
    """Return a practice path; tempos are beats a minute, rounded to a hundredth."""
    return {
        "title": path.title,
        "student": path.student,
        "begin": path.begin.isoformat() if path.begin is not None else None,
        "minutes": path.minutes,
        "days": path.days,
        "level": path.level,
        "beat": str(path.unit),
        "beat_words": path.unit_words,
        "new": [_thing(one) for one in path.new],
        "steps": [_step(one) for one in path.steps],
        "drills": [_drill(one) for one in path.drills],
        "sessions": [_session(one) for one in path.sessions],
        "later": list(path.later),
        "cautions": list(path.cautions),
    }


def _thing(one: NewThing) -> dict[str, Any]:
    return {"kind": one.kind, "key": one.key, "words": one.words}


def _step(step: PathStep) -> dict[str, Any]:
    return {
        "number": step.number,
        "label": step.label,
        "title": step.title,
        "sentences": list(step.sentences),
        "written": step.written,
        "new": [_thing(one) for one in step.new],
        "parts": [_part(one) for one in step.parts],
        "minutes": step.minutes,
        "days": list(step.days),
    }


def _part(part: PathPart) -> dict[str, Any]:
    return {
        "show": _show(part.show),
        "hands": part.hands,
        "where": part.where,
        "doing": part.doing,
        "tempos": _tempos(part.tempos),
        "ready": part.ready,
        "rest": part.rest,
    }


def _show(show: Show) -> dict[str, Any]:
    return {
        "kind": show.kind,
        "name": show.name,
        "over": show.over,
        "first": show.first,
        "last": show.last,
    }


def _tempos(tempos: PracticeTempos | None) -> dict[str, Any] | None:
    if tempos is None:
        return None
    return {
        "start": _number(tempos.start),
        "goal": _number(tempos.goal),
        "ladder": [_number(one) for one in tempos.ladder],
        "ease": tempos.ease,
        "breaks": tempos.breaks,
    }


def _drill(drill: ChangeDrill) -> dict[str, Any]:
    return {
        "from": drill.show.name,
        "to": drill.show.over,
        "where": drill.where,
        "doing": drill.doing,
        "difficulty": drill.level,
        "breaks": drill.breaks,
        "rest": drill.rest,
    }


def _session(session: PracticeSession) -> dict[str, Any]:
    return {
        "day": session.day,
        "date": session.date.isoformat() if session.date is not None else None,
        "date_words": session.date_words,
        "minutes": session.minutes,
        "items": [_item(one) for one in session.items],
        "pause": session.pause,
    }


def _item(item: SessionItem) -> dict[str, Any]:
    return {
        "kind": item.kind,
        "doing": item.doing,
        "where": item.where,
        "step": item.step,
        "show": _show(item.show) if item.show is not None else None,
        "hands": item.hands,
        "minutes": item.minutes,
        "start": _number(item.start),
        "goal": _number(item.goal),
        "ready": item.ready,
        "rest": item.rest,
    }


def _number(tempo: Fraction | None) -> int | float | None:
    if tempo is None or tempo.denominator == 1:
        return int(tempo) if tempo is not None else None
    return round(float(tempo), 2)
