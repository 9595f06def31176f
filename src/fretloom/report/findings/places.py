"""Names of files and places in them as other programs take them."""

from __future__ import annotations

import os
from pathlib import Path

from fretloom.source import Span


def plain_name(name: str) -> str:
    """Return the name of a file without steps up and down again, with `/` between folders."""
    return os.path.normpath(name).replace(os.sep, "/")


def uri(name: str) -> str:
    """Return the name of a file as a URI (RFC 3986): relative if the name is, else with its scheme."""
    if Path(name).is_absolute():
        return Path(plain_name(name)).as_uri()
    from urllib.parse import quote

    return quote(plain_name(name).encode("utf-8", "surrogatepass"))


def ends(span: Span) -> tuple[int, int, int, int]:
    """Return the 1-based line and column of the start, and of the end, behind the last character."""
    source = span.source
    return (*source.position(span.start), *source.position(max(span.start, span.end)))
