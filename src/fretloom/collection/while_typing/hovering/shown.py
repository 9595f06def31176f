"""What is shown of what stands at a place: a name, a word of the notation, the page of a rule that is broken there."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fretloom.characters import composed
from fretloom.collection.while_typing.completing.names import kind_of_name, names_there
from fretloom.collection.while_typing.completing.sentences import line_up_to
from fretloom.collection.while_typing.hovering.names_told import told
from fretloom.collection.while_typing.hovering.words_told import word_told
from fretloom.collection.while_typing.line_at import LineAt, line_at
from fretloom.collection.while_typing.opened import OpenLesson
from fretloom.collection.while_typing.words import WordHelp, place_of
from fretloom.notation.model.walking.names import NamePlace, named
from fretloom.notation.syntax.parsing.driver import following
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
    paragraphs: list[str] = []
    span = None
    if name is not None:
        span, paragraphs = name.span, list(told(opened, name))
    elif (word := word_told(opened, here)) is not None:
        span, paragraphs = word[0], [_said(word[1])]
    for found, rule in _broken(opened, offset):
        span = span or found
        paragraphs.append(rule_text(rule))
    return Shown(span, tuple(paragraphs)) if span is not None and paragraphs else None


def name_in(opened: OpenLesson, offset: int) -> NamePlace | None:
    """Return the name of a voicing, a pattern or a section that stands at a place, its end included."""
    for one in named(opened.lesson):
        if one.span.start <= offset <= one.span.end:
            return one
    return _in_faulty_line(opened, offset)


def _in_faulty_line(opened: OpenLesson, offset: int) -> NamePlace | None:
    """Return the name at a place of a line that could not be read, if there is what it names."""
    here = line_at(opened.source, offset)
    word = here.word()
    if word is None or here.in_comment or here.quoted is not None:
        return None
    line = opened.source.position(word.start)[0]
    if here.rule in ("", "opening"):
        return None
    if all(
        one.span.source != opened.source or one.span.line != line for one in opened.lesson.faults
    ):
        return None
    before = here.body[: word.start - here.start]
    if "NAME" not in following(line_up_to(here, before), here.rule):
        return None
    rule = "bar" if here.rule == "body_line" else place_of(here.rule, before)
    kind, gives = kind_of_name(rule, before)
    name = composed(word.text)
    there = kind is not None and name in names_there(opened, kind)
    return NamePlace(kind, name, word, gives) if kind is not None and there else None


def rule_text(name: str) -> str:
    """Return the page of a rule as Markdown, "" if there is no such rule."""
    found = page(name)
    if found is None:
        return ""
    parts = [f"**{name}**"]
    for title in SECTIONS:
        parts += [f"*{title}*", found.sections[title].strip()]
    return "\n\n".join(parts)


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
