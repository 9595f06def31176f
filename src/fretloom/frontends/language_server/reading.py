"""Answers about what stands in a lesson: hover, completion, outline, folding, hints."""

from __future__ import annotations

from lsprotocol import types

from fretloom.collection.while_typing.beats_left import beats_left
from fretloom.collection.while_typing.completing.continuation import Continuation
from fretloom.collection.while_typing.completing.following import offers_at
from fretloom.collection.while_typing.hovering.shown import shown_at
from fretloom.collection.while_typing.outline import OutlineEntry, folds, outline
from fretloom.frontends.language_server.question import Question, markdown

_ITEMS = {
    "block": types.CompletionItemKind.Module,
    "field": types.CompletionItemKind.Property,
    "word": types.CompletionItemKind.Keyword,
    "value": types.CompletionItemKind.Value,
    "voicing": types.CompletionItemKind.Variable,
    "pattern": types.CompletionItemKind.Function,
    "section": types.CompletionItemKind.Reference,
    "shape": types.CompletionItemKind.Snippet,
    "rule": types.CompletionItemKind.Constant,
    "file": types.CompletionItemKind.File,
}
_SYMBOLS = {
    "lesson": types.SymbolKind.Module,
    "file": types.SymbolKind.File,
    "block": types.SymbolKind.Namespace,
    "voicing": types.SymbolKind.Variable,
    "pattern": types.SymbolKind.Function,
    "section": types.SymbolKind.Class,
    "form": types.SymbolKind.Namespace,
    "entry": types.SymbolKind.Key,
    "step": types.SymbolKind.Event,
}


def hover(asked: Question, params: types.HoverParams) -> types.Hover | None:
    """Return what is shown of what stands at a place."""
    found = shown_at(asked.lesson, asked.places.offset(params.position))
    if found is None:
        return None
    able = asked.able.text_document and asked.able.text_document.hover
    text = "\n\n---\n\n".join(found.paragraphs)
    content = markdown(text, list(able.content_format or []) or None if able else None)
    return types.Hover(content, asked.places.range(found.span))


def completion(asked: Question, params: types.CompletionParams) -> types.CompletionList:
    """Return what may follow at a place."""
    found = offers_at(asked.lesson, asked.places.offset(params.position))
    place = asked.places.range(found.span)
    able = asked.able.text_document and asked.able.text_document.completion
    item = able.completion_item if able else None
    formats = list(item.documentation_format or []) or None if item else None
    made = [_item(one, at, place, formats) for at, one in enumerate(found.offers)]
    return types.CompletionList(is_incomplete=False, items=made)


def _item(
    offer: Continuation, at: int, place: types.Range, formats: list[types.MarkupKind] | None
) -> types.CompletionItem:
    return types.CompletionItem(
        label=offer.text.strip(),
        kind=_ITEMS[offer.kind],
        detail=offer.detail or None,
        documentation=markdown(offer.says, formats) if offer.says else None,
        sort_text=f"{at:05}",
        filter_text=offer.text,
        text_edit=types.TextEdit(place, offer.text),
    )


def document_symbols(
    asked: Question, params: types.DocumentSymbolParams
) -> list[types.DocumentSymbol] | list[types.SymbolInformation]:
    """Return the outline: as a tree, or for an editor that knows none as a list."""
    entries = outline(asked.lesson.source)
    able = asked.able.text_document and asked.able.text_document.document_symbol
    if able and able.hierarchical_document_symbol_support:
        return [_symbol(asked, one) for one in entries]
    return [
        types.SymbolInformation(
            location=types.Location(asked.uri, asked.places.range(one.span)),
            name=one.name,
            kind=_SYMBOLS[one.kind],
            container_name=inside,
        )
        for top in entries
        for inside, one in ((None, top), *((top.name, entry) for entry in top.entries))
    ]


def _symbol(asked: Question, entry: OutlineEntry) -> types.DocumentSymbol:
    return types.DocumentSymbol(
        name=entry.name,
        kind=_SYMBOLS[entry.kind],
        range=asked.places.range(entry.span),
        selection_range=asked.places.range(entry.name_span),
        detail=entry.detail or None,
        children=[_symbol(asked, one) for one in entry.entries] or None,
    )


def folding(asked: Question, params: types.FoldingRangeParams) -> list[types.FoldingRange]:
    """Return what can be folded."""
    able = asked.able.text_document and asked.able.text_document.folding_range
    most = able.range_limit if able else None
    found = folds(asked.lesson.source)
    return [
        types.FoldingRange(
            start_line=one.first - 1,
            end_line=one.last - 1,
            kind=types.FoldingRangeKind.Comment if one.comment else types.FoldingRangeKind.Region,
        )
        for one in (found if most is None else found[:most])
    ]


def inlay_hints(asked: Question, params: types.InlayHintParams) -> list[types.InlayHint]:
    """Return how many beats are left in the bars of a range."""
    meter = asked.lesson.examined.timeline.settings.meter
    first, last = params.range.start.line + 1, params.range.end.line + 1
    return [
        types.InlayHint(
            position=asked.places.position(one.at),
            label=one.words,
            padding_left=True,
            tooltip=f"a bar has {one.of} beats here",
        )
        for one in beats_left(asked.lesson.source, meter, first, last)
    ]
