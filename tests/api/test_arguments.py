"""What callers give that cannot be: the message names the argument, before any work is done."""

from __future__ import annotations

from collections.abc import Callable

import pytest

import fretloom

TUNE = """lesson "Two cups"
  plays in C

voicings
  C   x32010  fingers .32.1.  bass 5 4 5 4

section verse
  C { p , p , p , p }
"""


@pytest.mark.parametrize("given", [TUNE, None, b"", 3, [], {}])
@pytest.mark.parametrize(
    "function",
    [
        fretloom.examine, fretloom.check, fretloom.expand, fretloom.export_tab, fretloom.export_musicxml,
        fretloom.export_mxl, fretloom.export_json, fretloom.to_music21, fretloom.hands, fretloom.sounds, fretloom.suggest_capos,
        fretloom.practice,
        lambda lesson: fretloom.transpose(lesson, capo=1), lambda lesson: fretloom.export(lesson, "tab"),
        fretloom.levels, fretloom.ease, fretloom.dumps, fretloom.lesson_to_json, lambda lesson: fretloom.link(lesson, root="."),
    ],
)  # fmt: skip
def test_what_is_no_lesson_is_refused(function: Callable[[object], object], given: object) -> None:
    """A text is no lesson yet: it has to be read first."""
    with pytest.raises(TypeError, match="lesson is a Lesson, as load and loads return it, not "):
        function(given)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda one: fretloom.export(one, 3), "to is the name of a format, not int"),
        (lambda one: fretloom.export(one, None), "to is the name of a format, not NoneType"),
        (lambda one: fretloom.export(one, "tab", {"width": 60}), "options of tab are TabOptions, not dict"),
        (lambda one: fretloom.transpose(one, plays=3), 'plays is a key as text, such as "Am", not int'),
        (lambda one: fretloom.transpose(one, capo="3"), "capo is a whole number, not str"),
        (lambda one: fretloom.transpose(one, capo=2.0), "capo is a whole number, not float"),
        (lambda one: fretloom.transpose(one, capo=True), "capo is a whole number, not bool"),
        (lambda one: fretloom.practice(one, minutes="20"), "minutes is a whole number, not str"),
        (lambda one: fretloom.practice(one, days=7.0), "days is a whole number, not float"),
        (lambda one: fretloom.practice(one, ladder=None), "ladder is a whole number, not NoneType"),
        (lambda one: fretloom.practice(one, student=3), "student is a str, not int"),
        (lambda one: fretloom.practice(one, level=3), "level is a str, not int"),
        (lambda one: fretloom.practice(one, begin=20261130), "begin is a day, a datetime.date or YYYY-MM-DD, not int"),
        (lambda one: fretloom.practice(one, known=one), "known is a tuple of lessons, not Lesson"),
        (lambda one: fretloom.practice(one, known=["C"]), "lesson is a Lesson, as load and loads return it, not str"),
        (lambda one: fretloom.ease(one, level=3), "level is a str, not int"),
        (lambda one: fretloom.ease(one, based_on=3), "based_on is a str, not int"),
        (lambda one: fretloom.suggest_capos(one, sounds=7), 'sounds is a key as text, such as "Am"'),
        (lambda one: fretloom.suggest_voicings(7, one), 'chord is a chord symbol, such as "Am7", not int'),
        (lambda one: fretloom.suggest_voicings("C", one, sounding="12"), "sounding is a tuple of strings"),
        (lambda one: fretloom.suggest_voicings("C", one, sounding=2), "sounding is a tuple of strings"),
        (lambda one: fretloom.suggest_voicings("C", one, sounding=(1.0,)), "sounding has strings by number"),
        (lambda one: fretloom.suggest_voicings("C", one, limit="8"), "limit is a whole number, not str"),
        (lambda one: fretloom.json_schema(None), "kind is a str, not NoneType"),
        (lambda one: fretloom.write(3, "text"), "path is a str or a Path, not int"),
        (lambda one: fretloom.write("never.txt", 3), "content is text or bytes, not int"),
        (lambda one: fretloom.explain(None), "name is the name of a rule, not NoneType"),
    ],
)  # fmt: skip
def test_a_value_of_another_type_is_refused(call: Callable[..., object], said: str) -> None:
    """By a TypeError that names the argument."""
    with pytest.raises(TypeError) as caught:
        call(fretloom.loads(TUNE))
    assert said in str(caught.value)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (fretloom.transpose, "say what to change: plays, capo, or both"),
        (lambda one: fretloom.transpose(one, capo=-1), "capo is a number from 0 up, not -1"),
        (lambda one: fretloom.transpose(one, plays="H9"), "H9"),
        (lambda one: fretloom.practice(one, minutes=5), "minutes is a whole number from 10 to 120, not 5"),
        (lambda one: fretloom.practice(one, begin="2026-13-01"), "begin is a day written YYYY-MM-DD, not 2026-13-01"),
        (lambda one: fretloom.practice(one, begin="20261130"), "begin is a day written YYYY-MM-DD, not 20261130"),
        (lambda one: fretloom.practice(one, level="expert"), "level is one of beginner, intermediate, advanced"),
        (lambda one: fretloom.ease(one, level="expert"), "level is beginner, intermediate or advanced, not 'expert'"),
        (fretloom.ease, "the lesson was not read from a file: name the one it will be in"),
        (lambda one: fretloom.ease(one, based_on="first"), 'a lesson file ends in ".lesson"'),
        (lambda one: fretloom.ease(one, based_on="a\nb.lesson"), "a line break cannot stand here"),
        (lambda one: fretloom.suggest_capos(one, sounds=""), "key"),
        (lambda one: fretloom.suggest_voicings("C", one, limit=0), "limit is a number from 1 up, not 0"),
        (lambda one: fretloom.suggest_voicings("C", one, sounding=(7,)), "there is no string 7"),
        (lambda one: fretloom.suggest_voicings("C", one, sounding=(0,)), "there is no string 0"),
        (lambda one: fretloom.suggest_voicings("Cx#", one), "needs a number"),
        (lambda one: fretloom.explain("overfull"), "there is no rule called overfull"),
    ],
)  # fmt: skip
def test_a_value_that_cannot_be_is_refused(call: Callable[..., object], said: str) -> None:
    """By a FretloomError that says what would do."""
    with pytest.raises(fretloom.FretloomError) as caught:
        call(fretloom.loads(TUNE))
    assert said in str(caught.value)


def test_an_examined_lesson_will_do_wherever_a_lesson_does() -> None:
    """Also where it is written, or linked."""
    lesson = fretloom.loads(TUNE)
    examined = fretloom.examine(lesson)
    assert fretloom.dumps(examined) == fretloom.dumps(lesson)
    assert fretloom.lesson_to_json(examined) == fretloom.lesson_to_json(lesson)
    assert fretloom.link(examined, root=".") == lesson
