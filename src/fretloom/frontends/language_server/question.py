"""What an editor asks about a lesson, with all that is needed to answer it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from lsprotocol import types

from fretloom.api import Edit
from fretloom.collection.while_typing.opened import OpenLesson
from fretloom.frontends.language_server.desk import Located, Snapshot
from fretloom.frontends.language_server.places import EditorPlaces
from fretloom.values import frozen

#: A request that cannot be done for a reason that whoever asked can read (LSP 3.17, `RequestFailed`).
REQUEST_FAILED = -32803


@frozen(eq=False)
class Question:
    """A lesson as it was when something was asked about it.

    Args:
        uri: its address. lesson: what is in it. places: as the editor counts them.
        at: all that was open. locate: gives places in any text. able: what the editor can do.
        between: lets others go on, for work on many files; raises if nobody wants that any more.
    """

    uri: str
    lesson: OpenLesson
    places: EditorPlaces
    at: Snapshot
    locate: Located
    able: types.ClientCapabilities
    between: Callable[[], object]

    def text_edits(self, edits: Iterable[Edit]) -> list[types.TextEdit]:
        """Return edits of the lesson's own text as an editor makes them."""
        return [types.TextEdit(self.places.range(one.span), one.text) for one in edits]

    def workspace_edit(self, edits: Iterable[Edit]) -> types.WorkspaceEdit:
        """Return edits of any texts as an editor makes them; those of open ones name the version they are for."""
        by_text: dict[str, list[types.TextEdit]] = {}
        for one in edits:
            place = self.locate(one.span)
            by_text.setdefault(place.uri, []).append(types.TextEdit(place.range, one.text))
        workspace = self.able.workspace
        if not (
            workspace and workspace.workspace_edit and workspace.workspace_edit.document_changes
        ):
            return types.WorkspaceEdit(changes=by_text)
        return types.WorkspaceEdit(
            document_changes=[
                types.TextDocumentEdit(
                    types.OptionalVersionedTextDocumentIdentifier(uri, self._version(uri)),
                    list(made),
                )
                for uri, made in by_text.items()
            ]
        )

    def _version(self, uri: str) -> int | None:
        text = self.at.texts.get(uri)
        return text.version if text is not None else None


def markdown(text: str, formats: list[types.MarkupKind] | None) -> types.MarkupContent:
    """Return Markdown for an editor that says it shows it, else the same in plain words."""
    if formats is not None and types.MarkupKind.Markdown in formats:
        return types.MarkupContent(types.MarkupKind.Markdown, text)
    return types.MarkupContent(types.MarkupKind.PlainText, plain(text))


def plain(text: str) -> str:
    """Return a text in Markdown without its signs: fences, bold, and what keeps other signs from being some."""
    text = re.sub(r"^```.*\n?", "", text, flags=re.MULTILINE)
    return re.sub(
        r"\\([^\w\s])", r"\1", re.sub(r"(?<!\\)\*\*|[ ]{2}$", "", text, flags=re.MULTILINE)
    )
