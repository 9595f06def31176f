"""Suggested voicings and capos, for a reader or as JSON."""

from __future__ import annotations

import json
from collections.abc import Sequence

from fretloom.arranging.find_capos import CapoChoice
from fretloom.arranging.find_voicings import FoundVoicing
from fretloom.arranging.remarks import NutBarred
from fretloom.report.advice.remarks import remark_text
from fretloom.text import counted, table, visible
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.wording import capo_words


def voicings_text(name: str, found: Sequence[FoundVoicing]) -> str:
    """Return suggested voicings as lines for the `voicings` block of a lesson, easiest first."""
    if not found:
        return f"no playable voicing of {visible(name)} was found on this instrument\n"
    lines = [f"{visible(name)}, easiest first (1 easy to 5 hard)"]
    rows = [
        (
            visible(one.voicing.name),
            one.voicing.frets_text,
            f"fingers {one.voicing.fingers_text}" if any(one.voicing.frets) else "",
            f"bass {' '.join(map(str, one.voicing.bass))}",
            f"# {one.effort.level}{_remarks(one)}",
        )
        for one in found
    ]
    lines += [f"  {line}" for line in table(rows)]
    return "\n".join(lines) + "\n"


def _remarks(found: FoundVoicing) -> str:
    words = [
        f"barre over {counted(width, 'string')}"
        for finger, width in found.effort.barres
        if finger == "1"
    ]
    if found.fit.inverted:
        words.append("the root is not in the bass")
    if found.fit.rootless:
        words.append("without the root")
    return "".join(f", {word}" for word in words)


def voicings_json(name: str, found: Sequence[FoundVoicing]) -> str:
    """Return suggested voicings as JSON."""
    voicings = [
        {
            "name": one.voicing.name,
            "frets": one.voicing.frets_text,
            "fingers": one.voicing.fingers_text,
            "bass": list(one.voicing.bass),
            "difficulty": one.effort.level,
            "barres": dict(one.effort.barres),
            "inverted": one.fit.inverted,
            "rootless": one.fit.rootless,
        }
        for one in found
    ]
    return json.dumps({"chord": name, "voicings": voicings}, indent=2, ensure_ascii=False) + "\n"


def capos_text(choices: Sequence[CapoChoice]) -> str:
    """Return capo choices as text, easiest first."""
    lines = [f"Sounding in {choices[0].sounds}, easiest first" if choices else "no capo fits"]
    for one in choices:
        now = "  (as the lesson is)" if one.now else ""
        lines.append(
            f"\n{capo_words(Capo(one.capo))}: shapes of {one.plays}, difficulty {one.points:.1f} a bar{now}"
        )
        before, after, level = one.hardest
        barres = ", ".join(map(visible, one.barres)) or "none"
        lines.append(f"  barres: {len(one.barres)} ({barres})" if one.barres else "  barres: none")
        if level:
            lines.append(f"  hardest change: {visible(before)} to {visible(after)} ({level} of 5)")
        rows = [(visible(v.name), v.frets_text, v.fingers_text) for v in one.voicings]
        lines += [f"    {line}" for line in table(rows)]
        barred = [remark for remark in one.remarks if isinstance(remark, NutBarred)]
        lines += [f"  note: {visible(remark_text(remark))}" for remark in barred]
    return "\n".join(lines) + "\n"


def capos_json(choices: Sequence[CapoChoice]) -> str:
    """Return capo choices as JSON."""
    found = [
        {
            "capo": one.capo,
            "plays": str(one.plays),
            "sounds": str(one.sounds),
            "difficulty": round(one.points, 2),
            "barres": list(one.barres),
            "hardest": {
                "from": one.hardest[0],
                "to": one.hardest[1],
                "difficulty": one.hardest[2],
            },
            "now": one.now,
            "voicings": [
                {"name": v.name, "frets": v.frets_text, "fingers": v.fingers_text}
                for v in one.voicings
            ],
            "remarks": [remark_text(remark) for remark in one.remarks],
        }
        for one in choices
    ]
    return json.dumps({"choices": found}, indent=2, ensure_ascii=False) + "\n"
