"""The heading of a lesson that was moved: its keys and its capo."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import cast

from attrs import evolve

from fretloom.notation.model.heading import Heading, Setting, SettingName
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.margin import Unread
from fretloom.trade.guitar.tuning import Capo


def headed(lesson: Lesson, values: Mapping[str, object], stated: Collection[str]) -> Lesson:
    """Set fields of the heading; missing ones are added at its end.

    A sounding key follows from the other two, so it only replaces one that was there already, here
    or in a lesson that this one is based on (`stated` names the fields of both); the same goes for
    a capo at fret 0.
    """
    blocks = list(lesson.blocks)
    for index, block in enumerate(blocks):
        if isinstance(block, Heading):
            blocks[index] = evolve(block, settings=tuple(_settings(block, values, stated)))
            break
    return evolve(lesson, blocks=tuple(blocks), source=None, faults=())


def _settings(
    heading: Heading, values: Mapping[str, object], stated: Collection[str]
) -> Iterator[Setting | Unread]:
    left = dict(values)
    for line in heading.settings:
        if isinstance(line, Setting) and left.get(line.name) is not None:
            yield evolve(line, value=left.pop(line.name))
        else:
            yield line
    for name, value in left.items():
        follows = value == Capo(0) or name == "sounds"
        if value is not None and (name in stated or not follows):
            yield Setting(name=cast("SettingName", name), value=value)
