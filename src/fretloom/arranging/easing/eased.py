"""What was made easier in a lesson, and what was not: values, put into words elsewhere."""

from __future__ import annotations

from fretloom.arranging.easing.fits import LevelFit
from fretloom.arranging.easing.heard_otherwise import HeardOtherwise
from fretloom.arranging.easing.load import Load
from fretloom.arranging.remarks import NamedInWords
from fretloom.notation.model.lesson import Lesson
from fretloom.performance.events import Settings
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.meter import Count
from fretloom.trade.music.tempo import Tempo
from fretloom.trade.playability.effort import Effort
from fretloom.values import frozen


@frozen(kw_only=True)
class ShapeEased:
    """A voicing that has an easier one in its place.

    Args:
        before, after: the two, with their efforts. kind: "smaller", another shape of the same chord;
            "thumb", one with the thumb over the neck; "near", one of another chord; "hop", the
            same without a hop.
        reasons: what was beyond the level. heard: what is heard otherwise.
    """

    before: Voicing
    after: Voicing
    kind: str
    reasons: tuple[str, ...]
    effort_before: Effort
    effort_after: Effort
    heard: HeardOtherwise


@frozen(kw_only=True)
class PickingEased:
    """A pattern, or a bar written out, from which plucks were taken away.

    Args:
        pattern: its name, "" for a bar written out. bar: the bar as findings name it.
        before, after: as they are written. dropped: the counts on which nothing is plucked any more.
        thumb: the counts on which the thumb no longer plucks. lost: what was plucked there and
            named a fret, or had more asked of it, as it was written.
        load: what it asked of the hand before.
    """

    pattern: str
    bar: str
    before: str
    after: str
    dropped: tuple[Count, ...]
    thumb: tuple[Count, ...] = ()
    lost: tuple[str, ...] = ()
    load: Load


@frozen
class TempoEased:
    """The tempo of the song before and now, and for what: the changes and patterns that were too quick for it."""

    before: Tempo
    after: Tempo
    changes: tuple[tuple[str, str], ...] = ()
    patterns: tuple[str, ...] = ()


@frozen(kw_only=True)
class Eased:
    """An easier lesson based on another, and what its teacher should know about it.

    Args:
        lesson: the new lesson, with its text; None if there is nothing to write, because nothing is
            beyond the level or nothing could be made easier.
        settings: of the first lesson. level: the one asked for.
        shapes, picking, tempo: what was made easier; `tempo` is None if it stays.
        left: what is still beyond the level.
        words: steps whose words name what is different now.
    """

    lesson: Lesson | None
    settings: Settings
    level: str
    shapes: tuple[ShapeEased, ...] = ()
    picking: tuple[PickingEased, ...] = ()
    tempo: TempoEased | None = None
    left: LevelFit
    words: tuple[NamedInWords, ...] = ()
