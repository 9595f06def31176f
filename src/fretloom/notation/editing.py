"""Lessons changed in one place, by a value of the model or by a line of the notation.

Each function returns a new lesson; it behaves as if it had been read from its own text. A value
that takes the place of another one keeps the comments of that one, unless it has some of its own.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from fretloom.errors import ModelError
from fretloom.notation.model.form import Form
from fretloom.notation.model.heading import Heading, Setting
from fretloom.notation.model.lesson import (
    Block,
    Edition,
    Lesson,
    PatternBlock,
    PickingBlock,
    Use,
    VoicingBlock,
)
from fretloom.notation.model.pattern import Pattern
from fretloom.notation.model.section import Bar, BarLine, EndingStart, Section, ShortBar
from fretloom.notation.model.step import Step
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.notation.rereading import refuse_unfinished
from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.source import Source
from fretloom.text import near_names
from fretloom.values import evolve

T = TypeVar("T")


def with_voicing(lesson: Lesson, voicing: VoicingEntry | str) -> Lesson:
    """Return the lesson with a voicing, in place of the one of that name if there is one.

    Args:
        lesson: any lesson or file of voicings.
        voicing: a value, or a line such as `G  320003  fingers 21...3`.

    Raises:
        ModelError: the line is not one voicing.
    """
    new = _value(lesson, voicing, VoicingEntry, "voicings\n  ")
    return _with_named(lesson, new, VoicingBlock, (Edition, Heading, Use, PickingBlock))


def with_pattern(lesson: Lesson, pattern: Pattern | str) -> Lesson:
    """Return the lesson with a pattern, in place of the one of that name if there is one.

    Args:
        lesson: any lesson or file of patterns.
        pattern: a value, or a line such as `plain  p , p m , p i , p m`.

    Raises:
        ModelError: the line is not one pattern.
    """
    new = _value(lesson, pattern, Pattern, "patterns\n  ")
    after = (Edition, Heading, Use, PickingBlock, VoicingBlock)
    return _with_named(lesson, new, PatternBlock, after)


def with_setting(lesson: Lesson, setting: Setting | str) -> Lesson:
    """Return the lesson with a line of its heading, in place of the one that sets the same.

    Args:
        lesson: one with a heading.
        setting: a value, or a line such as `tempo 96`.

    Raises:
        ModelError: the line is not one of the heading, or the lesson has no heading.
    """
    heading = lesson.heading
    if heading is None:
        raise ModelError("this lesson has no heading to put a line into")
    new = setting if isinstance(setting, Setting) else _read_setting(heading, setting)
    lines = _put(
        heading.settings, new, lambda one: isinstance(one, Setting) and one.name == new.name
    )
    return _with_blocks(lesson, heading, evolve(heading, settings=lines))


def with_section(lesson: Lesson, section: Section | str) -> Lesson:
    """Return the lesson with a section, in place of the one of that name, or after the last one.

    Args:
        lesson: any lesson.
        section: a value, or its lines, the first of them such as `section verse  using plain`.

    Raises:
        ModelError: the lines are not one section.
    """
    new = _block(lesson, section, Section)
    old = next((one for one in lesson.sections if one.name == new.name), None)
    return _with_block(lesson, old, new, (Form, Step))


def with_form(lesson: Lesson, form: Form | str) -> Lesson:
    """Return the lesson with a form, in place of its own or after the sections.

    Args:
        lesson: any lesson.
        form: a value, or its lines, the first of them `form`.

    Raises:
        ModelError: the lines are not a form.
    """
    return _with_block(lesson, lesson.form, _block(lesson, form, Form), (Step,))


def with_bar(lesson: Lesson, section: str, number: int, bar: Bar | str) -> Lesson:
    """Return the lesson with another bar in place of one of a section.

    Args:
        lesson: one with that section.
        section: its name.
        number: of the bar, counted as messages count: from 1, `x2` is two bars, and what stands in
            endings counts too. 0 is the pickup.
        bar: a value, or a bar as it is written, such as `G7:2 C:2`.

    Raises:
        ModelError: there is no such section or bar, the bar is one of several written as one
            (`x4`), or the text is not one bar.
    """
    old = next((one for one in lesson.sections if one.name == section), None)
    if old is None:
        raise ModelError(_no_section(lesson, section))
    new = bar if isinstance(bar, Bar) else _read_bar(lesson, bar)
    return _with_blocks(lesson, old, _with_bar_in(old, number, new))


def _with_bar_in(section: Section, number: int, new: Bar) -> Section:
    at = 1
    for place, line in enumerate(section.lines):
        changed: Any = None
        if isinstance(line, ShortBar):
            if number == (0 if line.kind == "pickup" else at):
                changed = evolve(line, bar=new)
            at += line.kind == "last"
        elif isinstance(line, BarLine | EndingStart):
            for index, bar in enumerate(line.bars):
                if at <= number < at + bar.times:
                    _refuse_several(section, number, bar)
                    bars = (*line.bars[:index], new, *line.bars[index + 1 :])
                    changed = evolve(line, bars=bars)
                at += bar.times
        if changed is not None:
            lines = (*section.lines[:place], changed, *section.lines[place + 1 :])
            return evolve(section, lines=lines)
    missing = "no pickup" if number == 0 else f"no bar {number}: its bars are 1 to {at - 1}"
    raise ModelError(f"section {section.name} has {missing}")


def _refuse_several(section: Section, number: int, bar: Bar) -> None:
    if bar.times > 1:
        raise ModelError(
            f"bar {number} of {section.name} is one of {bar.times} that are written as one "
            f"(x{bar.times}): write them apart first"
        )


def _no_section(lesson: Lesson, name: str) -> str:
    names = [one.name for one in lesson.sections]
    near = near_names(name, names, 1, 0.6)
    known = f"did you mean {near[0]}?" if near else "there are: " + (", ".join(names) or "none")
    return f"there is no section {name!r:.60}; {known}"


def _read_bar(lesson: Lesson, text: str) -> Bar:
    (line,) = _block(lesson, f"section a\n  {_one_line(text, 'bar')}\n", Section, "bar").lines or (
        None,
    )
    if not isinstance(line, BarLine) or len(line.bars) != 1:
        raise ModelError(f"bar: {text[:60]!r} is not one bar")
    return line.bars[0]


def _read_setting(heading: Heading, text: str) -> Setting:
    line = _one_line(text, "setting")
    # Keys are named as the heading says, unless that is what is said anew.
    names = None if line.startswith("names") else heading.setting("names")
    said = f"  names {names.value}\n" if names else ""
    blocks = _read(Lesson(), f'lesson ""\n{said}  {line}\n', "setting")
    lines = blocks[0].settings if isinstance(blocks[0], Heading) else ()
    if len(blocks) != 1 or len(lines) != 1 + bool(said) or not isinstance(lines[-1], Setting):
        raise ModelError(f"setting: {text[:60]!r} is not one setting")
    return lines[-1]


def _value(lesson: Lesson, given: Any, kind: type[T], opening: str) -> T:
    """Return a value as it is, or read it from a line that stands below an opening line."""
    if isinstance(given, kind):
        return given
    what = "voicing" if kind is VoicingEntry else "pattern"
    blocks = _read(lesson, f"{opening}{_one_line(given, what)}\n", what)
    lines: tuple[Any, ...] = getattr(blocks[0], "lines", ())
    if len(blocks) != 1 or len(lines) != 1 or not isinstance(lines[0], kind):
        raise ModelError(f"{what}: {given[:60]!r} is not one {what}")
    return lines[0]


def _block(lesson: Lesson, given: Any, kind: type[T], what: str = "") -> T:
    """Return a block as it is, or read it from its lines."""
    if isinstance(given, kind):
        return given
    what = what or kind.__name__.lower()
    if not isinstance(given, str):
        raise TypeError(f"{what} is a {kind.__name__} or a str, not {type(given).__name__}")
    blocks = _read(lesson, given, what)
    if len(blocks) != 1 or not isinstance(blocks[0], kind):
        raise ModelError(f"{what}: {given[:60]!r} is not one {what}")
    return blocks[0]


def _one_line(given: object, what: str) -> str:
    if not isinstance(given, str):
        raise TypeError(f"{what} is a value of the model or a str, not {type(given).__name__}")
    if len(given.splitlines()) != 1:
        raise ModelError(f"{what}: one line, not {len(given.splitlines())}")
    return given.strip()


def _read(lesson: Lesson, text: str, what: str) -> tuple[Block, ...]:
    """Read blocks with the tuning and the naming of a lesson.

    Raises:
        ModelError: there is a fault in them.
    """
    head = format_lesson(Lesson(blocks=_telling(lesson)))
    found = read(Source(f"<{what}>", head + text.rstrip() + "\n"), newest=True)
    if found.faults:
        fault = found.faults[0]
        raise ModelError(f"{what}: {fault.message}" + (f" ({fault.hint})" if fault.hint else ""))
    blocks = tuple(one for one in found.blocks if not isinstance(one, Edition))
    blocks = blocks[1:] if head else blocks
    if not blocks or found.tail:
        raise ModelError(f"{what}: {text[-60:]!r} is not one {what}")
    return blocks


def _telling(lesson: Lesson) -> tuple[Heading, ...]:
    """Return a heading with the lines by which others are read; none if the lesson has none."""
    if lesson.heading is None:
        return ()
    found = (lesson.heading.setting(name) for name in ("tuning", "names", "based"))
    lines = tuple(Setting(name=one.name, value=one.value) for one in found if one is not None)
    return (Heading(title="", settings=lines),)


def _put(lines: tuple[Any, ...], new: Any, same: Callable[[Any], bool]) -> tuple[Any, ...]:
    """Put a line in place of the first that is the same thing, with its comments, or at the end."""
    for place, old in enumerate(lines):
        if same(old):
            return (*lines[:place], _with_margin(new, old), *lines[place + 1 :])
    return (*lines, new)


def _with_margin(new: Any, old: Any) -> Any:
    bare = not new.margin.above and not new.margin.beside
    return evolve(new, margin=old.margin) if bare else new


def _with_named(lesson: Lesson, new: Any, kind: Any, after: tuple[type, ...]) -> Lesson:
    def same(line: Any) -> bool:
        return isinstance(line, type(new)) and line.name == new.name

    blocks: list[Any] = [one for one in lesson.blocks if isinstance(one, kind)]
    block = next(
        (one for one in blocks if any(map(same, one.lines))), blocks[0] if blocks else None
    )
    if block is not None:
        return _with_blocks(lesson, block, evolve(block, lines=_put(block.lines, new, same)))
    place = max((n for n, one in enumerate(lesson.blocks, 1) if isinstance(one, after)), default=0)
    return _inserted(lesson, place, kind(lines=(new,)))


def _with_block(lesson: Lesson, old: Any, new: Any, before: tuple[type, ...]) -> Lesson:
    if old is not None:
        return _with_blocks(lesson, old, _with_margin(new, old))
    places = (n for n, one in enumerate(lesson.blocks) if isinstance(one, before))
    return _inserted(lesson, next(places, len(lesson.blocks)), new)


def _inserted(lesson: Lesson, place: int, new: Block) -> Lesson:
    return _changed(lesson, (*lesson.blocks[:place], new, *lesson.blocks[place:]))


def _with_blocks(lesson: Lesson, old: Block, new: Block) -> Lesson:
    return _changed(lesson, tuple(new if one is old else one for one in lesson.blocks))


def _changed(lesson: Lesson, blocks: tuple[Block, ...]) -> Lesson:
    refuse_unfinished(lesson)
    return evolve(lesson, blocks=blocks)
