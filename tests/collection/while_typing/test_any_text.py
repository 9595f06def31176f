"""Whatever is typed, and wherever: something is shown or nothing, and it never fails."""

from __future__ import annotations

from contextlib import suppress

from hypothesis import given, settings
from hypothesis import strategies as st
from places import EXAMPLES
from typed_lessons import typed

from fretloom import FretloomError, apply_edits
from fretloom.collection.while_typing.beats_left import beats_left
from fretloom.collection.while_typing.completing.following import offers_at
from fretloom.collection.while_typing.fixing_here import ways_out
from fretloom.collection.while_typing.hovering.shown import shown_at
from fretloom.collection.while_typing.names_at import alike_at, given_at
from fretloom.collection.while_typing.outline import folds, outline
from fretloom.collection.while_typing.rewriting import formatted, with_sure_changes
from fretloom.trade.music.meter import Meter

TEXTS = [one.read_text("utf-8") for one in sorted(EXAMPLES.glob("*.lesson"))]
#: What is typed into a lesson.
SIGNS = st.sampled_from(
    ['"', '#', '|', '{', '}', '(', '[', ':', ',', '.', '%', 'x', '@', '+', '-', '0', '\r\n', '\r', '\n', '\t', '\u2028', '\x0b', '\x00', '\ufeff', '🎸', '\u202e', 'using', 'like', 'allow', 'use', 'section', 'repeat', 'show', 'fermata']
) | st.just(" ")  # fmt: skip


@st.composite
def _typed_texts(draw: st.DrawFn) -> tuple[str, int]:
    text = draw(st.sampled_from(TEXTS))
    text = text[: draw(st.integers(0, len(text)))] if draw(st.booleans()) else text
    for _ in range(draw(st.integers(0, 3))):
        at = draw(st.integers(0, len(text)))
        text = text[:at] + draw(SIGNS) + text[at + draw(st.integers(0, 3)) :]
    return text, draw(st.integers(0, len(text)))


@given(_typed_texts())
@settings(max_examples=60)
def test_any_place_of_any_text_can_be_asked_about(typed_text: tuple[str, int]) -> None:
    """What is offered replaces what stands before the place; edits fit the text."""
    text, at = typed_text
    lesson, _ = typed(text.replace("^", ""), EXAMPLES / "typed.lesson")
    source = lesson.source
    found = offers_at(lesson, at)
    assert found.span.start <= found.span.end
    assert source.position(found.span.start)[0] == source.position(found.span.end)[0]
    shown = shown_at(lesson, at)
    assert shown is None or shown.span.source == source
    assert all(one.span.text for one in alike_at(lesson, at))
    given_at(lesson, at, {lesson.file: source.text})
    outline(source), folds(source), beats_left(source, Meter((4,), 4), 1, 10**6)
    for way in ways_out(lesson, at, at + 40):
        assert apply_edits(source.text, way.edits) != source.text
    with suppress(FretloomError):
        apply_edits(source.text, formatted(lesson))
    apply_edits(source.text, with_sure_changes(lesson, {}))
