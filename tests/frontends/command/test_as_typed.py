"""A refusal calls an option as it is typed."""

from __future__ import annotations

from fretloom.errors import FretloomError
from fretloom.frontends.command.terminal import as_typed


def test_an_option_is_called_as_it_is_typed():
    refusal = FretloomError("count_in is True or False, not a_b")
    assert str(as_typed(refusal)) == "--count-in is True or False, not a_b"
    assert str(as_typed(refusal, {"count_in": "--count"})) == "--count is True or False, not a_b"
