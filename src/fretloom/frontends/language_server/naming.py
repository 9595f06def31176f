"""Answers about names: where they are given, where they stand, and how they are changed."""

from __future__ import annotations

from lsprotocol import types

from fretloom.collection.while_typing.names_at import alike_at, everywhere_at, given_at
from fretloom.frontends.language_server.question import Question


def definition(asked: Question, params: types.DefinitionParams) -> types.Location | None:
    """Return where a name is given, or the file that is named."""
    span = given_at(asked.lesson, asked.places.offset(params.position), asked.at.unsaved)
    return asked.locate(span) if span is not None else None


def references(asked: Question, params: types.ReferenceParams) -> list[types.Location]:
    """Return all places in all files where a name means what it means here."""
    offset = asked.places.offset(params.position)
    found = everywhere_at(asked.lesson, offset, asked.at.unsaved)
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
