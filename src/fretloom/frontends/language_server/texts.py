"""The texts that an editor has open, as they are typed: by their addresses, each with its version and file."""

from __future__ import annotations

import re
from collections.abc import Iterable
from hashlib import sha256
from pathlib import Path
from urllib.parse import quote, urlsplit
from urllib.request import url2pathname

from lsprotocol import types

from fretloom.api import Source
from fretloom.frontends.language_server.places import MARK, EditorPlaces
from fretloom.values import evolve, frozen

_HALF = re.compile("[\ud800-\udfff]")
#: Longer names are made shorter.
_LONGEST_NAME = 120


@frozen
class OpenText:
    """A text in an editor.

    Args:
        uri: its address, as the editor writes it.
        path: of the file it is, or will be, saved in.
        version: which the editor gave it last.
        typed: the text as the editor has it.
    """

    uri: str
    path: Path
    version: int
    typed: str

    @property
    def text(self) -> str:
        """The text without a byte order mark."""
        return self.typed.removeprefix(MARK)

    def places(self, encoding: str) -> EditorPlaces:
        """Return its places as an editor counts them."""
        return EditorPlaces(
            Source(str(self.path), self.text), encoding, self.typed.startswith(MARK)
        )


def opened_text(item: types.TextDocumentItem, folder: Path) -> OpenText:
    """Return a text that an editor has just opened; `folder` is where one lives that has no file."""
    return OpenText(item.uri, path_of(item.uri, folder), item.version, item.text)


def changed_text(
    before: OpenText,
    version: int,
    changes: Iterable[types.TextDocumentContentChangeEvent],
    encoding: str,
) -> OpenText:
    """Return a text after changes that were made one after the other."""
    typed = before.typed
    for change in changes:
        if isinstance(change, types.TextDocumentContentChangePartial):
            # The byte order mark is a character of the editor's text like any other.
            span = EditorPlaces(Source("", typed), encoding).span(change.range)
            typed = typed[: span.start] + change.text + typed[span.end :]
        else:
            typed = change.text
        typed = _joined(typed)
    return evolve(before, version=version, typed=typed)


def _joined(text: str) -> str:
    """Return a text with halves of characters that have come together made whole, as they are in the editor."""
    if text.isascii() or not _HALF.search(text):
        return text
    return text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "surrogatepass")


def path_of(uri: str, folder: Path) -> Path:
    """Return the path of a text; one that has no file yet lives in a folder under a name of its own."""
    try:
        parts = urlsplit(uri)
        here = parts.scheme == "file" and parts.netloc in ("", "localhost")
        path = url2pathname(parts.path) if here else ""
    except ValueError:
        path = ""
    if path and "\0" not in path:
        return Path(path)
    # Two addresses have two names, also long ones.
    name = quote(uri, safe="", errors="surrogatepass")
    if len(name) > _LONGEST_NAME:
        name = f"{sha256(name.encode()).hexdigest()[:24]}-{name[-40:]}"
    return folder / f"unsaved-{name}.lesson"


def uri_of(path: Path) -> str:
    """Return the address of a file."""
    return path.absolute().as_uri()
