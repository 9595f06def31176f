"""What students read for each voicing of a lesson: one name everywhere, and no two voicings the same."""

from __future__ import annotations

from fretloom.characters import nothing_hidden
from fretloom.performance.events import Timeline
from fretloom.performance.printed_names import printed_names
from fretloom.trade.wording import with_signs


def shape_names(timeline: Timeline) -> dict[str, str]:
    """Return the printed name of each voicing of a lesson, by its name there: "G", "G at fret 3"."""
    voicings = dict(timeline.voicings)
    written = (one.bar for section in timeline.sections for one in section.bars)
    played = (bar for _, bar in timeline.distinct_bars())
    for bars in (written, played):
        for bar in bars:
            for taken in bar.voicings:
                voicings.setdefault(taken.voicing.name, taken.voicing)
    return printed_names(list(voicings.values()))


def signed_names(timeline: Timeline) -> dict[str, str]:
    """Return the names with printed signs, "C♯m7", and nothing in them that is not seen."""
    return {name: with_signs(nothing_hidden(one)) for name, one in shape_names(timeline).items()}
