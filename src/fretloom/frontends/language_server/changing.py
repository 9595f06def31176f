"""Answers that change a lesson: quick fixes and formatting."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lsprotocol import types
from pygls.exceptions import JsonRpcException

from fretloom.collection.while_typing.fixing_here import WayOut, ways_out
from fretloom.collection.while_typing.rewriting import formatted, with_sure_changes
from fretloom.frontends.language_server.findings import shown_finding
from fretloom.frontends.language_server.question import REQUEST_FAILED, Question

#: So many changes are proved together for an editor that only asks what there is to do.
_MOST_UNASKED = 20
#: The kind of all sure changes at once.
FIX_ALL = f"{types.CodeActionKind.SourceFixAll.value}.fretloom"


def code_actions(asked: Question, params: types.CodeActionParams) -> list[types.CodeAction]:
    """Return what can be done about the findings in a range, and all that is sure."""
    only = params.context.only
    made: list[types.CodeAction] = []
    if _wanted(types.CodeActionKind.QuickFix.value, only):
        span = asked.places.span(params.range)
        made += (_quick_fix(asked, one) for one in ways_out(asked.lesson, span.start, span.end))
    if _wanted(FIX_ALL, only):
        made += _fix_all(asked, bool(only))
    return made


def _wanted(kind: str, only: Sequence[types.CodeActionKind | str] | None) -> bool:
    """Whether a kind is one of those asked for, or in one of them: `source` has all that begins with it."""
    asked = [one.value if isinstance(one, types.CodeActionKind) else one for one in only or ()]
    return not only or any(kind == one or kind.startswith(f"{one}.") or not one for one in asked)


def _quick_fix(asked: Question, way: WayOut) -> types.CodeAction:
    found = shown_finding(way.finding, asked.places.range(way.finding.span), None, False)
    return types.CodeAction(
        title=way.title,
        kind=types.CodeActionKind.QuickFix,
        diagnostics=[found],
        is_preferred=way.sure or None,
        edit=asked.workspace_edit(way.edits),
    )


def _fix_all(asked: Question, asked_for: bool) -> Iterator[types.CodeAction]:
    """Yield all sure changes as one, if there are several or somebody asked for them.

    To prove them takes a while: an editor that can ask for them later is not made to wait.
    """
    sure = sum(bool(one.edits) for one in asked.lesson.findings)
    if not sure or not (asked_for or sure > 1):
        return
    action = types.CodeAction(title="Make all sure changes", kind=FIX_ALL, data=asked.uri)
    if _asks_later(asked.able) and not asked_for:
        yield action
    elif asked_for or sure <= _MOST_UNASKED:
        action.edit = _sure_changes(asked)
        if action.edit is not None:
            yield action


def _asks_later(able: types.ClientCapabilities) -> bool:
    """Whether an editor asks for the edit of an action when it is chosen."""
    action = able.text_document.code_action if able.text_document else None
    later = action.resolve_support if action and action.data_support else None
    return later is not None and "edit" in later.properties


def _sure_changes(asked: Question) -> types.WorkspaceEdit | None:
    edits = with_sure_changes(asked.lesson, asked.at.unsaved)
    return asked.workspace_edit(edits) if edits else None


def with_edit(asked: Question, action: types.CodeAction) -> types.CodeAction:
    """Return what somebody has chosen to do with its edit.

    Raises:
        JsonRpcException: nothing of it could be proved to do no harm.
    """
    action.edit = _sure_changes(asked)
    if action.edit is None:
        said = "nothing was changed: no change could be proved to do no harm; make them one by one"
        raise JsonRpcException(said, REQUEST_FAILED)
    return action


def formatting(
    asked: Question, params: types.DocumentFormattingParams
) -> list[types.TextEdit] | None:
    """Return what the formatter changes.

    Raises:
        FretloomError: the lesson has faults, so that it stays as it is.
    """
    return asked.text_edits(formatted(asked.lesson))
