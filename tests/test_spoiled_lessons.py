"""Laws that hold for the examples with any few slips in them: nothing ever raises but on purpose."""

from __future__ import annotations

import json

import places
from forgetting import forgetful
from hypothesis import given, settings
from hypothesis import strategies as st
from pools import deep

from fretloom import api
from fretloom.errors import FretloomError
from fretloom.report.findings.github import annotation
from fretloom.report.findings.json import finding_data
from fretloom.report.findings.text import render
from fretloom.rule_facts import Severity

EXAMPLES = places.EXAMPLES
TEXTS = [path.read_text(encoding="utf-8") for path in sorted(EXAMPLES.glob("*.lesson"))]
#: Words and signs of the notation, some where they never belong, and what is none of it.
WORDS = [
    "x2",
    "x99",
    "x0",
    "%",
    "rest",
    "same",
    "|",
    "{",
    "}",
    "(",
    ")",
    "[",
    "]",
    '"',
    ",",
    "+",
    "-",
    "!",
    "@",
    "#",
    ":",
    "=",
    "*",
    "end",
    "form",
    "section",
    "using",
    "with",
    "without",
    "on",
    "repeat",
    "ending",
    "pickup",
    "last",
    "meter",
    "tempo",
    "early",
    "release",
    "stop",
    "but",
    "like",
    "add",
    "lift",
    "move",
    "mute",
    "up",
    "down",
    "hop",
    "bass",
    "fingers",
    "p",
    "p6-1",
    "i3@0h2",
    "a1@12*",
    "p99",
    "mx",
    "2&",
    "4/4",
    "7/8",
    "6/8",
    "3/0",
    "E",
    "B7",
    "C#m",
    "022100",
    "x21202",
    ".231..",
    "6@2",
    "24",
    "99",
    "999999",
    "1/3",
]

slips = st.lists(
    st.tuples(
        st.integers(0, 10**6),
        st.sampled_from(["insert", "delete", "replace", "swap lines", "double line", "drop line"]),
        st.sampled_from([*WORDS, "\n", "\t", "\x00", "\x1b[2J", "\u200b", "é", "“"]),
    ),
    min_size=1,
    max_size=4,
)


def _spoil(text: str, place: int, how: str, word: str) -> str:
    lines = text.split("\n")
    line, column = place % len(lines), place % (len(text) + 1)
    if how == "insert":
        return f"{text[:column]} {word} {text[column:]}"
    if how == "delete":
        return text[:column] + text[column + 1 + place % 3 :]
    if how == "replace":
        words = lines[line].split(" ")
        words[place % len(words)] = word
        lines[line] = " ".join(words)
    elif how == "swap lines":
        lines[line], lines[line // 2] = lines[line // 2], lines[line]
    elif how == "double line":
        lines.insert(line, lines[line])
    else:
        del lines[line]
    return "\n".join(lines)


@st.composite
def spoiled(draw: st.DrawFn) -> str:
    """Draw an example with one to four slips in it."""
    text = draw(st.sampled_from(TEXTS))
    for place, how, word in draw(slips):
        text = _spoil(text, place, how, word)
    return text


many = settings() if deep() or forgetful() else settings(max_examples=60)


@many
@given(spoiled())
def test_every_finding_can_be_shown(text: str) -> None:
    """Findings lie inside the text they are about, and every report can say them."""
    for found in api.check(api.loads(text, root=EXAMPLES)):
        assert 0 <= found.span.start <= found.span.end <= len(found.span.source.text)
        assert all(line.isprintable() for line in render(found).split("\n"))
        assert "\n" not in annotation(found)
        json.dumps(finding_data(found))


@many
@given(spoiled())
def test_what_can_be_played_is_exported_or_refused(text: str) -> None:
    """An export gives a result or says in our own words why not."""
    lesson = api.loads(text, root=EXAMPLES)
    for form in ("json", "tab"):
        try:
            (output,) = api.export(lesson, to=form, despite_errors=True)
            assert output.content
        except FretloomError as error:
            assert str(error)


@many
@given(spoiled())
def test_what_can_be_read_can_be_written_again(text: str) -> None:
    """Canonical form keeps the meaning of any lesson without faults of reading, and is stable."""
    lesson = api.loads(text, root=EXAMPLES)
    if any(fault.severity is Severity.ERROR for fault in lesson.faults):
        return
    written = api.dumps(lesson)
    again = api.loads(written, root=EXAMPLES)
    assert again == lesson
    assert api.dumps(again) == written


@many
@given(spoiled())
def test_canonical_text_is_stable_in_faulty_lessons_too(text: str) -> None:
    """What could not be read stays what it is, however often it is written."""
    lesson = api.loads(text, root=EXAMPLES)
    try:
        written = api.dumps(lesson)
    except FretloomError as error:
        assert "not read to its end" in str(error)
        return
    again = api.loads(written, root=EXAMPLES)
    assert again == lesson
    assert api.dumps(again) == written
