"""Gathers what a lesson is made of: its own blocks, those it is based on, and those it uses."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

from fretloom.notation.model.form import ChangeBars, Form
from fretloom.notation.model.heading import Heading, Setting
from fretloom.notation.model.lesson import Home, Lesson, PatternBlock, PickingBlock, VoicingBlock
from fretloom.notation.model.margin import Unread
from fretloom.notation.model.pattern import Pattern
from fretloom.notation.model.section import BarLine, EndingStart, Section, ShortBar
from fretloom.notation.model.step import Step
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.notation.model.walking.walk import every, lines
from fretloom.notation.rereading import unfinished
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.text import near_names

#: From this likeness on (0 to 1) a name that is missing may be a name that was misspelt.
_ALIKE = 0.5
#: Where more lines than this could not be read, any name may have been in one of them.
_MANY_BROKEN = 20
_Entry = TypeVar("_Entry", VoicingEntry, Pattern)


class Material:
    """Everything a lesson can refer to, by name.

    Args (all filled by `gather`):
        own_*: names of voicings and patterns that are the lesson's, not of a file it only uses.
        broken_*: names that a line defines which could not be read, so that their users are not
            blamed. incomplete: a linked file is missing, or was not read to its end; unknown names may well
            be in it.
        unread_words: first two words of lines that could not be read, in whatever block.
        unread_settings: first words of heading lines that could not be read, and the fields that begin
            such lines in other blocks.
    """

    def __init__(self) -> None:
        self.settings: dict[str, Setting] = {}
        self.unread_settings: set[str] = set()
        self.homes: dict[str, Home] = {}
        self.voicings: dict[str, VoicingEntry] = {}
        self.patterns: dict[str, Pattern] = {}
        self.sections: dict[str, Section] = {}
        self.own_voicings: list[str] = []
        self.own_patterns: list[str] = []
        self.form: Form | None = None
        self.steps: tuple[Step, ...] = ()
        self.title = ""
        self.broken_voicings: set[str] = set()
        self.broken_patterns: set[str] = set()
        self.broken_sections: set[str] = set()
        self.unread_words: set[str] = set()
        self.incomplete = False

    @property
    def open_fingers(self) -> frozenset[str]:
        """Names of the voicings written in frets whose fingers are left open."""
        return frozenset(
            name for name, entry in self.voicings.items() if entry.frets and not entry.fingers
        )


def gather(lesson: Lesson) -> Material:
    """Gather a lesson's material; its own things win over those of lessons it is based on or files it uses."""
    material = Material()
    _Gathering().add(material, lesson, ())
    return material


class _Gathering:
    """Adds lessons over one another; files that share files are gathered once each.

    Two lessons are the same only if they are one object: two with the same words may link different
    files.
    """

    def __init__(self) -> None:
        self._done: list[tuple[Lesson, Material]] = []

    def add(self, material: Material, lesson: Lesson, above: tuple[Lesson, ...]) -> None:
        """Add a lesson over what it is based on; `above` are those on the way to it (against circles)."""
        way = (*above, lesson)
        base = _base_of(material, lesson)
        if base is not None and not _among(base, way):
            self.add(material, base, way)
        used = Material()
        for use in reversed(lesson.uses):  # What is named last wins.
            linked = lesson.linked.get(use.path)
            if linked is None:
                material.incomplete = True
            elif not _among(linked, way):
                _merge_used(used, self._of(linked, way))
        _merge_used(material, used)
        _add_own(material, lesson)

    def _of(self, linked: Lesson, above: tuple[Lesson, ...]) -> Material:
        known = next((found for one, found in self._done if one is linked), None)
        if known is None:
            known = Material()
            self._done.append((linked, known))
            self.add(known, linked, above)
        return known


def _among(lesson: Lesson, others: Iterable[Lesson]) -> bool:
    return any(lesson is other for other in others)


def _base_of(material: Material, lesson: Lesson) -> Lesson | None:
    based = lesson.heading.setting("based") if lesson.heading else None
    if based is None:
        return None
    base = lesson.linked.get(str(based.value))
    if base is None:
        material.incomplete = True
    return base


def _merge_used(material: Material, used: Material) -> None:
    """Take voicings and patterns of used files; those of the lesson it is based on stay."""
    for name, entry in used.voicings.items():
        material.voicings.setdefault(name, entry)
    for name, pattern in used.patterns.items():
        material.patterns.setdefault(name, pattern)
    material.broken_voicings |= used.broken_voicings
    material.broken_patterns |= used.broken_patterns
    material.unread_words |= used.unread_words
    material.incomplete |= used.incomplete


def _add_own(material: Material, lesson: Lesson) -> None:
    heading = lesson.heading
    if heading is not None:
        material.title = heading.title or material.title
        for line in reversed(heading.settings):
            if isinstance(line, Setting):
                material.settings[line.name] = line
            else:
                material.unread_settings |= {line.name, *line.text.split()[:1]}
    material.homes |= {home.finger: home for home in reversed(lesson.homes)}
    _take(material.voicings, lesson.voicings, material.own_voicings)
    _take(material.patterns, lesson.patterns, material.own_patterns)
    own = {section.name: section for section in reversed(lesson.sections)}
    for section in lesson.sections:
        material.sections[section.name] = own[section.name]
    material.form = lesson.form or material.form
    material.steps = lesson.steps or material.steps
    _add_broken(material, lesson)


def _take(into: dict[str, _Entry], entries: Iterable[_Entry], own: list[str]) -> None:
    """Take entries by name. If a file has two of one name, the first counts."""
    taken: set[str] = set()
    for entry in entries:
        if entry.name not in taken:
            taken.add(entry.name)
            into[entry.name] = entry
            if entry.name not in own:
                own.append(entry.name)


def _add_broken(material: Material, lesson: Lesson) -> None:
    unread = _first_words(lesson)
    material.unread_words |= unread
    material.unread_settings |= _slipped_settings(lesson)
    material.incomplete |= bool({"use", "based"} & (unread | material.unread_settings))
    material.incomplete |= bool(unfinished(lesson))
    for block in lesson.blocks:
        if isinstance(block, VoicingBlock):
            material.broken_voicings |= _unread_names(block.lines) | _misnamed(block, lesson)
        elif isinstance(block, PatternBlock):
            material.broken_patterns |= _unread_names(block.lines)
        elif isinstance(block, Unread):
            material.broken_sections.add(block.name.rstrip(":"))


def _first_words(lesson: Lesson) -> set[str]:
    """Return the first two words of lines that could not be read, in a block they may have slipped into.

    When the line that opens a block is missing or faulty, what follows lands in the block above.
    """
    texts: list[str] = []
    for block in lesson.blocks:
        if isinstance(block, Unread):
            texts += block.text.splitlines()
        elif isinstance(block, Heading | PickingBlock | VoicingBlock | PatternBlock):
            texts += [line.text for line, _ in lines(block) if isinstance(line, Unread)]
    return {word.rstrip(":") for text in texts for word in text.split()[:2]}


def _slipped_settings(lesson: Lesson) -> set[str]:
    """Return the heading fields that begin a line that could not be read, in whatever block."""
    bars = (BarLine, EndingStart, ShortBar, ChangeBars, Pattern)
    texts = [line.text for _, line in every(lesson, Unread, bars)]
    # A line that stands in no block is not kept; where it stood is.
    texts += [fault.span.text for fault in lesson.faults if fault.rule == "outside-a-block"]
    slipped = {words[0].rstrip(":") for text in texts if (words := text.split())}
    if (heading := lesson.heading) and heading.span and heading.title_span is None:
        slipped |= set(heading.span.text.split())  # Its opening line could not be read either.
    return slipped & set(FIELDS)


def _misnamed(block: VoicingBlock, lesson: Lesson) -> set[str]:
    """Return the names that were found to be no chord symbols: they may stand for others."""
    faulty = [fault.span for fault in lesson.faults if fault.rule == "unreadable-chord-name"]
    return {
        line.name
        for line in block.lines
        if isinstance(line, VoicingEntry)
        and line.name_span is not None
        and any(line.name_span.start <= span.start < line.name_span.end for span in faulty)
    }


def may_be_one_of(name: str, broken: Iterable[str]) -> bool:
    """Whether a name may be what a line that could not be read was to define."""
    names = list(broken)
    if len(names) > _MANY_BROKEN:
        return True
    # A line without a name may be what any name stands for.
    return name in names or "" in names or bool(near_names(name, names, 1, _ALIKE))


def _unread_names(lines: Iterable[object]) -> set[str]:
    return {line.name.rstrip(":") for line in lines if isinstance(line, Unread)}
