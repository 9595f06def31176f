"""Answers about names: where they are given, where they stand, and how they are changed."""

from __future__ import annotations

from lsprotocol import types
from pygls.exceptions import JsonRpcException

from fretloom.collection.while_typing.names_at import (
    alike_at,
    everywhere_at,
    given_at,
    renamed_at,
)
from fretloom.errors import FretloomError
from fretloom.frontends.language_server.question import REQUEST_FAILED, Question


def definition(asked: Question, params: types.DefinitionParams) -> types.Location | None:
    """Return where a name is given, or the file that is named."""
    span = given_at(asked.lesson, asked.places.offset(params.position), asked.at.unsaved)
    return asked.locate(span) if span is not None else None


def references(asked: Question, params: types.ReferenceParams) -> list[types.Location]:
    """Return all places in all files where a name means what it means here.

    Raises:
        JsonRpcException: they cannot be looked for, and why not.
    """
    offset = asked.places.offset(params.position)
    try:
        found = everywhere_at(asked.lesson, offset, asked.at.unsaved, asked.between)
    except FretloomError as error:
        raise JsonRpcException(str(error), REQUEST_FAILED) from None
    given = params.context.include_declaration
    return [asked.locate(one.span) for one in found if given or not one.defines]


def highlights(
    asked: Question, params: types.DocumentHighlightParams
) -> list[types.DocumentHighlight]:
    """Return all places of the text where the name at a place stands."""
    return [
        types.DocumentHighlight(
            asked.places.range(one.span),
            types.DocumentHighlightKind.Write if one.defines else types.DocumentHighlightKind.Read,
        )
        for one in alike_at(asked.lesson, asked.places.offset(params.position))
    ]


def prepare_rename(
    asked: Question, params: types.PrepareRenameParams
) -> types.PrepareRenamePlaceholder | None:
    """Return the name at a place, None if nothing there can be renamed."""
    offset = asked.places.offset(params.position)
    for one in alike_at(asked.lesson, offset):
        if one.span.start <= offset <= one.span.end:
            return types.PrepareRenamePlaceholder(asked.places.range(one.span), one.span.text)
    return None


def rename(asked: Question, params: types.RenameParams) -> types.WorkspaceEdit:
    """Return what changes in all files if the name at a place is another one.

    Raises:
        JsonRpcException: it cannot be, and why not.
    """
    offset = asked.places.offset(params.position)
    try:
        edits = renamed_at(asked.lesson, offset, params.new_name, asked.at.unsaved, asked.between)
    except FretloomError as error:
        raise JsonRpcException(str(error), REQUEST_FAILED) from None
    return asked.workspace_edit(edits)
