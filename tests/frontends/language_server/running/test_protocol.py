"""What is answered to requests that are none, come too early or too late (JSON-RPC 2.0; Language Server Protocol 3.17)."""

from __future__ import annotations

import asyncio
import json
from io import BytesIO
from typing import Any

import pytest
from lsprotocol import types

from fretloom.frontends.language_server.features import lesson_server
from fretloom.frontends.language_server.running.protocol import Headers
from fretloom.frontends.language_server.server import LessonServer

URI = "file:///work/a.lesson"
WRONG, TOO_LATE, TOO_EARLY = -32602, -32600, -32002


class _Written:
    """Keeps the messages that the server writes."""

    def __init__(self) -> None:
        self.messages: list[dict[str, Any]] = []

    def write(self, data: bytes) -> None:
        self.messages.append(json.loads(data.partition(b"\r\n\r\n")[2]))

    def close(self) -> None:
        """Nothing is open."""


def _sent(server: LessonServer, *messages: dict[str, Any]) -> list[dict[str, Any]]:
    """Return what a server answers to messages."""
    written = _Written()
    server.protocol.set_writer(written)

    async def sent() -> None:
        for one in messages:
            text = json.dumps({"jsonrpc": "2.0", **one})
            hook = server.protocol.structure_message
            server.protocol.handle_message(json.loads(text, object_hook=hook))

    asyncio.run(sent())
    return written.messages


def _begin(number: int = 0) -> dict[str, Any]:
    return {"id": number, "method": "initialize", "params": {"processId": None, "rootUri": None, "capabilities": {}}}  # fmt: skip


def _codes(answers: list[dict[str, Any]]) -> list[tuple[Any, Any]]:
    return [(one["id"], one.get("error", {}).get("code")) for one in answers]


@pytest.mark.parametrize(
    "params",
    [5, None, [], {}, *({"textDocument": {"uri": URI}, "position": {"line": line, "character": 0}}
                        for line in ("x", -1, 2**70))],
)  # fmt: skip
def test_a_request_that_is_none_is_answered(params: object) -> None:
    """It says which one it was, and the server goes on."""
    server = lesson_server()
    asked = {"id": "q", "method": types.TEXT_DOCUMENT_HOVER, "params": params}
    answers = _sent(server, _begin(), asked, {"id": 2, "method": "shutdown"})
    server.desk.close()
    assert _codes(answers) == [(0, None), ("q", WRONG), (2, None)]
    assert types.TEXT_DOCUMENT_HOVER in answers[1]["error"]["message"]


def test_a_request_before_the_beginning_or_after_the_end_is_refused() -> None:
    """And there is one beginning. What wants no answer gets none."""
    server = lesson_server()
    place = {"textDocument": {"uri": URI}, "position": {"line": 0, "character": 0}}
    asked = {"method": types.TEXT_DOCUMENT_HOVER, "params": place}
    opened = {
        "method": types.TEXT_DOCUMENT_DID_OPEN,
        "params": {"textDocument": {"uri": URI, "languageId": "", "version": 1, "text": ""}},
    }
    early = _sent(server, opened, {"id": 1, **asked})
    assert (_codes(early), server.desk.texts) == ([(1, TOO_EARLY)], {})
    late = _sent(server, _begin(2), _begin(3), {"id": 4, "method": "shutdown"}, {"id": 5, **asked})
    server.desk.close()
    assert _codes(late) == [(2, None), (3, TOO_LATE), (4, None), (5, TOO_LATE)]


def test_a_length_that_is_none_does_not_hide_the_next_one() -> None:
    """Header names are taken in any case, as in HTTP, whose form they have (RFC 9110, 5.1)."""
    far = b"9" * 22
    sent = (
        b"Content-Length: abc\r\n\r\n{}content-length: 17\r\nContent-Length: " + far + b"\r\nbody"
    )
    lines = Headers(BytesIO(sent))
    found = [lines.readline() for _ in range(4)]
    assert found[:3] == [b"Content-Length: abc\r\n", b"\r\n", b"Content-Length: 17\r\n"]
    assert far not in found[3]
    assert lines.read(9) == b"body"
