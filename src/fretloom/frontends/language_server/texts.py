"""The texts that an editor has open, as they are typed: by their addresses, each with its version and file."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from urllib.parse import unquote, urlsplit
from urllib.request import url2pathname

from lsprotocol import types

from fretloom.api import Source
from fretloom.frontends.language_server.places import MARK, EditorPlaces
from fretloom.values import evolve, frozen


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
    return evolve(before, version=version, typed=typed)


def path_of(uri: str, folder: Path) -> Path:
    """Return the path of a text; one that has no file yet lives in a folder under a name of its own."""
    try:
        parts = urlsplit(uri)
        path = url2pathname(parts.path) if parts.scheme == "file" else ""
    except ValueError:
        path = ""
    if path and "\0" not in path:
        return Path(path)
    name = "".join(sign if sign.isalnum() or sign in "-_." else "-" for sign in unquote(uri))
    return folder / f"unsaved-{name[-80:]}.lesson"


def uri_of(path: Path) -> str:
    """Return the address of a file."""
    return path.absolute().as_uri()
