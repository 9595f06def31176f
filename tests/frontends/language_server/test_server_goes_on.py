"""What the server does where something of ours fails, and what is shown where several lessons share a fault."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import Any, NoReturn

import pytest
from lsprotocol import types
from pygls.exceptions import (
    FeatureNotificationError,
    FeatureRequestError,
    JsonRpcContentModified,
    JsonRpcException,
    JsonRpcMethodNotFound,
)

from fretloom.api import Source, Span
from fretloom.errors import FretloomError
from fretloom.frontends.command.main import main
from fretloom.frontends.language_server.desk import Located
from fretloom.frontends.language_server.features import lesson_server
from fretloom.frontends.language_server.findings import NoticeBoard
from fretloom.frontends.language_server.texts import OpenText

URI = "file:///work/a.lesson"
START = types.Position(0, 0)


def test_a_fault_of_ours_is_one_message(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Whoever asked gets no answer, nobody a traceback, and the next question is answered."""
    server = lesson_server()
    said: list[str] = []
    server.protocol.client_capabilities = types.ClientCapabilities()
    monkeypatch.setattr(server, "window_log_message", lambda params: said.append(params.message))
    server.desk.put(OpenText(URI, tmp_path / "a.lesson", 1, "section a\n"))

    def fails(asked: Any) -> NoReturn:
        raise RuntimeError("out of order\x1b[0m")

    def refuses(asked: Any) -> NoReturn:
        raise FretloomError("not this")

    answers = (fails, refuses, lambda asked: asked.lesson.source.text)
    found = [asyncio.run(server.answer(URI, one)) for one in answers]
    server.desk.close()
    assert found == [None, None, "section a\n"]
    assert len(said) == 1
    assert "fretloom itself failed (RuntimeError: out of order" in said[0]
    assert "\x1b" not in said[0]


def test_nothing_is_kept_of_a_message_that_was_dealt_with(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """However long somebody types, the server stays as small as it was."""
    server = lesson_server()
    monkeypatch.setattr(server.checking, "_publish", lambda params: None)
    notice = server.protocol._handle_notification

    async def typed() -> None:
        item = types.TextDocumentItem(URI, "lesson", 1, "")
        notice(types.TEXT_DOCUMENT_DID_OPEN, types.DidOpenTextDocumentParams(item))
        for version in range(2, 12):
            at = types.VersionedTextDocumentIdentifier(version=version, uri=URI)
            change = types.TextDocumentContentChangePartial(types.Range(START, START), "#")
            notice(types.TEXT_DOCUMENT_DID_CHANGE, types.DidChangeTextDocumentParams(at, [change]))
        assert server.desk.texts[URI].typed == "#" * 10
        at = types.TextDocumentIdentifier(URI)
        notice(types.TEXT_DOCUMENT_DID_CLOSE, types.DidCloseTextDocumentParams(at))

    asyncio.run(typed())
    server.desk.close()
    assert server.protocol._request_futures == {}
    assert server.desk.texts == {}


def test_what_an_editor_does_wrong_is_not_called_a_fault_of_ours(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A message that cannot be read is passed over; an unknown question has been answered by the protocol."""
    server = lesson_server()
    said: list[str] = []
    monkeypatch.setattr(server, "window_log_message", lambda params: said.append(params.message))
    server.report_server_error(ValueError("no JSON"), JsonRpcException)
    server.report_server_error(JsonRpcMethodNotFound.of("textDocument/new"), FeatureRequestError)
    assert said == ["a message of the editor is not one of the protocol, and was passed over"]
    server.report_server_error(ValueError("ours"), FeatureNotificationError)
    server.desk.close()
    assert "fretloom itself failed (ValueError: ours)" in said[1]


def test_a_fault_while_looking_for_findings_is_one_message(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The lesson is looked at again after the next change."""
    server = lesson_server()
    said: list[str] = []
    shown: list[int | None] = []
    monkeypatch.setattr(server, "window_log_message", lambda params: said.append(params.message))
    checking = server.checking
    monkeypatch.setattr(checking, "_publish", lambda params: shown.append(params.version))
    known = checking._as_shown

    async def typed() -> None:
        for version, does in ((1, None), (2, known)):
            monkeypatch.setattr(checking, "_as_shown", does)
            server.desk.put(OpenText(URI, tmp_path / "a.lesson", version, "section a\n"))
            checking.changed(URI)
            await checking._tasks[URI]

    asyncio.run(typed())
    server.desk.close()
    assert (len(said), shown) == (1, [2])


def test_an_older_text_is_not_looked_at_to_the_end(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Of texts that come one after the other, what is found in the last one is shown."""
    server = lesson_server()
    shown: list[int | None] = []
    monkeypatch.setattr(server.checking, "_publish", lambda params: shown.append(params.version))

    async def typed() -> None:
        for version in range(1, 30):
            server.desk.put(OpenText(URI, tmp_path / "a.lesson", version, f"section a{version}\n"))
            server.checking.changed(URI)
            await asyncio.sleep(0)
        await server.checking._tasks[URI]

    asyncio.run(typed())
    server.desk.close()
    assert shown == [29]


def test_a_lesson_is_looked_at_again_if_it_may_need_what_has_changed(tmp_path: Path) -> None:
    """One that has not been read yet may need anything; one that has needs what it names."""
    desk = lesson_server().desk
    for name, text in (("a", 'use "s.lesson"\n'), ("b", 'use "t.lesson"\n'), ("c", "# new\n")):
        desk.put(OpenText(name, tmp_path / f"{name}.lesson", 1, text))
    for name in ("a", "b"):
        desk.lesson(name, desk.snapshot())
    assert desk.needing(tmp_path / "s.lesson") == ["a", "c"]
    assert desk.needing(tmp_path / "t.lesson") == ["b", "c"]
    desk.close()


def _finding(message: str, line: int = 0) -> types.Diagnostic:
    place = types.Position(line, 0)
    return types.Diagnostic(types.Range(place, place), message)


def test_what_lessons_find_in_a_file_is_shown_once() -> None:
    """Until the last lesson that finds it has gone."""
    board = NoticeBoard()
    assert board.put("a", [("a", _finding("own")), ("s", _finding("shared"))]) == {"a", "s"}
    assert board.put("b", [("s", _finding("shared")), ("s", _finding("shared", 3))]) == {"b", "s"}
    assert [one.message for one in board.at("a")] == ["own"]
    assert [one.range.start.line for one in board.at("s")] == [0, 3]
    assert board.put("b", []) == {"b", "s"}
    assert board.drop("b") == {"b"}
    assert board.drop("a") == {"a", "s"}
    assert board.at("s") == []


def test_without_its_package_the_command_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """One sentence, and the exit code of what could not run."""
    import sys

    for name in [
        name for name in sys.modules if name.startswith("fretloom.frontends.language_server")
    ]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "pygls", None)
    monkeypatch.setitem(sys.modules, "lsprotocol", None)
    assert main(["language-server", "--stdio", "--clientProcessId=17"]) == 2
    said = capsys.readouterr()
    assert (said.out, said.err) == (
        "",
        "fretloom: the language server needs another package: pip install 'fretloom[editor]'\n",
    )


def test_findings_are_shown_at_the_text_that_was_looked_at(tmp_path: Path) -> None:
    """Also where another text that is open leads to the same file: by a link, or by an address that is written otherwise."""
    desk = lesson_server().desk
    (tmp_path / "a.lesson").write_text("")
    (tmp_path / "link.lesson").symlink_to(tmp_path / "a.lesson")
    paths = {"first": "a.lesson", "other": "a.lesson", "link": "link.lesson"}
    for uri, name in paths.items():
        desk.put(OpenText(uri, tmp_path / name, 1, "section a\n"))
    at = desk.snapshot()
    for uri, name in paths.items():
        source = Source(str(tmp_path / name), "section a\n")
        assert Located(desk, at, uri)(Span(source, 0, 0)).uri == uri
    assert Located(desk, at, "first")(Span(Source(str(tmp_path / "link.lesson"), ""), 0, 0)).uri == "link"  # fmt: skip
    desk.close()


def test_what_is_asked_of_many_files_is_dropped_when_something_changes(tmp_path: Path) -> None:
    """The editor is told to ask again (Language Server Protocol 3.17, `ContentModified`)."""
    server = lesson_server()
    server.protocol.client_capabilities = types.ClientCapabilities()
    server.desk.put(OpenText(URI, tmp_path / "a.lesson", 1, "section a\n"))

    def looks(asked: Any) -> None:
        asked.between()
        server.desk.something_changed()
        asked.between()

    with pytest.raises(JsonRpcContentModified):
        asyncio.run(server.answer(URI, looks, True))
    server.desk.close()


def test_what_looks_through_a_folder_lets_others_go_before_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """References and renaming, and nothing else: all others look at what is there."""
    server = lesson_server()
    long: list[str] = []

    async def answer(uri: str, make: Any, takes_long: bool) -> None:
        if takes_long:
            long.append(method)

    monkeypatch.setattr(server, "answer", answer)
    for method, feature in server.protocol.fm.features.items():
        if method.startswith("textDocument/") and asyncio.iscoroutinefunction(feature):
            at = types.TextDocumentIdentifier(URI)
            asyncio.run(feature(types.HoverParams(at, START)))
    server.desk.close()
    assert sorted(long) == [types.TEXT_DOCUMENT_REFERENCES, types.TEXT_DOCUMENT_RENAME]
