"""Names of files, one for each picture."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from fretloom.formats.students.files import endings


def test_names_become_words_without_signs():
    """Sharps and basses are said."""
    names = ["C#m7", "D/F#", "walk down", "%$"]
    assert endings(names, ".svg") == [
        "-C-sharp-m7.svg",
        "-D-over-F-sharp.svg",
        "-walk-down.svg",
        "-shape.svg",
    ]


@given(st.lists(st.text(max_size=12), max_size=12), st.sampled_from(["a", "b"]))
def test_no_two_are_alike(names: list[str], more: str):
    """Not even where capital letters are taken for small ones; each can be a part of a file's name anywhere."""
    found = endings([*names, more, more.upper(), more], ".svg")
    assert len({one.casefold() for one in found}) == len(names) + 3
    for one in found:
        assert one.startswith("-")
        assert not set(one) & set('/\\:*?"<>| \0\n')
        assert len(one) < 100
