"""Which messages the server takes, and who deals with each."""

from __future__ import annotations

import logging
import os
import signal
import sys
import threading
from collections.abc import Callable
from contextlib import redirect_stdout
from pathlib import Path
from typing import Any

from lsprotocol import types

from fretloom.collection.while_typing.opened import warm_up
from fretloom.frontends.language_server import changing, naming, reading
from fretloom.frontends.language_server.question import Question
from fretloom.frontends.language_server.running.protocol import Headers
from fretloom.frontends.language_server.server import LessonServer
from fretloom.frontends.language_server.texts import changed_text, opened_text, path_of

#: What may have changed on the disk and matters.
_WATCHED = ("**/*.lesson", "**/fretloom.toml", "**/pyproject.toml")
#: What is asked about a lesson, who answers, and what the editor is told about it.
_ANSWERS: tuple[tuple[str, Callable[[Question, Any], object], object], ...] = (
    (types.TEXT_DOCUMENT_HOVER, reading.hover, None),
    (
        types.TEXT_DOCUMENT_COMPLETION,
        reading.completion,
        types.CompletionOptions(trigger_characters=[" ", "|", '"', ".", "#"]),
    ),
    (types.TEXT_DOCUMENT_DOCUMENT_SYMBOL, reading.document_symbols, None),
    (types.TEXT_DOCUMENT_FOLDING_RANGE, reading.folding, None),
    (types.TEXT_DOCUMENT_INLAY_HINT, reading.inlay_hints, None),
    (
        types.TEXT_DOCUMENT_CODE_ACTION,
        changing.code_actions,
        types.CodeActionOptions(
            code_action_kinds=[types.CodeActionKind.QuickFix, types.CodeActionKind.SourceFixAll],
            resolve_provider=True,
        ),
    ),
    (types.CODE_ACTION_RESOLVE, changing.with_edit, None),
    (types.TEXT_DOCUMENT_FORMATTING, changing.formatting, None),
    (types.TEXT_DOCUMENT_DEFINITION, naming.definition, None),
    (types.TEXT_DOCUMENT_REFERENCES, naming.references, None),
    (types.TEXT_DOCUMENT_DOCUMENT_HIGHLIGHT, naming.highlights, None),
    (types.TEXT_DOCUMENT_PREPARE_RENAME, naming.prepare_rename, None),
    (types.TEXT_DOCUMENT_RENAME, naming.rename, types.RenameOptions(prepare_provider=True)),
)
#: Who looks through all lessons of a folder.
_LONG = (naming.references, naming.rename)


def lesson_server() -> LessonServer:
    """Return a server that takes all of these messages."""
    server = LessonServer()
    for method, answer, options in _ANSWERS:
        server.feature(method, options)(_answering(server, answer))
    _take_start_and_end(server)
    _take_texts(server)
    _take_surroundings(server)
    return server


def _answering(
    server: LessonServer, answer: Callable[[Question, Any], object]
) -> Callable[[Any], Any]:
    async def answering(params: Any) -> object:
        # What was handed out to be asked for later carries the address itself.
        later = isinstance(params, types.CodeAction)
        uri = str(params.data) if later else params.text_document.uri
        return await server.answer(uri, lambda asked: answer(asked, params), answer in _LONG)

    return answering


def _take_texts(server: LessonServer) -> None:
    """Keep the texts up to date, in the order in which they change."""
    desk, checking = server.desk, server.checking

    @server.feature(types.TEXT_DOCUMENT_DID_OPEN)
    def opened(params: types.DidOpenTextDocumentParams) -> None:
        item = params.text_document
        desk.put(opened_text(item, desk.folders[0] if desk.folders else Path.cwd()))
        checking.changed(item.uri)

    @server.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    def changed(params: types.DidChangeTextDocumentParams) -> None:
        item = params.text_document
        before = desk.texts.get(item.uri)
        if before is not None:
            desk.put(changed_text(before, item.version, params.content_changes, desk.encoding))
            checking.changed(item.uri)

    @server.feature(types.TEXT_DOCUMENT_DID_SAVE)
    def saved(params: types.DidSaveTextDocumentParams) -> None:
        desk.something_changed()
        checking.soon_all()

    @server.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    def closed(params: types.DidCloseTextDocumentParams) -> None:
        uri = params.text_document.uri
        text = desk.texts.get(uri)
        desk.drop(uri)
        checking.closed(uri)
        for one in desk.needing(text.path) if text is not None else ():
            checking.soon(one)


def _take_start_and_end(server: LessonServer) -> None:
    """Agree with the editor on what both can do, and take note that it is about to leave."""

    @server.feature(types.INITIALIZE)
    def initialize(params: types.InitializeParams) -> None:
        encoding = server.workspace.position_encoding
        server.desk.encoding = str(getattr(encoding, "value", encoding) or "utf-16")
        server.checking.able = params.capabilities
        _take_folders(server)

    @server.feature(types.INITIALIZED)
    def initialized(params: types.InitializedParams) -> None:
        server.desk.work(warm_up)
        workspace = server.client_capabilities.workspace
        watched = workspace.did_change_watched_files if workspace else None
        if watched is None or not watched.dynamic_registration:
            return
        watchers = [types.FileSystemWatcher(glob_pattern=pattern) for pattern in _WATCHED]
        registration = types.Registration(
            id="fretloom-files",
            method=types.WORKSPACE_DID_CHANGE_WATCHED_FILES,
            register_options=types.DidChangeWatchedFilesRegistrationOptions(watchers),
        )
        # Nobody waits for the answer, so that the editor can leave without one.
        server.client_register_capability(types.RegistrationParams([registration]))

    @server.feature(types.SHUTDOWN)
    def shutdown(params: None) -> None:
        server.done = True


def _take_surroundings(server: LessonServer) -> None:
    """Take note of the folders that the editor works in, and of files that change there."""

    @server.feature(types.WORKSPACE_DID_CHANGE_WATCHED_FILES)
    def files_changed(params: types.DidChangeWatchedFilesParams) -> None:
        server.desk.something_changed()
        server.checking.soon_all()

    @server.feature(types.WORKSPACE_DID_CHANGE_WORKSPACE_FOLDERS)
    def folders_changed(params: types.DidChangeWorkspaceFoldersParams) -> None:
        _take_folders(server)
        server.desk.something_changed()
        server.checking.soon_all()


def _take_folders(server: LessonServer) -> None:
    folders = [one.uri for one in server.workspace.folders.values()]
    root = server.workspace.root_uri
    uris = folders or ([root] if root else [])
    server.desk.folders = tuple(path_of(uri, Path.cwd()) for uri in uris)


def serve() -> bool:
    """Speak to an editor over standard input and output; returns whether it said in time that it was done."""
    # What goes wrong is told to the editor, in one message; more would only fill its log.
    logging.getLogger("pygls").setLevel(logging.CRITICAL + 1)
    # Waiting for the next message cannot be interrupted otherwise, and there is nothing to be finished.
    if threading.current_thread() is threading.main_thread():
        signal.signal(signal.SIGINT, signal.SIG_DFL)
    server = lesson_server()
    # Whatever else is printed by mistake must not come between the messages.
    with os.fdopen(os.dup(sys.stdout.fileno()), "wb") as output, redirect_stdout(sys.stderr):
        try:
            server.start_io(Headers(sys.stdin.buffer), output)  # type: ignore[arg-type]
        finally:
            server.desk.close()
    return server.done
