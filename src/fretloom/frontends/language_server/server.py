"""Speaks the Language Server Protocol (3.17) over standard input and output.

What pygls does by itself with texts is left out: it takes other characters for line ends than the
protocol does.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from lsprotocol import types
from pygls.exceptions import JsonRpcContentModified, JsonRpcException, JsonRpcInternalError
from pygls.lsp.server import LanguageServer

from fretloom.api import visible
from fretloom.errors import FretloomError, own_fault
from fretloom.frontends.language_server.checking import Checking
from fretloom.frontends.language_server.desk import Desk, Located, OutOfDate
from fretloom.frontends.language_server.question import Question
from fretloom.frontends.language_server.running.protocol import LessonProtocol
from fretloom.version import VERSION

R = TypeVar("R")


class LessonServer(LanguageServer):
    """The server: its desk, and what it tells the editor by itself; `done` once the editor is about to leave."""

    def __init__(self) -> None:
        super().__init__("fretloom", VERSION, protocol_cls=LessonProtocol, max_workers=2)
        self.desk = Desk()
        self.checking = Checking(
            self.desk, self.text_document_publish_diagnostics, self.failed, self.told_of_settings
        )
        self.done = False
        self._told = ""

    def failed(self, error: Exception) -> None:
        """Say in one message that something of ours went wrong; the server goes on."""
        message = visible(own_fault(error))
        self.window_log_message(types.LogMessageParams(types.MessageType.Error, message))

    def told_of_settings(self, fault: str) -> None:
        """Say once why the configuration does not count."""
        if fault and fault != self._told:
            message = f"{fault} (until then all rules are as they come)"
            self.window_show_message(types.ShowMessageParams(types.MessageType.Error, message))
        self._told = fault

    def report_server_error(self, error: Exception, source: Any) -> None:
        """Say in one message that a message could not be dealt with; who asked for something has an answer already."""
        if source is JsonRpcException:
            message = "a message of the editor is not one of the protocol, and was passed over"
            self.window_log_message(types.LogMessageParams(types.MessageType.Warning, message))
        elif isinstance(error, JsonRpcInternalError) or not isinstance(error, JsonRpcException):
            self.failed(error)

    async def answer(self, uri: str, make: Callable[[Question], R], long: bool = False) -> R | None:
        """Have an answer about a lesson made; None if it is not open, or nothing can be said of it.

        Args:
            uri: of the lesson. make: makes the answer. long: whether that can take long, so that others go before it.
        """
        at = self.desk.snapshot()
        try:
            return await self.desk.work(lambda: self._made(uri, at, make), long)
        except JsonRpcException:
            raise
        except OutOfDate:
            raise JsonRpcContentModified("something has changed since: ask again") from None
        except FretloomError:
            return None
        except Exception as error:
            self.failed(error)
            return None

    def _made(self, uri: str, at: Any, make: Callable[[Question], R]) -> R | None:
        lesson = self.desk.lesson(uri, at)
        if lesson is None:
            return None
        places = at.texts[uri].places(self.desk.encoding)
        able = self.client_capabilities
        located = Located(self.desk, at, uri)
        return make(Question(uri, lesson, places, at, located, able, lambda: self.desk.between(at)))
