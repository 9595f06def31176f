"""An editor for tests: the general client of pygls, which speaks to our server over its standard input and output.

Every message is made of and read into lsprotocol's types, which are made from the published model of the
protocol; what does not fit them is an error.
"""

from __future__ import annotations

import asyncio
import sys
from collections.abc import Callable, Coroutine
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

from lsprotocol import types
from pygls.lsp.client import LanguageClient

T = TypeVar("T")
#: Seconds after which an answer that does not come fails the test; no test waits for time to pass.
PATIENCE = 60.0


class Editor(LanguageClient):
    """A client that keeps the texts it has open, and all that the server says by itself."""

    def __init__(self) -> None:
        super().__init__("editor-of-tests", "1")
        self.loop = asyncio.new_event_loop()
        self.texts: dict[str, str] = {}
        self.versions: dict[str, int] = {}
        self.shown: dict[str, types.PublishDiagnosticsParams] = {}
        self.said: list[str] = []
        self.wrong: list[Exception] = []
        self.news = asyncio.Event()
        # pygls puts a mark on what it is given, which a bound method does not take.
        self.feature(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)(partial(self._show))
        self.feature(types.WINDOW_LOG_MESSAGE)(partial(self._hear))
        self.feature(types.WINDOW_SHOW_MESSAGE)(partial(self._hear))
        self.feature(types.CLIENT_REGISTER_CAPABILITY)(lambda params: None)

    def report_server_error(self, error: Exception, source: Any) -> None:
        """Keep what did not fit the protocol."""
        self.wrong.append(error)

    def _show(self, params: types.PublishDiagnosticsParams) -> None:
        self.shown[params.uri] = params
        self.news.set()

    def _hear(self, params: types.LogMessageParams | types.ShowMessageParams) -> None:
        self.said.append(params.message)
        self.news.set()

    def run(self, wanted: Coroutine[Any, Any, T]) -> T:
        """Wait for an answer."""
        return self.loop.run_until_complete(asyncio.wait_for(wanted, PATIENCE))

    def start(self, folder: Path, encodings: list[Any] | None = None) -> types.InitializeResult:
        """Start the server in a folder, and agree with it on what both can do."""

        async def started() -> types.InitializeResult:
            command = (sys.executable, "-m", "fretloom", "language-server", "--stdio")
            await self.start_io(*command, cwd=folder)
            answer = await self.initialize_async(
                types.InitializeParams(
                    capabilities=_able(encodings),
                    workspace_folders=[types.WorkspaceFolder(folder.as_uri(), "lessons")],
                )
            )
            self.initialized(types.InitializedParams())
            return answer

        return self.run(started())

    def end(self) -> tuple[int | None, bytes]:
        """Leave; returns the exit code of the server and what it wrote to standard error."""

        async def ended() -> tuple[int | None, bytes]:
            await self.shutdown_async(None)
            self.exit(None)
            await self.stop()
            assert self._server is not None and self._server.stderr is not None
            return self._server.returncode, await self._server.stderr.read()

        try:
            return self.run(ended())
        finally:
            self.loop.close()

    def open(self, file: Path, text: str) -> str:
        """Open a text; returns its address."""
        uri = file.as_uri()
        self.texts[uri], self.versions[uri] = text, 1

        async def opened() -> None:
            item = types.TextDocumentItem(uri, "lesson", 1, text)
            self.text_document_did_open(types.DidOpenTextDocumentParams(item))

        self.run(opened())
        return uri

    def change(self, uri: str, first: types.Position, last: types.Position, put: str) -> None:
        """Type something in place of a range, which the server is told and nothing else."""
        change = types.TextDocumentContentChangePartial(types.Range(first, last), put)
        self.tell(uri, [change])

    def put(self, uri: str, text: str) -> None:
        """Replace all of a text."""
        self.texts[uri] = text
        self.tell(uri, [types.TextDocumentContentChangeWholeDocument(text)])

    def tell(self, uri: str, changes: list[Any]) -> None:
        """Tell the server of changes."""
        self.versions[uri] += 1

        async def told() -> None:
            at = types.VersionedTextDocumentIdentifier(version=self.versions[uri], uri=uri)
            self.text_document_did_change(types.DidChangeTextDocumentParams(at, changes))

        self.run(told())

    def close(self, uri: str) -> None:
        """Close a text."""
        del self.texts[uri]

        async def closed() -> None:
            at = types.TextDocumentIdentifier(uri)
            self.text_document_did_close(types.DidCloseTextDocumentParams(at))

        self.run(closed())

    def until(self, seen: Callable[[], bool]) -> None:
        """Wait until something has been shown or said."""

        async def waited() -> None:
            while not seen():
                self.news.clear()
                await self.news.wait()

        self.run(waited())

    def findings(self, uri: str) -> list[types.Diagnostic]:
        """Return what is shown at the text as it is now."""
        wanted = self.versions[uri]
        self.until(lambda: uri in self.shown and self.shown[uri].version == wanted)
        return list(self.shown[uri].diagnostics)

    def codes(self, uri: str) -> list[str]:
        """Return the rules that are broken in the text as it is now."""
        return [str(one.code) for one in self.findings(uri)]

    def until_codes(self, uri: str, codes: list[str]) -> None:
        """Wait until these rules are shown as broken in a text, because another one has changed."""
        self.until(
            lambda: (
                uri in self.shown
                and [str(one.code) for one in self.shown[uri].diagnostics] == codes
            )
        )

    def place(self, uri: str, words: str, behind: int = 0) -> types.Position:
        """Return the place where words first stand in a text, or so many characters behind it."""
        before = self.texts[uri][: self.texts[uri].index(words) + behind]
        line = before.count("\n")
        column = len(before.rpartition("\n")[2].encode("utf-16-le")) // 2
        return types.Position(line, column)

    def type_out(self, uri: str, text: str) -> None:
        """Type at the end of a text."""
        lines = self.texts[uri].split("\n")
        end = types.Position(len(lines) - 1, len(lines[-1].encode("utf-16-le")) // 2)
        self.texts[uri] += text
        self.change(uri, end, end, text)

    def ask(self, method: str, params: Any) -> Any:
        """Ask the server something about a lesson."""

        async def asked() -> Any:
            return await self.protocol.send_request_async(method, params)

        return self.run(asked())


def _able(encodings: list[Any] | None) -> types.ClientCapabilities:
    return types.ClientCapabilities(
        general=types.GeneralClientCapabilities(position_encodings=encodings),
        workspace=types.WorkspaceClientCapabilities(
            workspace_edit=types.WorkspaceEditClientCapabilities(document_changes=True),
            did_change_watched_files=types.DidChangeWatchedFilesClientCapabilities(
                dynamic_registration=True
            ),
        ),
        text_document=types.TextDocumentClientCapabilities(
            publish_diagnostics=types.PublishDiagnosticsClientCapabilities(
                related_information=True,
                tag_support=types.ClientDiagnosticsTagOptions([types.DiagnosticTag.Unnecessary]),
            ),
            document_symbol=types.DocumentSymbolClientCapabilities(
                hierarchical_document_symbol_support=True
            ),
        ),
    )
