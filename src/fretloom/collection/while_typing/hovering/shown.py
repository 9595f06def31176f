"""What is shown of what stands at a place: a name, a word of the notation, the page of a rule that is broken there."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fretloom.collection.while_typing.hovering.names_told import told
from fretloom.collection.while_typing.line_at import LineAt, line_at
from fretloom.collection.while_typing.opened import OpenLesson
from fretloom.collection.while_typing.words import WordHelp, word_help
from fretloom.notation.model.walking.names import NamePlace, named
from fretloom.rules.own import SECTIONS
from fretloom.rules.pages import page
from fretloom.source import Span
from fretloom.values import frozen

#: The pages of so many rules are shown at once.
_MOST_RULES = 3
_ALLOWED = re.compile(r"[a-z][a-z0-9-]*", re.I)
_ALLOW = re.compile(r"#+[ \t]*allow[ \t]+([^:]*)", re.I)


@frozen
class Shown:
    """What is shown of a place: what it is about, and paragraphs of Markdown."""

    span: Span
    paragraphs: tuple[str, ...]


def shown_at(opened: OpenLesson, offset: int) -> Shown | None:
    """Return what is shown of a place in a text, None if there is nothing to say."""
    here = line_at(opened.source, offset)
    if here.in_comment:
        return _allowed(here)
    name = name_in(opened, offset)
    word = here.word()
    paragraphs: list[str] = []
    span = None
    if name is not None:
        span, paragraphs = name.span, list(told(opened, name))
    elif word is not None and here.quoted is None and (help_ := _help(here, word)):
        span, paragraphs = word, [_said(help_)]
    for found, rule in _broken(opened, offset):
        span = span or found
        paragraphs.append(rule_text(rule))
    return Shown(span, tuple(paragraphs)) if span is not None and paragraphs else None


def name_in(opened: OpenLesson, offset: int) -> NamePlace | None:
    """Return the name of a voicing, a pattern or a section that stands at a place, its end included."""
    for one in named(opened.lesson):
        if one.span.start <= offset <= one.span.end:
            return one
    return None


def rule_text(name: str) -> str:
    """Return the page of a rule as Markdown, "" if there is no such rule."""
    found = page(name)
    if found is None:
        return ""
    parts = [f"**{name}**"]
    for title in SECTIONS:
        parts += [f"*{title}*", found.sections[title].strip()]
    return "\n\n".join(parts)


def _help(here: LineAt, word: Span) -> WordHelp | None:
    text = word.text
    if here.rule == "opening" or word.start == here.start == _line_start(here):
        return word_help("opening", text)
    if here.rule == "setting_line" and word.start == here.start + len(here.body.split()[0]) + 1:
        # The second word of `plays in` and `based on`.
        text = here.body.split()[0]
    return word_help(here.rule, text) or _technique(text)


def _line_start(here: LineAt) -> int:
    return here.source.line_starts()[here.source.position(here.start)[0] - 1]


def _technique(text: str) -> WordHelp | None:
    """Return what is said of the last word behind a pluck: `m2@3.vibrato`."""
    word = text.rpartition(".")[2] if "." in text else ""
    return word_help("technique", word) or word_help("technique", f"{word.partition('-')[0]}-")


def _said(help_: WordHelp) -> str:
    text = f"**{help_.word}**: {help_.says}" if help_.says != f"`.{help_.word}`" else help_.says
    return f"{text}\n\n`{help_.like_this}`" if help_.like_this else text


def _broken(opened: OpenLesson, offset: int) -> Iterator[tuple[Span, str]]:
    """Yield the rules that are broken at a place, each once, with where."""
    rules: dict[str, Span] = {}
    for one in opened.findings:
        span = one.span
        if span.source == opened.source and span.start <= offset <= max(span.end, span.start + 1):
            rules.setdefault(one.rule, span)
    for rule, span in list(rules.items())[:_MOST_RULES]:
        yield span, rule


def _allowed(here: LineAt) -> Shown | None:
    """Return the page of a rule that a comment allows."""
    sign = here.comment_sign or 0
    allow = _ALLOW.match(here.body, sign)
    for found in _ALLOWED.finditer(here.body, allow.start(1), allow.end(1)) if allow else ():
        if found.start() <= here.at <= found.end() and (text := rule_text(found[0].lower())):
            return Shown(here.span(found.start(), found.end()), (text,))
    return None
