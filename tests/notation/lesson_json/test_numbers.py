"""Numbers in the JSON of a lesson: exact, in plain figures, and refused where they would take long."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest

from fretloom.errors import LessonUnreadable
from fretloom.limits import LIMITS
from fretloom.notation.lesson_json.reading import from_lesson_json


def lesson(*blocks: object) -> str:
    return json.dumps({"format": "fretloom-lesson", "version": 1, "blocks": list(blocks)})


def bar_of(**fields: object) -> str:
    bar = {"parts": [{"voicing": "E", **fields}]}
    return lesson({"type": "section", "name": "verse", "lines": [{"type": "bars", "bars": [bar]}]})


def test_a_share_is_an_exact_number() -> None:
    """As long as the notation can say it."""
    (section,) = from_lesson_json(bar_of(beats="999999/998")).sections
    assert section.lines[0].bars[0].parts[0].beats == Fraction(999999, 998)


@pytest.mark.parametrize(
    ("beats", "said"),
    [
        ("1e9999999", "is not a fraction"),
        ("1_0", "is not a fraction"),
        ("-1", "is not a fraction"),
        ("1.5", "is not a fraction"),
        ("1/0", "is not a fraction"),
        ("٣", "is not a fraction"),
        (" 3", "is not a fraction"),
        ("7" * 1_000_000, "is not a fraction"),
        ("1000000", "six figures"),
        ("1/1001", "six figures"),
        ("0", "above 0"),
        (3, "text is needed, not 3"),
        (1.5, "text is needed, not 1.5"),
    ],
)
def test_what_is_not_a_share_is_refused_at_its_place(beats: object, said: str) -> None:
    """Exponents, underscores and figures of other scripts are not read as Python reads them."""
    with pytest.raises(LessonUnreadable, match=said) as caught:
        from_lesson_json(bar_of(beats=beats))
    assert str(caught.value).startswith("lesson.blocks[0].lines[0].bars[0].parts[0].beats: ")
    assert len(str(caught.value)) < 250


@pytest.mark.parametrize(
    ("written", "said"),
    [("2.0", "not 2.0"), ("2e3", "not 2e3"), ('"2"', 'not "2"'), ("true", "not true"), ("0", "1 to 999999"), ("1000000", "1 to 999999")],
)  # fmt: skip
def test_whole_numbers_have_no_point_and_no_exponent(written: str, said: str) -> None:
    """And their ranges are those of the notation."""
    text = lesson({"type": "form", "entries": [{"type": "play", "section": "verse", "times": 7}]})
    with pytest.raises(LessonUnreadable, match=r"entries\[0\]\.times: .*" + said):
        from_lesson_json(text.replace('"times": 7', f'"times": {written}'))


@pytest.mark.parametrize("word", ["NaN", "Infinity", "-Infinity"])
def test_words_for_numbers_are_not_json(word: str) -> None:
    """Python reads them, the standard (RFC 8259) does not have them."""
    with pytest.raises(LessonUnreadable, match=f"{word} is not JSON"):
        from_lesson_json(bar_of(beats=1).replace('"beats": 1', f'"beats": {word}'))


def test_too_long_a_text_is_refused_at_once() -> None:
    """Its length is looked at before it is read."""
    with pytest.raises(LessonUnreadable, match="too long"):
        from_lesson_json("[" * (LIMITS.json_characters + 1))
