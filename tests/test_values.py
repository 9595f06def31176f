"""Values: our decorator does what attrs' own does."""

from __future__ import annotations

import re

import attrs
import places
import pytest

from fretloom.values import frozen

SOURCE = places.SOURCE


@frozen
class Ours:
    """Two fields count, one does not."""

    one: int
    two: str = "b"
    span: object = attrs.field(default=None, eq=False, repr=False)


@attrs.frozen
class Theirs:
    """The same, as attrs makes it."""

    one: int
    two: str = "b"
    span: object = attrs.field(default=None, eq=False, repr=False)


def test_values_compare_by_the_fields_that_count() -> None:
    """A span takes no part; another class is never equal."""
    assert Ours(1, "b", "here") == Ours(1, "b", "there")
    assert Ours(1) != Ours(2)
    assert Ours(1) != Theirs(1)
    assert len({Ours(1), Ours(1, "b", 7), Ours(2)}) == 2


def test_values_look_as_attrs_shows_them() -> None:
    """The same representation but for the name."""
    assert repr(Ours(1)) == repr(Theirs(1)).replace("Theirs", "Ours")


def test_values_are_frozen_and_slotted() -> None:
    """Nothing can be set, nothing can be added."""
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        Ours(1).one = 2  # type: ignore[misc]
    assert not hasattr(Ours(1), "__dict__")


def test_every_module_uses_the_decorator_that_starts_sooner() -> None:
    """attrs' own decorators are used in one place only."""
    pattern = re.compile(r"from attrs? import .*\b(frozen|define)\b|\battrs\.(frozen|define)\b")
    users = {
        path.name
        for path in SOURCE.rglob("*.py")
        if pattern.search(path.read_text(encoding="utf-8"))
    }
    assert users == {"values.py"}
