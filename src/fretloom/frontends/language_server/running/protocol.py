"""The messages of the protocol: which are taken when, and what whoever asked something wrong is answered.

Every request has an answer (JSON-RPC 2.0, 5): also one that cannot be read, comes too early or too late.
"""

from __future__ import annotations

import re
from typing import Any, BinaryIO

from lsprotocol import types
from pygls.exceptions import (
    JsonRpcException,
    JsonRpcInvalidParams,
    JsonRpcInvalidRequest,
    JsonRpcServerNotInitialized,
)
from pygls.protocol import LanguageServerProtocol
from pygls.protocol.language_server import lsp_method

from fretloom.values import frozen

_LENGTH = re.compile(rb"content-length[ \t]*:[ \t]*([0-9]+)[ \t]*\r?\n\Z", re.IGNORECASE)
#: So many digits has the length of the longest message that is taken, in bytes.
_DIGITS = 8


class Headers:
    """What comes in from an editor, with the header for the length of a message as pygls knows it.

    A header begins where its word stands: what was sent before it without a length is passed over. So is a
    length that no message can have.
    """

    def __init__(self, stream: BinaryIO) -> None:
        self._stream = stream

    def readline(self) -> bytes:
        """Return the next line."""
        line = self._stream.readline()
        found = _LENGTH.search(line)
        if found is None:
            return line
        return b"Content-Length: %b\r\n" % found[1] if len(found[1]) <= _DIGITS else b"-\r\n"

    def read(self, size: int) -> bytes:
        """Return a number of bytes, fewer only at the end."""
        return self._stream.read(size)


@frozen
class RefusedRequest:
    """A request that cannot be dealt with; `error` is the answer."""

    id: str | int
    error: JsonRpcException


class LessonProtocol(LanguageServerProtocol):
    """The protocol with texts that we keep ourselves.

    These are plain functions: of what goes on in steps pygls keeps a little for each message, for ever.
    """

    def structure_message(self, data: dict[str, Any]) -> Any:
        """Read a message; a request that is not one of the protocol becomes its refusal."""
        try:
            return super().structure_message(data)
        except JsonRpcException:
            asked = data.get("id")
            if "method" not in data or not isinstance(asked, str | int):
                raise
            said = (
                f"{data['method']} was asked with what the protocol does not know: see its params"
            )
            return RefusedRequest(asked, JsonRpcInvalidParams(said))

    def handle_message(self, message: Any) -> None:
        """Deal with a message, if it comes at its time."""
        refused = message if isinstance(message, RefusedRequest) else self._untimely(message)
        if refused is not None:
            self._send_response(refused.id, error=refused.error.to_response_error())
        elif self._begun or getattr(message, "method", "") in (types.INITIALIZE, types.EXIT):
            super().handle_message(message)

    @property
    def _begun(self) -> bool:
        return self._workspace is not None

    def _untimely(self, message: Any) -> RefusedRequest | None:
        method, asked = getattr(message, "method", None), getattr(message, "id", None)
        if method is None or asked is None:
            return None
        if self._shutdown:
            return RefusedRequest(asked, JsonRpcInvalidRequest("the server has been shut down"))
        if (method == types.INITIALIZE) == self._begun:
            if self._begun:
                return RefusedRequest(asked, JsonRpcInvalidRequest("the server has begun already"))
            return RefusedRequest(
                asked, JsonRpcServerNotInitialized("ask the server to initialize first")
            )
        return None

    @lsp_method(types.TEXT_DOCUMENT_DID_OPEN)
    def lsp_text_document__did_open(self, params: types.DidOpenTextDocumentParams) -> None:
        """Hand on a text that was opened."""
        self.fm.features[types.TEXT_DOCUMENT_DID_OPEN](params)

    @lsp_method(types.TEXT_DOCUMENT_DID_CHANGE)
    def lsp_text_document__did_change(self, params: types.DidChangeTextDocumentParams) -> None:
        """Hand on a change of a text."""
        self.fm.features[types.TEXT_DOCUMENT_DID_CHANGE](params)

    @lsp_method(types.TEXT_DOCUMENT_DID_CLOSE)
    def lsp_text_document__did_close(self, params: types.DidCloseTextDocumentParams) -> None:
        """Hand on that a text was closed."""
        self.fm.features[types.TEXT_DOCUMENT_DID_CLOSE](params)
