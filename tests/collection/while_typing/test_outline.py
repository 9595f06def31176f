"""The outline of a text and what folds, with faults in it or without."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from places import EXAMPLES

from fretloom.collection.while_typing.outline import Fold, OutlineEntry, folds, outline
from fretloom.limits import LIMITS
from fretloom.source import Source

LESSON = """lesson "Kiln"
  capo 2

voicings
  C  x32010
  D  what )( is this

# about the patterns,
# in two lines
patterns
  plain  p , p
       | p , p
  other  p

section verse  8 bars
  repeat 2
    C
    ending 1: C
  end

form
  verse
    but last bar: C

step "The thumb"
  Some words.
"""


def test_every_block_is_there_with_the_names_that_it_gives() -> None:
    """Also those on lines that cannot be read."""
    found = outline(Source("", LESSON))
    assert [(one.kind, one.name) for one in found] == [
        ("lesson", "Kiln"), ("block", "voicings"), ("block", "patterns"),
        ("section", "verse"), ("form", "form"), ("step", "The thumb"),
    ]  # fmt: skip
    assert [one.name for one in found[1].entries] == ["C", "D"]
    assert [one.name for one in found[2].entries] == ["plain", "other"]
    assert found[3].detail == "8 bars"
    assert [(one.kind, one.name) for one in found[4].entries] == [("entry", "verse")]


def test_a_block_ends_before_what_is_about_the_next_one() -> None:
    """A comment in column one belongs to what follows it."""
    found = outline(Source("", LESSON))
    assert [(one.span.line, one.span.end_line) for one in found] == [
        (1, 2), (4, 6), (10, 13), (15, 19), (21, 23), (25, 26),
    ]  # fmt: skip


def test_blocks_repeats_long_patterns_and_comments_fold() -> None:
    """From outside in."""
    assert folds(Source("", LESSON)) == (
        Fold(1, 2), Fold(4, 6), Fold(8, 9, comment=True), Fold(10, 13), Fold(11, 12),
        Fold(15, 19), Fold(16, 19), Fold(21, 23), Fold(25, 26),
    )  # fmt: skip


def _inside(entries: tuple[OutlineEntry, ...], start: int, end: int) -> bool:
    return all(
        start <= one.span.start <= one.name_span.start <= one.name_span.end <= one.span.end <= end
        and bool(one.name)
        and _inside(one.entries, one.span.start, one.span.end)
        for one in entries
    )


@given(
    st.lists(
        st.sampled_from([*LESSON.splitlines(), "section", "use", 'step "', "lesson:", "|", "\t"])
    )
)
def test_any_text_has_an_outline_whose_parts_lie_in_one_another(lines: list[str]) -> None:
    """Editors refuse a name that lies outside of its range (Language Server Protocol 3.17, `DocumentSymbol`)."""
    source = Source("", "\n".join(lines))
    assert _inside(outline(source), 0, len(source.text))
    assert all(1 <= one.first < one.last <= len(source.line_starts()) for one in folds(source))


def test_the_outline_of_an_example_has_all_its_sections() -> None:
    """What the reader finds is there."""
    text = (EXAMPLES / "kiln-lane-shuffle.lesson").read_text("utf-8")
    names = [one.name for one in outline(Source("", text)) if one.kind == "section"]
    assert names == ["intro", "verse", "close"]


def test_a_text_that_is_not_read_has_no_outline_and_of_a_huge_one_the_first_part_is_shown() -> None:
    """As many as an editor can do something with, however many lines there are."""
    most = LIMITS.outlined
    steps = Source("", 'step "a"\n  Words.\n' * (most + 10))
    assert (len(outline(steps)), len(folds(steps))) == (most, most)
    names = Source("", 'lesson "a"\nvoicings\n' + "  C  x32010\n" * (most + 10) + "form\n  a\n")
    assert [len(one.entries) for one in outline(names)] == [0, most - 2]
    refused = Source("", 'step "a"\n  Words.\n' + "\n" * LIMITS.lines)
    assert (outline(refused), folds(refused)) == ((), ())
