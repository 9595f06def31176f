"""Lines of sections and of the form, written from the model."""

from __future__ import annotations

from fretloom.notation.model.details.expression import (
    BackToTempo,
    DynamicChange,
    DynamicRamp,
    FreeTime,
    TempoChange,
    TempoRamp,
)
from fretloom.notation.model.details.sung import SungBar, WordsLine
from fretloom.notation.model.form import (
    LAST,
    But,
    ChangeBars,
    ChangeDynamic,
    ChangePattern,
    ChangeTempo,
    ChangeWords,
    DropBars,
    DynamicRun,
    KeepBars,
    TempoRun,
    WithoutRepeats,
)
from fretloom.notation.model.section import (
    BarLine,
    EndingStart,
    MeterChange,
    RepeatEnd,
    RepeatStart,
    SectionLine,
    ShortBar,
    UsingLine,
)
from fretloom.notation.syntax.signs import quoted, share, tempo
from fretloom.notation.syntax.writing import words as write
from fretloom.text import counted


def section_line(line: SectionLine) -> str:
    """Write one line of a section."""
    match line:
        case BarLine():
            return write.line_of_bars(line.bars)
        case ShortBar():
            return f"{line.kind} {_length(line)}: {write.bar(line.bar)}"
        case EndingStart():
            return f"ending {' '.join(map(str, line.passes))}: {write.bars(line.bars)}"
        case RepeatStart():
            return f"repeat {line.times}"
        case RepeatEnd():
            return "end"
        case MeterChange():
            return f"meter {line.meter}"
        case UsingLine():
            return f"using {line.using}"
    return _expression(line)


def _length(line: ShortBar) -> str:
    if line.start is not None:
        return f"from {line.start}"
    if line.before is not None:
        return f"before {line.before}"
    return f"to {line.through}" if line.beats is None else share(line.beats)


def _expression(line: SectionLine) -> str:
    match line:
        case TempoChange():
            return f"tempo {tempo(line.tempo)}"
        case TempoRamp():
            return f"{line.kind} to {tempo(line.tempo)} over {counted(line.bars, 'bar')}"
        case BackToTempo():
            return "a tempo"
        case FreeTime():
            return "free time"
        case DynamicChange():
            return f"dynamic {line.dynamic}"
        case DynamicRamp():
            return f"{line.kind} to {line.dynamic} over {counted(line.bars, 'bar')}"
        case WordsLine():
            number = "" if line.verse is None else f" {line.verse}"
            return f"words{number}: " + " | ".join(map(_sung, line.bars))
    return getattr(line, "text", "")


def _sung(bar: SungBar) -> str:
    if not bar.text:
        return "-"
    counts = " on " + " ".join(map(str, bar.counts)) if bar.counts else ""
    return quoted(bar.text) + counts


def bars_named(first: int, last: int) -> str:
    """Write a run of bars; `LAST` (-1) is the last bar of the section, -2 the one before it."""
    if first == LAST:
        return "last bar"
    if first < 0:
        return f"last {-first} bars"
    if last == LAST:
        return f"from bar {first}"
    return f"bar {first}" if first == last else f"bars {first}-{last}"


def but(difference: But, picking: str = "") -> str:
    """Write what is different in one playing of a section; `picking` as in `bar`."""
    match difference:
        case ChangeBars():
            place = bars_named(difference.first, difference.last)
            return f"but {place}: {write.bars(difference.bars, picking)}"
        case DropBars():
            return f"but without {bars_named(difference.first, difference.last)}"
        case KeepBars():
            return f"but only {bars_named(difference.first, difference.last)}"
        case WithoutRepeats():
            return "but without repeats"
        case ChangeWords():
            return f"but words {difference.verse}"
    return _how(difference)


def _how(difference: But) -> str:
    """Write how bars are played in one playing."""
    match difference:
        case ChangePattern():
            return f"but {_run(difference)}using {difference.using}"
        case ChangeTempo():
            return f"but {_run(difference)}tempo {tempo(difference.tempo)}"
        case ChangeDynamic():
            return f"but {_run(difference)}dynamic {difference.dynamic}"
        case TempoRun():
            over = bars_named(difference.first, difference.last)
            return f"but {difference.kind} to {tempo(difference.tempo)} over {over}"
        case DynamicRun():
            over = bars_named(difference.first, difference.last)
            return f"but {difference.kind} to {difference.dynamic} over {over}"
    return getattr(difference, "text", "")


def _run(difference: ChangePattern | ChangeTempo | ChangeDynamic) -> str:
    if difference.first is None or difference.last is None:
        return ""
    return bars_named(difference.first, difference.last) + " "
