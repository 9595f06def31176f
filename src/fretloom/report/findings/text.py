"""Findings as text for a terminal: place, message, the line with a caret, and the way out.

Text from a lesson is shown, never obeyed: control characters become visible signs, tabs become
spaces, wide characters take two columns, and of very long lines only the part at fault is shown.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

from fretloom.diagnostics import Diagnostic
from fretloom.rule_facts import Severity
from fretloom.source import Span

_COLOURS = {Severity.ERROR: "31;1", Severity.WARNING: "33;1", Severity.INFO: "36;1"}
_MARGIN = "    "
_TAB = "    "
_WINDOW = 100
_LEAD = 40


def render(found: Diagnostic, colour: bool = False) -> str:
    """Return one finding as lines of text, without a line end after the last."""
    span = found.span
    word = _paint(found.severity.value, _COLOURS[found.severity], colour)
    place = _paint(f"{visible(span.source.name)}:{span.line}:{span.column}:", "1", colour)
    lines = [f"{place} {word}: {visible(found.message)} [{found.rule}]"]
    shown, carets = excerpt(span)
    if shown.strip():
        # What runs workflows obeys lines that begin with these signs, wherever they come from.
        margin = "  | " if shown.lstrip().startswith(("::", "##[")) else _MARGIN
        lines += [margin + shown, _MARGIN + _paint(carets, _COLOURS[found.severity], colour)]
    if found.hint:
        lines.append(f"{_MARGIN}hint: {visible(found.hint)}")
    for related in found.related:
        where = f"line {related.span.line}"
        if related.span.source is not span.source:
            where = f"{visible(related.span.source.name)}, {where}"
        lines.append(f"{_MARGIN}see {where}: {visible(related.message)}")
    return "\n".join(lines)


def summary(severities: Iterable[Severity], files: int) -> str:
    """Return the closing line: how much was found in how many files."""
    found = list(severities)
    counted = [
        _count(sum(one is severity for one in found), name)
        for severity, name in ((Severity.ERROR, "error"), (Severity.WARNING, "warning"))
    ]
    remarks = sum(one is Severity.INFO for one in found)
    where = _count(files, "file")
    if not any(one is not Severity.INFO for one in found):
        counted = ["no errors"]
    if remarks:
        counted.append(_count(remarks, "remark"))
    counted = [words for words in counted if not words.startswith("0 ")]
    return f"{', '.join(counted)} in {where}"


def excerpt(span: Span) -> tuple[str, str]:
    """Return the line a span starts on as it can be shown, and the carets under the span."""
    line, column = span.source.position(span.start)
    text = span.source.line_text(line)
    first = column - 1
    last = max(first + 1, min(len(text), first + span.end - span.start))
    begin = max(0, first - _LEAD) if len(text) > _WINDOW else 0
    end = min(len(text), begin + _WINDOW)
    before, after = "…" if begin else "", "…" if end < len(text) else ""
    shown = before + visible(text[begin:end]) + after
    lead = len(before) + width(visible(text[begin:first]))
    marked = text[first : min(last, end)]
    return shown.rstrip(), " " * lead + "^" * max(1, width(visible(marked)))


def visible(text: str) -> str:
    """Return text that a terminal shows and does not obey."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(map(_visible, text))


def _visible(character: str) -> str:
    if character == "\t":
        return _TAB
    if character < " ":
        return chr(0x2400 + ord(character))
    category = unicodedata.category(character)
    return "�" if category in ("Cc", "Cf", "Cs", "Co", "Zl", "Zp") else character


def width(text: str) -> int:
    """Return how many columns a terminal needs for a text that `visible` returned."""
    if text.isascii():
        return len(text)
    return sum(_columns(character) for character in text)


def _columns(character: str) -> int:
    if unicodedata.combining(character):
        return 0
    return 2 if unicodedata.east_asian_width(character) in ("W", "F") else 1


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def _paint(text: str, code: str, colour: bool) -> str:
    return f"\x1b[{code}m{text}\x1b[0m" if colour else text
