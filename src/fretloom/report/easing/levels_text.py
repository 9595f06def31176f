"""For which level a lesson is, for a reader."""

from __future__ import annotations

from fretloom.arranging.easing.fits import LevelFit, LevelFits
from fretloom.report.easing.words import beyond_lines, headline
from fretloom.text import visible
from fretloom.trade.music.tempo import in_notes


def levels_text(found: LevelFits) -> str:
    """Return a sentence for each level, and below it what is beyond it and why."""
    title = visible(found.settings.title) or "Lesson without a title"
    parts = [f"{title}, tempo {in_notes(found.settings.tempo)}, {found.settings.level}"]
    parts += ["\n".join(_level(one)) for one in found.levels]
    return "\n\n".join(parts) + "\n"


def _level(fit: LevelFit) -> list[str]:
    said = headline(fit)
    lines = [f"{said[:1].upper()}{said[1:]}", *(f"  {line}" for line in beyond_lines(fit))]
    return [visible(line) for line in lines]
