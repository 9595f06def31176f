"""Suggested voicings and capos, for a reader."""

from __future__ import annotations

from fretloom.arranging.find_capos import CapoChoices
from fretloom.arranging.find_voicings import FoundVoicing, FoundVoicings
from fretloom.arranging.remarks import LineLost, NutBarred
from fretloom.report.advice.remarks import remark_text
from fretloom.text import counted, table, visible
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.wording import capo_words


def voicings_text(found: FoundVoicings) -> str:
    """Return suggested voicings as lines for the `voicings` block of a lesson, best first."""
    name = found.chord
    if not found.voicings:
        return f"no playable voicing of {visible(name)} was found on this instrument\n"
    lines = [f"{visible(name)}, the usual shapes first (1 easy to 5 hard)"]
    rows = [
        (
            visible(one.voicing.name),
            one.voicing.frets_text,
            f"fingers {one.voicing.fingers_text}" if any(one.voicing.frets) else "",
            f"bass {' '.join(map(str, one.voicing.bass))}",
            f"# {one.effort.level}{_remarks(one)}",
        )
        for one in found.voicings
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


def capos_text(found: CapoChoices) -> str:
    """Return capo choices as text, easiest first."""
    lines = [f"Sounding in {found.sounds}, easiest first" if found.choices else "no capo fits"]
    for one in found.choices:
        now = "  (as the lesson is)" if one.now else ""
        lines.append(
            f"\n{capo_words(Capo(one.capo))}: shapes of {one.plays}, difficulty {one.points:.1f} a bar{now}"
        )
        before, after, level = one.hardest
        barres = ", ".join(map(visible, one.barres)) or "none"
        lines.append(f"  barres: {len(one.barres)} ({barres})" if one.barres else "  barres: none")
        if one.hidden:
            lines.append(f"  frets over the body: {', '.join(map(visible, one.hidden))}")
        if level:
            lines.append(f"  hardest change: {visible(before)} to {visible(after)} ({level} of 5)")
        rows = [
            (visible(v.name), v.frets_text, v.fingers_text) for v in one.voicings if not v.silent
        ]
        lines += [f"    {line}" for line in table(rows)]
        noted = [remark for remark in one.remarks if isinstance(remark, NutBarred | LineLost)]
        lines += [f"  note: {visible(remark_text(remark))}" for remark in noted]
    if found.left_aside:
        aside = counted(found.left_aside, "other place")
        lines.append(
            f"\nthe lesson is very long, so only the likeliest places were judged: {aside} left aside"
        )
    return "\n".join(lines) + "\n"
