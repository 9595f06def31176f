"""What has been worked out for a lesson, for a second run with other fingers.

Only what is right is kept: a fault is met and noted again.
"""

from __future__ import annotations

from collections.abc import Hashable
from fractions import Fraction

from attrs import field

from fretloom.performance.expansion.timing.strokes import Layout
from fretloom.performance.expansion.timing.template import Template
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.meter import Meter
from fretloom.values import frozen


@frozen(eq=False)
class PatternLayout:
    """A pattern laid out in its meter, bar by bar."""

    name: str
    meter: Meter
    bars: tuple[Layout, ...]


@frozen(eq=False)
class Workings:
    """Each thing once: voicings and patterns by name, layouts and templates by what they are made of.

    `onsets` are where the voicings of a bar begin, by its part of the meter and their beats.
    """

    voicings: dict[str, Voicing] = field(factory=dict)
    patterns: dict[str, PatternLayout] = field(factory=dict)
    layouts: dict[Hashable, Layout] = field(factory=dict)
    templates: dict[Hashable, Template] = field(factory=dict)
    onsets: dict[Hashable, tuple[Fraction, ...]] = field(factory=dict)
