"""Edits are made in a text, in the order of their places; what cannot be made is refused by name."""

from __future__ import annotations

from itertools import permutations
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretloom.diagnostics import Edit
from fretloom.edits import apply_edits
from fretloom.errors import EditsDoNotFit, FretloomError
from fretloom.source import Source, Span

TEXT = "lesson “Zwei”\r\n  capo 3\r\n  \U0001f3b8 x\n"


def edit(start: int, end: int, put: str, text: str = TEXT, title: str = "") -> Edit:
    """Return an edit of a text."""
    return Edit(span=Span(Source("a.lesson", text), start, end), text=put, title=title)


def test_edits_are_made_and_the_rest_stays() -> None:
    """Line ends and characters beyond the first plane count as one and are left alone."""
    made = apply_edits(TEXT, [edit(7, 8, '"'), edit(12, 13, '"'), edit(29, 30, "y")])
    assert made == 'lesson "Zwei"\r\n  capo 3\r\n  \U0001f3b8 y\n'


def test_no_edits_change_nothing() -> None:
    """An empty list is no mistake."""
    assert apply_edits(TEXT, []) == TEXT
    assert apply_edits("", iter(())) == ""


def test_any_order_gives_the_same() -> None:
    """Edits are made by their places; something put before a piece that is replaced stands first."""
    text = "a b c"
    edits = [
        edit(0, 1, "", text),
        edit(2, 2, "x", text),
        edit(2, 3, "y", text),
        edit(5, 5, "!", text),
    ]
    assert {apply_edits(text, order) for order in permutations(edits)} == {" xy c!"}


def test_equal_edits_count_once() -> None:
    """Two findings may ask for the same change, in words of their own."""
    text = "a b"
    assert apply_edits(text, [edit(1, 1, "x", text), edit(1, 1, "x", text, "write x")]) == "ax b"


def test_a_byte_order_mark_stays() -> None:
    """A text is checked without its mark, and keeps it."""
    assert apply_edits("\ufeffa b", [edit(0, 1, "c", "a b")]) == "\ufeffc b"


@pytest.mark.parametrize(
    "two",
    [((0, 3), (2, 4)), ((0, 3), (1, 1)), ((1, 1), (1, 1)), ((0, 3), (0, 4)), ((0, 3), (0, 3))],
)
def test_two_ways_to_change_one_place_are_refused(two: tuple[tuple[int, int], ...]) -> None:
    """Both are named, in either order."""
    edits = [edit(*place, put, title=f"write {put}") for place, put in zip(two, "xy", strict=True)]
    for order in (edits, edits[::-1]):
        with pytest.raises(EditsDoNotFit, match=r"(?s)write x.*write y.*same place") as met:
            apply_edits(TEXT, order)
        assert isinstance(met.value, FretloomError)
        assert isinstance(met.value, ValueError)


@pytest.mark.parametrize("place", [(-1, 2), (3, 2), (0, len(TEXT) + 1), (len(TEXT) + 1,) * 2])
def test_a_place_outside_the_text_is_refused(place: tuple[int, int]) -> None:
    """The message says which edit it is."""
    with pytest.raises(EditsDoNotFit, match=r"write x` on line .* lies outside"):
        apply_edits(TEXT, [edit(*place, "x", title="write x")])


def test_an_edit_of_another_text_is_refused() -> None:
    """Its places would mean something else; the file is named."""
    with pytest.raises(EditsDoNotFit, match=r"another text \(a\.lesson\)"):
        apply_edits(TEXT.replace("\r\n", "\n"), [edit(0, 1, "x")])


@pytest.mark.parametrize(
    ("text", "edits", "said"),
    [
        (b"a", [], "text has to be a str, not bytes"),
        (None, [], "text has to be a str, not NoneType"),
        ("a", None, "edits has to be a list of edits, not NoneType"),
        ("a", "abc", "edits has to be a list of edits, not str"),
        ("a", edit(0, 1, "x"), "edits has to be a list of edits, not Edit"),
        ("a", ["x"], "edits has to hold edits only, not str"),
    ],
)
def test_wrong_types_are_named(text: Any, edits: Any, said: str) -> None:
    """The message names the argument and what it was."""
    with pytest.raises(TypeError, match=said):
        apply_edits(text, edits)


@given(st.text(), st.lists(st.tuples(st.text(max_size=3), st.text(max_size=3))))
def test_pieces_put_between_others(first: str, parts: list[tuple[str, str]]) -> None:
    """Replacing pieces one after another is the same as writing the text with the new ones."""
    text, wanted, edits = first, first, []
    for old, new in parts:
        edits.append((len(text), len(text) + len(old), new))
        text, wanted = f"{text}{old}|", f"{wanted}{new}|"
    source = Source("a.lesson", text)
    made = [Edit(span=Span(source, start, end), text=new) for start, end, new in edits]
    assert apply_edits(text, reversed(made)) == wanted
