"""What is worked out of a change before somebody asks for it, and what not."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest
from lsprotocol import types
from pygls.exceptions import JsonRpcException

from fretloom.frontends.language_server import changing
from fretloom.frontends.language_server.features import lesson_server
from fretloom.frontends.language_server.question import Question
from fretloom.frontends.language_server.texts import OpenText

URI = "file:///work/a.lesson"
SLIPS = 'step "a"\n  shw form\n' * 30
LATER = types.ClientCapabilities(
    text_document=types.TextDocumentClientCapabilities(
        code_action=types.CodeActionClientCapabilities(
            data_support=True, resolve_support=types.ClientCodeActionResolveOptions(["edit"])
        )
    )
)


def _asked(
    tmp_path: Path, able: types.ClientCapabilities, only: list[str] | None = None
) -> tuple[list[types.CodeAction], list[types.CodeAction]]:
    """Return what can be done at a slip, and all that is sure with its edit where that is asked for later."""
    server = lesson_server()
    server.protocol.client_capabilities = able
    server.desk.put(OpenText(URI, tmp_path / "a.lesson", 1, SLIPS))
    place = types.Position(1, 3)
    params = types.CodeActionParams(
        types.TextDocumentIdentifier(URI),
        types.Range(place, place),
        types.CodeActionContext([], only=only),  # type: ignore[arg-type]
    )

    def ask(asked: Question) -> tuple[list[types.CodeAction], list[types.CodeAction]]:
        found = changing.code_actions(asked, params)
        return found, [changing.with_edit(asked, one) for one in found if one.edit is None]

    answer = asyncio.run(server.answer(URI, ask))
    server.desk.close()
    assert answer is not None
    return answer


def _edits(action: types.CodeAction) -> int:
    assert action.edit is not None and action.edit.changes is not None
    return len(action.edit.changes[URI])


def test_an_editor_that_asks_later_gets_the_edit_later(tmp_path: Path) -> None:
    """The quick fix of the place has its own at once."""
    found, later = _asked(tmp_path, LATER)
    assert [one.title for one in found] == ["Write show", "Make all sure changes"]
    assert _edits(found[0]) == 1
    assert [(one.title, one.data, _edits(one)) for one in later] == [("Make all sure changes", URI, 30)]  # fmt: skip


def test_an_editor_that_cannot_is_not_made_to_wait_for_many(tmp_path: Path) -> None:
    """Who asks for all of them gets them."""
    able = types.ClientCapabilities()
    assert [one.title for one in _asked(tmp_path, able)[0]] == ["Write show"]
    (every,) = _asked(tmp_path, able, ["source.fixAll"])[0]
    assert _edits(every) == 30


def test_where_nothing_can_be_proved_it_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """To whoever has chosen the action."""
    monkeypatch.setattr(changing, "with_sure_changes", lambda *_: ())
    with pytest.raises(JsonRpcException, match="nothing was changed"):
        _asked(tmp_path, LATER)
