"""Writes a lesson in its canonical form: tables aligned, every comment where it belongs.

Reading the result gives an equal model, and formatting it again changes nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import partial
from typing import Any

from fretloom.notation.model.form import Form, FormEntry
from fretloom.notation.model.heading import Heading
from fretloom.notation.model.lesson import (
    Block,
    Home,
    Lesson,
    PatternBlock,
    PickingBlock,
    Use,
    VoicingBlock,
)
from fretloom.notation.model.margin import Margin, Unread
from fretloom.notation.model.pattern import Pattern
from fretloom.notation.model.section import (
    BarLine,
    EndingStart,
    MeterChange,
    RepeatEnd,
    RepeatStart,
    Section,
    SectionLine,
    ShortBar,
    TempoChange,
)
from fretloom.notation.model.step import Prose, Show, Step
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.notation.syntax.signs import quoted, tempo
from fretloom.notation.syntax.writing import words as write
from fretloom.trade.guitar.voicing import frets_text

INDENT = "  "
#: A pattern of several bars that would be longer is written with one bar a line.
LONGEST_PATTERN = 90


def format_lesson(lesson: Lesson) -> str:
    """Return the canonical text of a lesson; it ends with a line end unless it is empty."""
    lines: list[str] = []
    before: Block | None = None
    for block in lesson.blocks:
        if lines and not (isinstance(block, Use) and isinstance(before, Use)):
            lines.append("")
        lines += _block(block)
        before = block
    if lesson.tail and lines:
        lines.append("")
    lines += lesson.tail
    return "\n".join(lines) + "\n" if lines else ""


def _block(block: Block) -> Iterator[str]:
    """Yield the line that opens a block and all lines in it."""
    yield from _line(_opening(block), block.margin, "", gap=False)
    first = True
    for text, margin, depth in _body(block):
        yield from _line(text, margin, INDENT * depth, gap=margin.gap and not first)
        first = False
    for comment in getattr(block, "tail", ()):
        yield INDENT + comment


def _line(text: str, margin: Margin, indent: str, *, gap: bool) -> Iterator[str]:
    """Yield one statement with its comments; a statement may go on over several lines."""
    if gap:
        yield ""
    for comment in margin.above:
        yield indent + comment
    whole = indent + text
    yield f"{whole}  {margin.beside}" if margin.beside else whole


def _opening(block: Block) -> str:
    match block:
        case Heading():
            return f"lesson {quoted(block.title)}"
        case Use():
            return f"use {quoted(block.path)}"
        case PickingBlock():
            return "picking"
        case VoicingBlock():
            return "voicings"
        case PatternBlock():
            return "patterns"
        case Section():
            return _section_opening(block)
        case Form():
            return "form"
        case Step():
            return f"step {quoted(block.title)}"
    return block.text


def _section_opening(section: Section) -> str:
    words = [f"section {section.name}"]
    if section.stated_bars is not None:
        words.append(f"{section.stated_bars} {'bar' if section.stated_bars == 1 else 'bars'}")
    if section.meter is not None:
        words.append(f"in {section.meter}")
    if section.using:
        words.append(f"using {section.using}")
    if section.title:
        words.append(quoted(section.title))
    return "  ".join(words)


_Written = tuple[str, Margin, int]


def _body(block: Block) -> Iterable[_Written]:
    """Return the lines inside a block, each with its margin and its depth."""
    match block:
        case Heading():
            naming = str(names.value) if (names := block.setting("names")) else "english"
            return [_plain(line, partial(write.setting, naming=naming)) for line in block.settings]
        case PickingBlock():
            return [_plain(line, _home) for line in block.lines]
        case VoicingBlock():
            return _voicings(block.lines)
        case PatternBlock():
            return _patterns(block.lines)
        case Section():
            return _section(block)
        case Form():
            return _form(block)
        case Step():
            return [_plain(line, _step_line) for line in block.lines]
    return []


def _plain(line: Any, written: Any) -> _Written:
    return (line.text if isinstance(line, Unread) else written(line), line.margin, 1)


def _home(line: Home) -> str:
    return f"{line.finger} plays {' '.join(map(str, line.strings))}"


def _voicings(lines: Sequence[VoicingEntry | Unread]) -> list[_Written]:
    """Align names, frets, fingers and bass orders in columns of their own."""
    entries = [line for line in lines if isinstance(line, VoicingEntry)]
    names = max((len(entry.name) for entry in entries), default=0)
    given = [[frets_text(entry.frets), *write.holds(entry)] for entry in entries if not entry.like]
    widths = [max((len(row[column]) for row in given), default=0) for column in range(4)]
    likes = max((len(entry.like) for entry in entries if entry.like), default=0)
    written: list[_Written] = []
    for line in lines:
        if isinstance(line, Unread):
            written.append((line.text, line.margin, 1))
            continue
        if line.like:
            changes = [write.change(made) for made in line.changes]
            cells = [f"like {line.like.ljust(likes)}", *changes, *filter(None, write.holds(line))]
        else:
            row = [frets_text(line.frets), *write.holds(line)]
            cells = [cell.ljust(width) for cell, width in zip(row, widths, strict=True) if width]
        written.append(("  ".join([line.name.ljust(names), *cells]).rstrip(), line.margin, 1))
    return written


def _patterns(lines: Sequence[Pattern | Unread]) -> list[_Written]:
    """Align the beats of patterns; a long one of several bars gets a line for each bar."""
    heads = [_pattern_head(line) for line in lines if isinstance(line, Pattern)]
    width = max((len(head) for head in heads), default=0)
    written: list[_Written] = []
    for line in lines:
        if isinstance(line, Unread):
            written.append((line.text, line.margin, 1))
            continue
        head = _pattern_head(line).ljust(width)
        bars = [write.beats(bar) for bar in line.bars]
        text = f"{head}  " + " | ".join(bars)
        if len(bars) > 1 and len(text) > LONGEST_PATTERN:
            text = f"{head}  " + f"\n{INDENT}{'| '.rjust(width + 2)}".join(bars)
        written.append((text.rstrip(), line.margin, 1))
    return written


def _pattern_head(pattern: Pattern) -> str:
    words = [pattern.name]
    if pattern.title:
        words.append(quoted(pattern.title))
    if pattern.meter is not None:
        words.append(f"in {pattern.meter}")
    return " ".join(words) + (":" if len(words) > 1 else "")


def _section(section: Section) -> list[_Written]:
    """Write the lines of a section, those inside a repeat one step deeper."""
    written: list[_Written] = []
    depth = 1
    for line in section.lines:
        if isinstance(line, RepeatEnd):
            depth = max(depth - 1, 1)
        text = line.text if isinstance(line, Unread) else _section_line(line)
        written.append((text, line.margin, depth))
        depth += isinstance(line, RepeatStart)
    return written


def _section_line(line: SectionLine) -> str:
    match line:
        case BarLine():
            return write.bars(line.bars)
        case ShortBar():
            length = f"from {line.start}" if line.beats is None else str(line.beats)
            return f"{line.kind} {length}: {write.bar(line.bar)}"
        case MeterChange():
            return f"meter {line.meter}"
        case TempoChange():
            return f"tempo {tempo(line.tempo)}"
        case RepeatStart():
            return f"repeat {line.times}"
        case EndingStart():
            return f"ending {' '.join(map(str, line.passes))}: {write.bars(line.bars)}"
        case RepeatEnd():
            return "end"
    return line.text


def _form(form: Form) -> list[_Written]:
    written: list[_Written] = []
    for entry in form.entries:
        if isinstance(entry, Unread):
            written.append((entry.text, entry.margin, 1))
            continue
        written.append((_entry(entry), entry.margin, 1))
        written += [(write.but(difference), difference.margin, 2) for difference in entry.buts]
    return written


def _entry(entry: FormEntry) -> str:
    return entry.section if entry.times == 1 else f"{entry.section} x{entry.times}"


def _step_line(line: Prose | Show) -> str:
    return line.text if isinstance(line, Prose) else write.show(line)
