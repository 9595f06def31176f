"""The teacher's own script as Markdown: scene by scene what is seen, said and played, and how long it takes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import cast

from fretloom.formats.beside import Held, beside_the_music
from fretloom.formats.shape import Output, file_name
from fretloom.formats.students.prose.blocks import Passage, Point, Points, ProseBlock, Title
from fretloom.formats.students.prose.markdown import markdown
from fretloom.formats.students.script.options import ScriptOptions
from fretloom.formats.students.script.scene import (
    PlayedThing,
    Scene,
    minutes_words,
    time_words,
)
from fretloom.formats.students.script.scenes import scenes
from fretloom.formats.students.telling.head import head_of
from fretloom.formats.students.telling.listener import (
    FingersBy,
    StringsBy,
    listener_of,
    sentence,
)
from fretloom.formats.students.words.teller import Teller
from fretloom.performance.reading import Reading
from fretloom.trade.phrases.table import say

_SHOWN: tuple[Held, ...] = ("steps", "titles of sections", "titles of patterns")


def write(reading: Reading, options: ScriptOptions) -> tuple[Output, ...]:
    """Write the script of a lesson."""
    listener = listener_of(
        reading.timeline.settings,
        strings=cast(StringsBy, options.strings),
        fingers=cast(FingersBy, options.finger_words),
        mirrored=options.mirrored,
    )
    found = tuple(scenes(Teller(reading, listener)))
    text = markdown(_blocks(reading, found, options.rate))
    left_out = tuple(beside_the_music(reading, "a script", _SHOWN))
    return (Output(file_name(reading.lesson, ".script.md"), text, left_out),)


def _blocks(reading: Reading, found: Sequence[Scene], rate: int) -> Iterator[ProseBlock]:
    yield Title(say("script.title", title=head_of(reading.timeline.settings).title), 1)
    speaking = sum((one.speaking(rate) for one in found), Fraction(0))
    playing = sum((one.playing for one in found), Fraction(0))
    minutes = max(1, -(-(speaking + playing) // 60))
    spoken = min(minutes, round(speaking / 60))
    whole = say(
        "script.whole",
        whole=minutes_words(minutes),
        speaking=minutes_words(spoken),
        playing=minutes_words(minutes - spoken),
    )
    yield Passage((sentence(whole), sentence(say("script.reckoned", rate=rate))))
    yield Points(
        tuple(Point(one.title, time_words(_time(one, rate))) for one in found), numbered=True
    )
    for number, scene in enumerate(found, start=1):
        time = time_words(_time(scene, rate))
        yield Title(say("script.scene", number=number, title=scene.title, time=time))
        yield Points((Point(say("script.screen"), sentence(scene.screen)),))
        yield Passage((say("script.say"),))
        yield Points(tuple(Point("", one) for one in scene.says))
        if scene.plays:
            yield Passage((say("script.play"),))
            yield Points(tuple(Point("", _played(one)) for one in scene.plays))


def _played(one: PlayedThing) -> str:
    return sentence(say("script.listed", said=one.text, time=time_words(one.seconds)))


def _time(scene: Scene, rate: int) -> Fraction:
    return scene.speaking(rate) + scene.playing
