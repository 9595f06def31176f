"""A pattern by itself, laid out over a voicing: what a student learns before the song.

The bars come from expanding a small lesson made for it, so that a pattern sounds here as it does in the song.
"""

from __future__ import annotations

from collections.abc import Iterable
from copy import copy

from attrs import evolve

from fretloom.notation.model.section import Bar, BarLine, Part, Section
from fretloom.performance.events import TimedBar, Timeline
from fretloom.performance.expansion.expand import expand_with
from fretloom.performance.reading import Reading
from fretloom.shapes import trusted

#: A pattern and the voicing it is shown over, by their names in the lesson.
PatternOver = tuple[str, str]


class FirstOvers:
    """Over which voicing of a lesson each pattern comes first in the song."""

    def __init__(self, timeline: Timeline) -> None:
        """Look through the performance once."""
        self._first: dict[str, str] = {}
        for played in timeline.bars:
            if played.bar.voicings:
                self._first.setdefault(played.bar.pattern, played.bar.voicings[0].voicing.name)
        sounding = (name for name, one in timeline.voicings.items() if not one.silent)
        self._else = next(sounding, "")

    def of(self, pattern: str) -> str:
        """Return the voicing for a pattern; one that the song does not have is shown over the lesson's first."""
        return self._first.get(pattern, self._else)


def patterns_alone(
    reading: Reading, wanted: Iterable[PatternOver]
) -> dict[PatternOver, tuple[TimedBar, ...]]:
    """Return for each pattern over a voicing its bars; what the lesson does not have is left out."""
    patterns, voicings = reading.material.patterns, reading.material.voicings
    pairs = [
        (pattern, over) for pattern, over in dict.fromkeys(wanted)
        if pattern in patterns and (over in voicings or over in reading.timeline.voicings)
    ]  # fmt: skip
    if not pairs:
        return {}
    material = copy(reading.material)
    with trusted():
        sections = [
            Section(
                name=f"alone-{number}",
                using=pattern,
                meter=patterns[pattern].meter,
                lines=(
                    BarLine(
                        bars=(Bar(parts=(Part(voicing=over),), times=len(patterns[pattern].bars)),)
                    ),
                ),
            )
            for number, (pattern, over) in enumerate(pairs)
        ]
    material.sections = {section.name: section for section in sections}
    material.form, material.steps = None, ()
    fingers = {name: one.fingers for name, one in reading.timeline.voicings.items() if one.fingers}
    open_fingers = {name: fingers[name] for name in material.open_fingers if name in fingers}
    with trusted():
        alone = expand_with(evolve(reading.lesson, blocks=()), material, open_fingers).timeline
    bars: dict[str, list[TimedBar]] = {}
    for played in alone.bars:
        bars.setdefault(played.section, []).append(played.bar)
    return {
        pair: tuple(bars[section.name])
        for pair, section in zip(pairs, sections, strict=True)
        if section.name in bars
    }
