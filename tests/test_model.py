"""The public module of the model: every class that a lesson is made of, and nothing that is not."""

from __future__ import annotations

import copy
import pickle
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from fractions import Fraction
from multiprocessing import get_context
from pathlib import Path
from typing import Any, get_args, get_type_hints

import attrs
import pytest

import fretloom
from fretloom import model
from fretloom.errors import FretloomError, ModelError
from fretloom.model import (  # fmt: skip
    Bar,
    Capo,
    Count,
    Group,
    Hold,
    Key,
    Margin,
    Meter,
    NoteName,
    Part,
    Pitch,
    Pluck,
    Prose,
    Setting,
    Show,
    Tempo,
    Tuning,
    VoicingEntry,
    parse_pitch,
)
from fretloom.notation.model.heading import SETTINGS

EXAMPLES = Path(__file__).parents[1] / "examples"


def reachable(hint: Any, found: set[type]) -> set[type]:
    """Add the classes that a declared type mentions, and those of their fields that count."""
    for inner in get_args(hint):
        reachable(inner, found)
    if isinstance(hint, type) and attrs.has(hint) and hint not in found:
        found.add(hint)
        hints = get_type_hints(hint, include_extras=True)
        for one in attrs.fields(hint):
            if one.eq:
                reachable(hints[one.name], found)
    return found


def test_it_holds_every_class_that_a_lesson_is_made_of() -> None:
    """Those that its fields can hold, those inside them, and the values of the heading's lines."""
    found = reachable(model.Lesson, set())
    for hint in SETTINGS.values():
        reachable(hint, found)
    classes = {one for name in model.__all__ if isinstance(one := getattr(model, name), type)}
    assert classes == found
    assert set(model.__all__) - {one.__name__ for one in classes} == {"LAST", "evolve", "parse_count", "parse_key", "parse_meter", "parse_pitch", "parse_tuning", "with_bar", "with_form", "with_name", "with_pattern", "with_section", "with_setting", "with_voicing"}  # fmt: skip


def test_every_class_refuses_a_field_of_another_type() -> None:
    """An object of no use anywhere is a TypeError that names class and field."""
    for cls in reachable(model.Lesson, set()):
        for one in attrs.fields(cls):
            if one.eq and not (cls is Setting and one.name == "value"):
                rest = {field.name: None for field in attrs.fields(cls) if field.default is attrs.NOTHING}  # fmt: skip
                with pytest.raises(TypeError, match=f"^{cls.__name__}\\.({'|'.join([*rest, one.name])})[ :[]"):  # fmt: skip
                    cls(**rest | {one.name: object()})


@pytest.mark.parametrize(
    ("make", "error", "said"),
    [
        (lambda: Bar(kind="loud"), ModelError, "Bar.kind is 'voicings', 'same', 'rest', 'written' or 'unread', not 'loud'"),
        (lambda: Bar(parts=[Part(voicing="E")]), TypeError, "Bar.parts is a tuple of Part, not a list"),
        (lambda: Bar(parts=("E",)), TypeError, "Bar.parts[0] is a Part, not a str"),
        (Bar, ModelError, 'Bar.parts: a bar names a voicing, or has another kind, such as "rest"'),
        (lambda: Part(voicing="E", beats=1.5), TypeError, "Part.beats is a Fraction or None, not a float"),
        (lambda: Part(voicing="E", beats=3), TypeError, "Part.beats is a Fraction or None, not an int"),
        (lambda: Bar(kind="rest", times=True), TypeError, "Bar.times is an int, not a bool"),
        (lambda: Bar(kind="rest", times=0), ModelError, "Bar.times: a number from 1 to 999999, not 0"),
        (lambda: Pluck(finger="q"), ModelError, "Pluck.finger is 'p', 'i', 'm', 'a' or 'c', not 'q'"),
        (lambda: Pluck(finger="p", accent=1), TypeError, "Pluck.accent is a bool, not an int"),
        (lambda: VoicingEntry(name="E\nF", frets=(0, 0)), ModelError, "VoicingEntry.name: a name begins with a letter"),
        (lambda: VoicingEntry(name="E"), ModelError, "VoicingEntry.frets: a voicing has frets, or is like another one"),
        (lambda: VoicingEntry(name="E", frets=[0, 0]), TypeError, "VoicingEntry.frets is a tuple of int or None, not a list"),
        (lambda: Prose(text="a\n\nsection evil"), ModelError, "Prose.text: a line break cannot stand here"),
        (lambda: Prose(text="\ud83c"), ModelError, "Prose.text: half of a character (a lone surrogate)"),
        (lambda: Margin(above=("slowly",)), ModelError, 'Margin.above[0]: a comment begins with "#"'),
        (lambda: Show(kind="change", name="E"), ModelError, "Show.over: a change leads to a voicing"),
        (lambda: Setting(name="tempo", value=96), TypeError, "Setting.value of 'tempo' is a Tempo, not an int"),
        (lambda: Setting(name="capo", value=Capo(2, (13,))), ModelError, "Setting.value of 'capo': Capo.strings: a string from 1 to 12"),
        (lambda: model.Shift(frets=0), ModelError, "Shift.frets: at least one, up or down"),
        (lambda: Setting(name="plays", value=Key(NoteName("C", 2))), ModelError, "Setting.value of 'plays': no text says this Key"),
        (lambda: Setting(name="hand", value="huge"), ModelError, "Setting.value of 'hand' is 'small', 'average' or 'large', not 'huge'"),
        (lambda: Tempo(96.0), TypeError, "Tempo.per_minute is a Fraction, not a float"),
        (lambda: Tempo(Fraction(0)), ModelError, "Tempo.per_minute: more than 0, not 0"),
        (lambda: Meter([4], 4), TypeError, "Meter.groups is a tuple of int, not a list"),
        (lambda: Meter((4,), 3), ModelError, "Meter.unit: 1, 2, 4, 8, 16 or 32, not 3"),
        (lambda: Meter((7,), 8, 2), ModelError, "Meter.pulses: a number that divides 7, not 2"),
        (lambda: Count(1.5), TypeError, "Count.number is an int, not a float"),
        (lambda: Pitch("H", 0, 4), ModelError, "Pitch.step: a letter from A to G, not 'H'"),
        (lambda: Tuning((parse_pitch("E2"),)), ModelError, "Tuning.pitches: 3 to 12 strings, not 1"),
        (lambda: model.Lesson(blocks=[Hold()]), TypeError, "Lesson.blocks is a tuple of Edition or Heading"),
        (lambda: model.Lesson(blocks=(Hold(),)), TypeError, "Lesson.blocks[0] is an Edition, a Heading"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(make: Any, error: type[Exception], said: str) -> None:
    """The message names class and field, and what can stand there."""
    with pytest.raises(error) as caught:
        make()
    assert str(caught.value).startswith(said)
    assert isinstance(caught.value, TypeError | FretloomError)


def test_music_that_is_wrong_can_be_built() -> None:
    """What the rules are for is not refused by constructors."""
    assert VoicingEntry(name="E", frets=(0, 22, 1, 14, 0, 9)).frets[1] == 22
    assert Group(items=(Hold(),) * 99)


def test_a_changed_copy_is_checked_as_well() -> None:
    """`evolve` refuses what the constructor refuses."""
    with pytest.raises(ModelError, match=r"^Bar\.times"):
        model.evolve(Bar(kind="rest"), times=0)


def faulty() -> fretloom.Lesson:
    text = (EXAMPLES / "kiln-lane-shuffle.lesson").read_text("utf-8")
    return fretloom.loads(text.replace("fingers", "fingres", 1), path=EXAMPLES / "a.lesson")


def copies() -> Iterator[fretloom.Lesson]:
    lesson = faulty()
    yield copy.copy(lesson)
    yield copy.deepcopy(lesson)
    yield pickle.loads(pickle.dumps(lesson))


@pytest.mark.parametrize("number", range(3))
def test_lessons_can_be_copied_and_pickled(number: int) -> None:
    """The copy has the same text, links and findings, and still knows that it was read."""
    lesson, copied = faulty(), list(copies())[number]
    assert copied == lesson
    assert copied.source is not None
    assert copied.source.text == lesson.source.text  # type: ignore[union-attr]
    assert copied.linked == lesson.linked
    wanted = [(one.rule, one.message, one.span.start) for one in fretloom.check(lesson)]
    assert [(one.rule, one.message, one.span.start) for one in fretloom.check(copied)] == wanted
    assert wanted


def summary(lesson: fretloom.Lesson) -> tuple[fretloom.Lesson, list[tuple[str, int]]]:
    """Return a lesson and its findings, as another process does."""
    return lesson, [(one.rule, one.span.line) for one in fretloom.check(lesson)]


@pytest.mark.process
def test_lessons_pass_through_a_spawned_process() -> None:
    """Out and back they are the same, and so are their findings."""
    lesson = faulty()
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as pool:
        back, found = pool.submit(summary, lesson).result()
    assert back == lesson
    assert found == summary(lesson)[1]


def test_lessons_are_read_and_built_in_threads_at_once() -> None:
    """Reading in one thread does not keep constructors in another from refusing."""

    def work(number: int) -> object:
        try:
            Bar(kind="rest", times=-number)
        except ModelError:
            return summary(faulty())[1]
        return "accepted"

    with ThreadPoolExecutor(8) as pool:
        results = list(pool.map(work, range(16)))
    assert results == [summary(faulty())[1]] * 16
