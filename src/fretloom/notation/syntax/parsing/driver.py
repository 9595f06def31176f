"""Parses a statement by a rule of the grammar, with the tables.

An LALR parser with one token of look-ahead (Aho, Lam, Sethi and Ullman, "Compilers", 2nd edition,
algorithm 4.44); in each state it looks only for the terminals that can stand there.
"""

from __future__ import annotations

from typing import cast

from fretloom.characters import composed
from fretloom.notation.syntax.parsing.plain_beats import PlainBeats, plain_beats
from fretloom.notation.syntax.parsing.tables import END, GrammarRule, Tables, tables
from fretloom.notation.syntax.parsing.tree import Token, Tree, Unexpected

Child = Token | Tree | PlainBeats
#: What a part of a rule has become: a token, a node, or the children of a rule written with `_`.
_Value = Child | list[Child]
#: The terminal that opens beats, and the rule that reads them with their brackets.
_NAME = "NAME"
_OPENING, _BEATS = "LBRACE", "written"


def parse(text: str, rule: str, begin: int = 0) -> Tree | Unexpected:
    """Parse a text from an offset on by one of the start rules."""
    by = tables()
    first, last = by.starts[rule]
    states, values = [first], cast("list[_Value]", [])
    at = skip_blanks(by, text, begin)
    while True:
        token = next_token(by, text, at, states[-1])
        if token is None:
            return Unexpected(at, _wanted_signs(by, text, at, states, last))
        to = _reduced(by, states, values, token.kind, last)
        if states[-1] == last and token.kind == END:
            return cast("Tree", values[-1])
        if to is None:
            return Unexpected(token.start, _wanted(by, states, last))
        if token.kind == _OPENING and (beats := plain_beats(text, at)) is not None:
            values.append(Tree(_BEATS, (beats,)))
            states.append(by.state(states[-1]).after[_BEATS])
            at = skip_blanks(by, text, beats.after)
            continue
        values.append(token)
        states.append(to)
        at = skip_blanks(by, text, token.end)


def following(text: str, rule: str) -> frozenset[str]:
    """Return the terminals with which a text, the beginning of a line, can go on by one of the start rules.

    `END` is among them where it can stop there; none if it makes no sense already.
    """
    by = tables()
    first, last = by.starts[rule]
    states, values = [first], cast("list[_Value]", [])
    at = skip_blanks(by, text, 0)
    while True:
        token = next_token(by, text, at, states[-1])
        if token is None:
            return frozenset()
        if token.kind == END:
            return _wanted(by, states, last)
        to = _reduced(by, states, values, token.kind, last)
        if to is None:
            return frozenset()
        values.append(token)
        states.append(to)
        at = skip_blanks(by, text, token.end)


def skip_blanks(by: Tables, text: str, at: int) -> int:
    """Return the offset of what follows white space."""
    found = by.match(by.blank)(text, at)
    return at if found is None else found.end()


def next_token(by: Tables, text: str, at: int, state: int) -> Token | None:
    """Return the token at an offset, None if what is there cannot be one."""
    if at >= len(text):
        return Token(END, "", at, at)
    for name, sign, match, words in by.state(state).sought:
        if match is None:
            if text.startswith(sign, at):
                return Token(name, sign, at, at + len(sign))
        elif (found := match(text, at)) is not None:
            word = found[0]
            # Names are compared as they look, whichever way their accents were typed.
            text = composed(word) if name == _NAME else word
            return Token(words.get(word, name), text, at, found.end())
    return None


def _reduced(
    by: Tables, states: list[int], values: list[_Value], kind: str, last: int
) -> int | None:
    """Take all rules that a token ends as read; return the state that follows, or None."""
    while (action := by.state(states[-1]).actions.get(kind)) is not None and action < 0:
        rule = by.rule(-1 - action)
        parts: list[_Value] = []
        if rule.size:
            parts = values[-rule.size :]
            del values[-rule.size :], states[-rule.size :]
        children = _children(rule, parts)
        values.append(children if rule.inline else Tree(rule.name, tuple(children)))
        states.append(by.state(states[-1]).after[rule.origin])
        if kind == END and states[-1] == last:
            return None
    return action


def _children(rule: GrammarRule, parts: list[_Value]) -> list[Child]:
    """Return those parts of a rule that are children of its node."""
    children: list[Child] = []
    for place, inline in rule.kept:
        if inline:
            inner = cast("list[Child]", parts[place])
            if children:
                children += inner
            else:  # The list of a repetition goes on growing, it is not copied.
                children = inner
        else:
            children.append(cast("Child", parts[place]))
    return children


def _wanted(by: Tables, states: list[int], last: int) -> frozenset[str]:
    """Return the terminals with which the text could go on, its end among them."""
    actions = by.state(states[-1]).actions
    return frozenset(kind for kind in actions if _fits(by, states, kind, last))


def _fits(by: Tables, states: list[int], kind: str, last: int) -> bool:
    """Whether a terminal can follow, if all rules that it ends are taken as read."""
    stack = list(states)
    while (action := by.state(stack[-1]).actions.get(kind)) is not None and action < 0:
        rule = by.rule(-1 - action)
        if rule.size:
            del stack[-rule.size :]
        stack.append(by.state(stack[-1]).after[rule.origin])
        if kind == END and stack[-1] == last:
            return True
    return action is not None


def _wanted_signs(by: Tables, text: str, at: int, states: list[int], last: int) -> frozenset[str]:
    """Return what could stand where no terminal of this state does.

    If it is a terminal of another state, that is what could follow; if it is none at all, what is
    looked for here.
    """
    if any(by.match(name)(text, at) for name in by.terminals):
        return _wanted(by, states, last)
    return frozenset(name for name, *_ in by.state(states[-1]).sought)
