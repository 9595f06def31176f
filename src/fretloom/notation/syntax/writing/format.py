"""Writes a lesson in its canonical form: tables aligned, every comment where it belongs.

Reading the result gives an equal model, and formatting it again changes nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import Any

from fretloom.limits import LIMITS
from fretloom.notation.editions import present
from fretloom.notation.model.form import But, Form, FormEntry
from fretloom.notation.model.heading import Heading
from fretloom.notation.model.lesson import (
    Block,
    Edition,
    Home,
    Lesson,
    PatternBlock,
    PickingBlock,
    Use,
    VoicingBlock,
    with_edition,
)
from fretloom.notation.model.margin import Margin, Unread
from fretloom.notation.model.pattern import Pattern
from fretloom.notation.model.section import (
    RepeatEnd,
    RepeatStart,
    Section,
)
from fretloom.notation.model.step import Prose, Show, Step
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.notation.model.walking.walk import Line, lines
from fretloom.notation.syntax.signs import quoted
from fretloom.notation.syntax.writing import statements
from fretloom.notation.syntax.writing import words as write
from fretloom.trade.guitar.voicing import frets_text

INDENT = "  "
#: A pattern of several bars that would be longer is written with one bar a line.
LONGEST_PATTERN = 90


def format_lesson(lesson: Lesson) -> str:
    """Return the canonical text of a lesson; it ends with a line end unless it is empty."""
    lines: list[str] = []
    before: Block | None = None
    # The reader goes by the first line of the whole text that says how notes are named.
    said = (block.setting("names") for block in lesson.blocks if isinstance(block, Heading))
    naming = next((str(one.value) for one in said if one), "english")
    for block in with_edition(lesson.blocks):
        if lines and not (isinstance(block, Use) and isinstance(before, Use)):
            lines.append("")
        lines += _block(block, naming)
        before = block
    if lesson.tail and lines:
        lines.append("")
    lines += lesson.tail
    return "\n".join(lines) + "\n" if lines else ""


def _block(block: Block, naming: str) -> Iterator[str]:
    """Yield the line that opens a block and all lines in it."""
    opening, *kept = _opening(block).split("\n")
    yield from _line(opening, block.margin, "", gap=False)
    yield from kept
    first = True
    written = _writer(block, naming)
    for line, depth in _indented(block):
        text = line.text if isinstance(line, Unread) else written(line)
        yield from _line(text, line.margin, INDENT * depth, gap=line.margin.gap and not first)
        first = False
    for comment in getattr(block, "tail", ()):
        yield INDENT + comment


def _indented(block: Block) -> Iterator[tuple[Line, int]]:
    """Yield the lines of a block, those inside a repeat one step deeper."""
    open_repeats = 0
    for line, depth in lines(block):
        open_repeats = max(open_repeats - isinstance(line, RepeatEnd), 0)
        yield line, depth + min(open_repeats, LIMITS.depth)
        open_repeats += isinstance(line, RepeatStart)


def _line(text: str, margin: Margin, indent: str, *, gap: bool) -> Iterator[str]:
    """Yield one statement with its comments; a statement may go on for several lines."""
    if gap:
        yield ""
    for comment in margin.above:
        yield indent + comment
    whole = indent + text
    yield f"{whole}  {margin.beside}" if margin.beside else whole


def _opening(block: Block) -> str:
    if not isinstance(block, Edition | Use | Unread) and block.opening:
        return block.opening
    match block:
        case Edition():
            return f"notation {present()}"
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


Writer = Callable[[Any], str]


def _writer(block: Block, naming: str) -> Writer:
    """Return the writer of a block's lines; tables are measured first."""
    match block:
        case Heading():
            return partial(write.setting, naming=naming)
        case PickingBlock():
            return _home
        case VoicingBlock():
            return _voicings([line for line in block.lines if isinstance(line, VoicingEntry)])
        case PatternBlock():
            return _patterns([line for line in block.lines if isinstance(line, Pattern)])
        case Section():
            return statements.section_line
        case Form():
            return _form_line
    return _step_line


def _home(line: Home) -> str:
    return f"{line.finger} plays {' '.join(map(str, line.strings))}"


def _voicings(entries: Sequence[VoicingEntry]) -> Writer:
    """Align names, frets, fingers and bass orders in columns of their own."""
    names = max((len(entry.name) for entry in entries), default=0)
    given = [[frets_text(entry.frets), *write.holds(entry)] for entry in entries if not entry.like]
    widths = [max((len(row[column]) for row in given), default=0) for column in range(4)]
    likes = max((len(entry.like) for entry in entries if entry.like), default=0)

    def written(line: VoicingEntry) -> str:
        if line.like:
            changes = [write.change(made) for made in line.changes]
            cells = [f"like {line.like.ljust(likes)}", *changes, *filter(None, write.holds(line))]
        else:
            row = [frets_text(line.frets), *write.holds(line)]
            cells = [cell.ljust(width) for cell, width in zip(row, widths, strict=True) if width]
        return "  ".join([line.name.ljust(names), *cells]).rstrip()

    return written


def _patterns(patterns: Sequence[Pattern]) -> Writer:
    """Align the beats of patterns; a long one of several bars gets a line for each bar."""
    width = max((len(_pattern_head(pattern)) for pattern in patterns), default=0)

    def written(line: Pattern) -> str:
        head = _pattern_head(line).ljust(width)
        bars = [write.beats(bar) for bar in line.bars]
        text = f"{head}  " + " | ".join(bars)
        if len(bars) > 1 and len(text) > LONGEST_PATTERN:
            text = f"{head}  " + f"\n{INDENT}{'| '.rjust(width + 2)}".join(bars)
        return text.rstrip()

    return written


def _pattern_head(pattern: Pattern) -> str:
    words = [pattern.name]
    if pattern.title:
        words.append(quoted(pattern.title))
    if pattern.meter is not None:
        words.append(f"in {pattern.meter}")
    return " ".join(words) + (":" if len(words) > 1 else "")


def _form_line(line: FormEntry | But) -> str:
    if not isinstance(line, FormEntry):
        return statements.but(line)
    return line.section if line.times == 1 else f"{line.section} x{line.times}"


def _step_line(line: Prose | Show) -> str:
    return line.text if isinstance(line, Prose) else write.show(line)
