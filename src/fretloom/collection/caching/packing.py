"""Results of checks as plain data and back: findings point into texts, which are kept as their digests only."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from hashlib import blake2b
from typing import Any

from fretloom.api import Diagnostic, Edit, Related, Severity
from fretloom.collection.results import Checked
from fretloom.rules.waivers import Waived
from fretloom.source import Source, Span

#: Changes whenever the packed data is laid out otherwise.
LAYOUT = 1


def digest(text: str) -> str:
    """Return what stands for a text: two texts with the same digest are the same."""
    return blake2b(text.encode("utf-8", "surrogatepass"), digest_size=16).hexdigest()


def packed(checked: Checked) -> dict[str, Any] | None:
    """Return a result as JSON values; None if it depends on more than the texts that were read."""
    if not checked.texts or checked.unreadable:
        return None
    places = {one: at for at, one in enumerate(checked.texts)}
    try:
        findings = [_packed(one, places) for one in checked.findings]
        waived = [
            [_packed(one.finding, places), one.reason, _span(one.span, places)]
            for one in checked.waived
        ]
    except KeyError:  # A finding about a text that no file holds.
        return None
    texts = [[one.name, digest(one.text)] for one in checked.texts]
    return {"texts": texts, "findings": findings, "waived": waived}


def unpacked(name: str, data: dict[str, Any], text_of: Callable[[str, str], str | None]) -> Checked | None:  # fmt: skip
    """Return a result that was packed; None if a text has changed since.

    Args:
        name: of the lesson. data: what `packed` gave.
        text_of: returns the text of a file with a name, None if it is not the one with the digest.

    Raises:
        KeyError, IndexError, TypeError, ValueError: the data is not what `packed` gave.
    """
    texts: list[Source] = []
    for file, kept in data["texts"]:
        text = text_of(file, kept)
        if text is None:
            return None
        texts.append(Source(file, text))
    return Checked(
        name,
        tuple(_finding(one, texts) for one in data["findings"]),
        tuple(
            Waived(_finding(one, texts), str(reason), _place(span, texts))
            for one, reason, span in data["waived"]
        ),
        texts=tuple(texts),
    )


def _packed(found: Diagnostic, places: dict[Source, int]) -> list[Any]:
    return [
        found.rule,
        found.severity.value,
        found.message,
        found.hint,
        _span(found.span, places),
        found.nth,
        found.music_undefined,
        [[one.message, _span(one.span, places)] for one in found.related],
        [[_span(one.span, places), one.text, one.title] for one in found.edits],
    ]


def _finding(data: Sequence[Any], texts: Sequence[Source]) -> Diagnostic:
    rule, severity, message, hint, span, nth, undefined, related, edits = data
    return Diagnostic(
        rule=rule,
        severity=Severity(severity),
        message=message,
        span=_place(span, texts),
        hint=hint,
        related=tuple(Related(message=said, span=_place(at, texts)) for said, at in related),
        edits=tuple(
            Edit(span=_place(at, texts), text=text, title=title) for at, text, title in edits
        ),
        nth=nth,
        music_undefined=undefined,
    )


def _span(span: Span, places: dict[Source, int]) -> list[int]:
    return [places[span.source], span.start, span.end]


def _place(data: Sequence[int], texts: Sequence[Source]) -> Span:
    at, start, end = data
    if not 0 <= at < len(texts) or not 0 <= start <= end <= len(texts[at].text):
        raise ValueError("a place outside the text")
    return Span(texts[at], start, end)
