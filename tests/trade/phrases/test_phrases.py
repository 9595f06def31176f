from __future__ import annotations

import re
from string import Formatter

import pytest
from places import SOURCE

from fretloom.trade.phrases.table import phrases, say

_CALL = re.compile(r"""\bsay\(\s*"([a-z-]+\.[a-z0-9-]+)\"""")


def test_what_changes_is_filled_in() -> None:
    assert say("pages.again") == "again"


def test_an_unknown_text_is_a_fault_of_the_caller() -> None:
    with pytest.raises(KeyError):
        say("pages.nothing-of-this-name")


@pytest.mark.source
def test_every_text_that_is_said_is_in_the_table() -> None:
    said = {
        key for module in SOURCE.rglob("*.py") for key in _CALL.findall(module.read_text("utf-8"))
    }
    assert said - phrases().keys() == set()


@pytest.mark.parametrize(("key", "text"), sorted(phrases().items()))
def test_a_text_can_be_filled_in_and_stands_on_one_line(key: str, text: str) -> None:
    """Braces are paired and name what goes in; no text is blank or breaks its line."""
    fields = [name for _, name, _, _ in Formatter().parse(text) if name is not None]
    assert all(name.isidentifier() for name in fields), key
    assert text.strip() == text
    assert text
    assert "\n" not in text
