"""Pages of words: what is written is what is read, and no text becomes markup."""

from __future__ import annotations

from hypothesis import example, given
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from markdown_it.token import Token

from fretloom.characters import nothing_hidden
from fretloom.formats.students.prose.blocks import Passage, Point, Points, ProseBlock, Title
from fretloom.formats.students.prose.markdown import escaped, markdown
from fretloom.formats.students.prose.plain import linear, plain

#: Readers as strict as CommonMark, and with the usual extensions (tables, struck-out text).
READERS = (MarkdownIt("commonmark"), MarkdownIt("commonmark").enable(["table", "strikethrough"]))
#: What a page of words consists of, and nothing else.
KNOWN = {
    *("heading_open", "heading_close", "paragraph_open", "paragraph_close", "inline"),
    *("bullet_list_open", "bullet_list_close", "ordered_list_open", "ordered_list_close"),
    *("list_item_open", "list_item_close", "text", "text_special", "strong_open", "strong_close"),
}
SIGNS = "\\`*_{}[]<>()#+-.!|~&:;=\"'$%^@/0123456789 ab"


def line(text: str) -> str:
    return nothing_hidden(text)


TEXTS = (st.text(max_size=20) | st.text(SIGNS, max_size=20)).map(line).filter(bool)


def tokens(text: str, reader: MarkdownIt) -> list[Token]:
    found = reader.parse(text)
    return [*found, *(child for one in found for child in one.children or ())]


def read(blocks: list[ProseBlock], reader: MarkdownIt) -> list[str]:
    """Return the texts of the headings, passages and points that a reader finds."""
    text = markdown(blocks)
    found = tokens(text, reader)
    assert {one.type for one in found} <= KNOWN, text
    inline = [one for one in found if one.type == "inline"]
    return ["".join(child.content for child in one.children or ()) for one in inline]


@given(TEXTS, TEXTS, TEXTS, TEXTS)
@example("# not a title", "- not a point", "1. nor this", "[a](b)")
@example("a #", "=== ", "***", "<b>&amp;</b>")
@example("www.example.org", "http://example.org", "<http://example.org>", "![a](b)")
@example("| a | b |", "--- | ---", "~~a~~", "$a$ {b}")
def test_any_text_is_read_as_it_is(title: str, sentence: str, label: str, text: str) -> None:
    """As a title, in a passage, as a point with a label and without; by both readers."""
    blocks: list[ProseBlock] = [
        Title(title, 1),
        Passage((sentence, text)),
        Points((Point(label, text), Point("", text), Point(label))),
        Points((Point("", label),), numbered=True),
    ]
    for reader in READERS:
        assert read(blocks, reader) == [
            title,
            f"{sentence} {text}",
            f"{label}: {text}",
            text,
            label,
            label,
        ]


@given(TEXTS)
def test_an_escaped_text_is_one_paragraph(text: str) -> None:
    for reader in READERS:
        found = reader.parse(escaped(text))
        assert [one.type for one in found] == ["paragraph_open", "inline", "paragraph_close"]


def test_addresses_are_broken_for_viewers_that_make_links_of_them():
    assert (
        escaped("see http://a.example or www.a.example")
        == r"see http\://a.example or www\.a.example"
    )


def test_ordinary_words_need_no_escapes():
    words = "Move the ring finger to string 3, fret 2; it has until the and of 2. (1: thumb.)"
    assert escaped(words) == words


def test_levels_and_numbers():
    page = markdown([Title("A", 3), Points((Point("x", "y"), Point("z")), numbered=True)])
    assert page == "### A\n\n1. **x**: y\n2. **z**\n"


def test_plain_text_underlines_its_headings():
    page = plain(
        [
            Title("Kiln 🎸", 1),
            Title("Road"),
            Title("E", 3),
            Passage(("One.", "Two.")),
            Points((Point("a", "b"),)),
        ]
    )
    assert page == "Kiln 🎸\n=======\n\nRoad\n----\n\nE\n\nOne. Two.\n\n- a: b\n"


def test_what_is_heard_has_no_marks():
    page = linear(
        [
            Title("Road"),
            Title("Why?", 3),
            Points((Point("a", "b"), Point("", "c"))),
            Points((Point("d"),), numbered=True),
        ]
    )
    assert page == "Road.\n\nWhy?\n\na: b\nc\n\n1. d\n"


def test_what_begins_a_list_or_closes_a_heading_is_escaped():
    assert escaped("1. a") == r"1\. a"
    assert escaped("12) a") == r"12\) a"
    assert escaped("- a") == r"\- a"
    assert escaped("a #") == r"a \#"
    assert escaped("C# 1.5") == "C# 1.5"
