"""The names of rules behind `allow`, in a comment."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fretloom.api import known_rules
from fretloom.collection.while_typing.completing.continuation import Continuation, Continuations
from fretloom.collection.while_typing.line_at import LineAt
from fretloom.collection.while_typing.opened import OpenLesson
from fretloom.rules.pages import page

_ALLOW = re.compile(r"#+[ \t]*allow[ \t]+(?:[a-z0-9-]+[ \t]*,[ \t]*)*([a-z0-9-]*)$", re.I)
_WORD = re.compile(r"#+[ \t]*([a-z]*)$", re.I)


def comment_offers(opened: OpenLesson, here: LineAt) -> Continuations:
    """Return what may follow in a comment: `allow`, and the rules that may be allowed, those found here first."""
    sign = here.comment_sign or 0
    said = here.before[sign:]
    if found := _ALLOW.search(said):
        start = sign + found.start(1)
        return Continuations(here.span(start, here.at), tuple(_rules(opened, here)))
    word = _WORD.fullmatch(said)
    if word is None:
        return Continuations(here.span(here.at, here.at))
    allow = Continuation(
        text="allow ", kind="word", says="accepts a finding: `# allow RULE: the reason`"
    )
    return Continuations(here.span(sign + word.start(1), here.at), (allow,))


def _rules(opened: OpenLesson, here: LineAt) -> Iterator[Continuation]:
    line = here.source.position(here.start)[0]
    lines = {line} if here.comment_sign else {line + 1}
    found_here = {
        one.rule
        for one in opened.findings
        if one.span.source == here.source and one.span.line in lines
    }
    for rule in known_rules():
        if rule.waivable:
            found = page(rule.name)
            rank = 0 if rule.name in found_here else 1
            says = found.summary if found else ""
            yield Continuation(text=rule.name, kind="rule", says=says, rank=rank)
