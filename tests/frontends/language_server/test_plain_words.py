"""What is shown to an editor that does not say it shows Markdown."""

from __future__ import annotations

import pytest
from lsprotocol import types

from fretloom.frontends.language_server.question import markdown

TEXT = "```text\nstring  6 5\n```\n\n**stop**: all \\*strings\\*  \nare `damped`"
PLAIN = "string  6 5\n\nstop: all *strings*\nare `damped`"


@pytest.mark.parametrize("formats", [None, [], [types.MarkupKind.PlainText]])
def test_an_editor_without_markdown_gets_plain_words(
    formats: list[types.MarkupKind] | None,
) -> None:
    """Also one that says nothing about it: the protocol promises Markdown only where it is asked for."""
    found = markdown(TEXT, formats)
    assert (found.kind, found.value) == (types.MarkupKind.PlainText, PLAIN)


def test_an_editor_that_shows_markdown_gets_it() -> None:
    """As it is, whichever form it names first."""
    found = markdown(TEXT, [types.MarkupKind.PlainText, types.MarkupKind.Markdown])
    assert (found.kind, found.value) == (types.MarkupKind.Markdown, TEXT)
