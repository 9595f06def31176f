"""Texts as an editor changes them, and places in them as it counts.

The protocol (3.17) says which characters end a line, and what a place beyond a line or a text means.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lsprotocol import types

from fretloom.frontends.language_server.places import EditorPlaces
from fretloom.frontends.language_server.texts import (
    OpenText,
    changed_text,
    opened_text,
    path_of,
    uri_of,
)
from fretloom.source import Source

SIGNS = "ab\n\r\t\u2028\x0b\x0c\x85\ufeff\u00e4\u6f22\U0001f3b8"
TEXTS = st.text(alphabet=SIGNS, max_size=20)
ENCODINGS = {"utf-8": "utf-8", "utf-16": "utf-16-le", "utf-32": "utf-32-le"}
WIDTHS = {"utf-8": 1, "utf-16": 2, "utf-32": 4}


def _bytes_before(text: str, place: types.Position, encoding: str) -> int:
    """Return where a place is in the encoded text, in bytes: worked out on bytes alone."""
    data, codec = text.encode(ENCODINGS[encoding]), ENCODINGS[encoding]
    ends = [found.end() for found in re.finditer("\r\n|\r|\n", text)]
    starts = [0, *(len(text[:end].encode(codec)) for end in ends)]
    if place.line >= len(starts):
        return len(data)
    line = re.split("\r\n|\r|\n", text)[place.line]
    taken = line.encode(codec)[: place.character * WIDTHS[encoding]]
    return starts[place.line] + len(taken.decode(codec, "ignore").encode(codec))


@st.composite
def _edits(draw: st.DrawFn) -> tuple[str, list[tuple[types.Range, str]]]:
    places = st.builds(types.Position, st.integers(0, 5), st.integers(0, 12))
    ranges = st.builds(types.Range, places, places)
    return draw(TEXTS), draw(st.lists(st.tuples(ranges, TEXTS), max_size=4))


@given(_edits(), st.sampled_from(sorted(ENCODINGS)))
def test_changes_of_pieces_come_to_the_whole_text(
    given_: tuple[str, list[tuple[types.Range, str]]], encoding: str
) -> None:
    """Against the same edits made on the bytes of the text."""
    text, edits = given_
    before = OpenText("file:///a.lesson", Path("/a.lesson"), 1, text)
    changes = [types.TextDocumentContentChangePartial(place, put) for place, put in edits]
    codec = ENCODINGS[encoding]
    for place, put in edits:
        first, last = sorted(_bytes_before(text, one, encoding) for one in (place.start, place.end))
        data = text.encode(codec)
        text = (data[:first] + put.encode(codec) + data[last:]).decode(codec)
    after = changed_text(before, 2, changes, encoding)
    assert (after.typed, after.version) == (text, 2)


@given(TEXTS, st.sampled_from(sorted(ENCODINGS)), st.booleans())
def test_a_place_comes_back(text: str, encoding: str, marked: bool) -> None:
    """Offset to place and back, but between a CR and its LF, where no place of an editor is."""
    places = EditorPlaces(Source("", text), encoding, marked)
    for offset in range(len(text) + 1):
        if text[offset - 1 : offset + 1] != "\r\n" or not offset:
            assert places.offset(places.position(offset)) == offset


def test_places_are_counted_in_the_units_agreed_on() -> None:
    """A guitar (U+1F3B8) is one code point, two units of UTF-16 and four bytes (Unicode 15, 3.9)."""
    source = Source("", "a\r\n\U0001f3b8b")
    for encoding, units in (("utf-8", 4), ("utf-16", 2), ("utf-32", 1)):
        places = EditorPlaces(source, encoding)
        assert places.position(4) == types.Position(1, units)
        assert places.offset(types.Position(1, units)) == 4
        assert places.offset(types.Position(1, 99)) == 5
        assert places.offset(types.Position(9, 0)) == 5
        assert places.offset(types.Position(0, 9)) == 1
    assert EditorPlaces(source, "utf-16").offset(types.Position(1, 1)) == 3  # Inside the guitar.


def test_a_byte_order_mark_is_the_editors() -> None:
    """It counts on the first line of the editor's text, and is no part of ours."""
    text = opened_text(
        types.TextDocumentItem("file:///a.lesson", "lesson", 1, "\ufeffab\nc"), Path()
    )
    places = text.places("utf-16")
    assert (text.text, places.position(0), places.position(3)) == (
        "ab\nc", types.Position(0, 1), types.Position(1, 0),
    )  # fmt: skip
    change = types.TextDocumentContentChangePartial(
        types.Range(types.Position(0, 1), types.Position(0, 2)), "x"
    )
    assert changed_text(text, 2, [change], "utf-16").typed == "\ufeffxb\nc"


@pytest.mark.parametrize("name", ["a.lesson", "a b;c#d?e%20f.lesson", "\u00e4\U0001f3b8.lesson"])
def test_addresses_lead_to_files_and_back(name: str, tmp_path: Path) -> None:
    """Whatever signs a name has."""
    assert path_of(uri_of(tmp_path / name), Path()) == tmp_path / name


def test_a_text_without_a_file_lives_where_one_works(tmp_path: Path) -> None:
    """Two of them have two names."""
    first, second = (path_of(f"untitled:Untitled-{one}", tmp_path) for one in (1, 2))
    assert first.parent == second.parent == tmp_path
    assert first != second
    alike = ("untitled:a/b", "untitled:a-b", "untitled:a%2Fb", "untitled:A/b", *(f"x:{'y' * 200}{one}{'z' * 99}" for one in "ab"))  # fmt: skip
    assert len({path_of(one, tmp_path) for one in alike}) == len(alike)
    for odd in ("", "file://[", "file:///%00", "no address", "untitled:" + "x" * 999):
        assert path_of(odd, tmp_path).suffix == ".lesson"


@pytest.mark.parametrize("uri", ["file://server/share/a.lesson", "file://other/share/a.lesson"])
def test_a_file_of_another_machine_is_not_taken_for_one_of_this(uri: str, tmp_path: Path) -> None:
    """The host of an address counts (RFC 8089, 2); `localhost` is this one."""
    assert path_of(uri, tmp_path).parent == tmp_path
    assert path_of("file://localhost/share/a.lesson", tmp_path) == Path("/share/a.lesson")


@pytest.mark.parametrize("encoding", sorted(ENCODINGS))
def test_halves_of_a_character_that_come_together_are_one(encoding: str) -> None:
    """As in an editor, which keeps UTF-16; what stays alone stays."""
    before = OpenText("file:///a.lesson", Path("/a.lesson"), 1, "C ")
    end = types.Position(0, 99)
    for put in ("\ud83c", "\udfb8", "\udfb8"):
        change = types.TextDocumentContentChangePartial(types.Range(end, end), put)
        before = changed_text(before, before.version + 1, [change], encoding)
    assert before.typed == "C \U0001f3b8\udfb8"
