"""What holds for any text and any JSON, whoever wrote it. Each law takes bytes and fails by an assertion."""

from __future__ import annotations

import json
import re
from xml.etree import ElementTree

import fretloom
from fretloom import Severity

#: Longer than any message needs to be.
LONGEST_MESSAGE = 2_000
#: What a terminal would obey, and what ends a line.
_OBEYED = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069]")


#: Findings after which the rest of a text is not read.
_GIVEN_UP = {"too-many-faults", "too-large", "nested-too-deep"}


def read(data: bytes) -> fretloom.Examined | None:
    """Read bytes as a lesson; None if they are refused as a whole."""
    try:
        return fretloom.examine(fretloom.loads(data.decode("utf-8")))
    except (UnicodeDecodeError, fretloom.LessonUnreadable):
        return None


def loads_checks_and_formats(data: bytes) -> None:
    """A text is read, checked and written in canonical form, and never raises."""
    lesson = read(data)
    if lesson is None:
        return
    findings = fretloom.check(lesson)
    for found in findings:
        _is_sound(found)
    try:
        written = fretloom.dumps(lesson.lesson)
    except fretloom.LessonFaulty:
        assert any(one.rule in _GIVEN_UP for one in findings), "refused without a reason"
        return
    again = fretloom.loads(written)
    if any(fault.severity is Severity.ERROR for fault in lesson.lesson.faults):
        # A line that could not be read may find another place, but none of its words is lost.
        twice = fretloom.dumps(again)
        assert _words(twice) == _words(written), "words are lost"
        return
    assert fretloom.dumps(again) == written, "writing twice changes something"
    assert again == lesson.lesson, "what is written is another lesson"


def _words(text: str) -> list[str]:
    return sorted(text.split())


def _is_sound(found: fretloom.Diagnostic) -> None:
    text = found.span.source.text
    assert 0 <= found.span.start <= found.span.end <= len(text), "a place outside the text"
    assert 0 < len(found.message) <= LONGEST_MESSAGE, "a message of unreasonable length"
    assert len(found.hint) <= LONGEST_MESSAGE, "a hint of unreasonable length"
    shown = fretloom.as_text(found)
    assert not _OBEYED.search(shown.replace("\n", "")), "a sign that a terminal obeys"
    assert not re.search(r"^\s*(::|##\[)", shown, re.M), "a line that runs a workflow's command"
    json.dumps(fretloom.as_data(found)).encode("utf-8")
    if found.edits and all(edit.span.source.text == text for edit in found.edits):
        fretloom.apply_edits(text, found.edits)


def reaches_every_output(data: bytes) -> None:
    """A text that can be played goes into every format; nothing raises but on purpose."""
    lesson = read(data)
    if lesson is None:
        return
    for form in ("tab", "musicxml", "mxl", "json"):
        try:
            outputs = fretloom.export(lesson, form, despite_errors=True)
        except fretloom.FretloomError as refused:
            assert str(refused), "a refusal without a reason"
            continue
        _is_whole(form, outputs[0])
    for answer in (fretloom.hands(lesson), fretloom.sounds(lesson)):
        assert fretloom.as_text(answer)
        json.loads(fretloom.as_json(answer))
    try:
        again = fretloom.lesson_from_json(fretloom.lesson_to_json(lesson.lesson))
    except fretloom.LessonUnreadable:
        assert lesson.lesson.faults, "JSON refuses what a text may say"
        return
    assert again == lesson.lesson, "JSON loses something"


def _is_whole(form: str, output: fretloom.Output) -> None:
    if form == "musicxml":
        ElementTree.fromstring(output.data)
    elif form == "json":
        json.loads(output.text)
    elif form == "tab":
        assert not _OBEYED.search(output.text.replace("\n", "")), "a sign that a terminal obeys"


def reads_json(data: bytes) -> None:
    """JSON is a lesson that can be written as text and read again, or it is refused with a reason."""
    try:
        lesson = fretloom.lesson_from_json(data.decode("utf-8"))
    except (UnicodeDecodeError, fretloom.FretloomError):
        return
    findings = fretloom.check(lesson)
    try:
        text = fretloom.dumps(lesson)
    except fretloom.ModelError:
        return
    assert fretloom.loads(text) == lesson, "the text of it is another lesson"
    assert len(findings) <= len(text) + 100


LAWS = {
    "text": loads_checks_and_formats,
    "outputs": reaches_every_output,
    "json": reads_json,
}
