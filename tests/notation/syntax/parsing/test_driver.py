"""Our parser reads what Lark reads by the same grammar, and stops where Lark stops."""

from __future__ import annotations

from functools import cache
from typing import Any

import attrs
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from lark import Lark, Token, Tree, UnexpectedCharacters, UnexpectedInput
from statements import VALID, bars_in_braces, statements

from fretloom.notation.model.margin import Margin
from fretloom.notation.syntax.building.sections import body_line
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.parsing import driver, tree
from fretloom.notation.syntax.parsing.grammar import lark_parser
from fretloom.notation.syntax.reader import Reader
from fretloom.shapes import trusted
from fretloom.source import Source

BEATS = st.tuples(st.just("body_line"), bars_in_braces())


@cache
def lark() -> Lark:
    """Return Lark's parser, worked out from the grammar."""
    return lark_parser()


def by_lark(text: str, rule: str) -> tree.Tree | tree.Unexpected:
    """Return what Lark makes of a statement, in our own values."""
    try:
        return _ours(lark().parse(text, start=rule))
    except UnexpectedInput as error:
        token: Any = getattr(error, "token", None)
        at = len(text) if token is not None and token.type == "$END" else error.pos_in_stream
        if isinstance(error, UnexpectedCharacters):
            return tree.Unexpected(at, frozenset(error.allowed - {"<END-OF-FILE>"}))
        return tree.Unexpected(at, frozenset(error.accepts))


def _ours(node: Tree[Token]) -> tree.Tree:
    children = [
        _ours(child)
        if isinstance(child, Tree)
        else tree.Token(child.type, str(child), child.start_pos, child.end_pos)
        for child in node.children
    ]
    return tree.Tree(str(node.data), tuple(children))


@settings(max_examples=600)
@given(statements() | BEATS)
@example(("body_line", "end foo"))
@example(("body_line", "restful"))
@example(("bar", ""))
def test_every_statement_is_parsed_as_the_grammar_says(statement: tuple[str, str]) -> None:
    """The same tree with the same offsets, or the same place and the same words that could stand there."""
    rule, text = statement
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(driver, "plain_beats", lambda *_: None)
        assert driver.parse(text, rule) == by_lark(text, rule)


@pytest.mark.parametrize("rule", VALID)
def test_the_statements_that_are_spoiled_are_right_at_first(rule: str) -> None:
    """Every start rule has some, and each can be read."""
    assert all(isinstance(driver.parse(text, rule), tree.Tree) for text in VALID[rule])


def test_every_start_rule_is_tried() -> None:
    """The law above leaves no rule out."""
    assert set(VALID) == set(driver.tables().starts)


@settings(max_examples=600)
@given(bars_in_braces(), st.sampled_from(["", " ", "\t"]))
def test_plain_beats_are_what_the_grammar_makes_of_them(text: str, around: str) -> None:
    """The same bars with the same places, and the same faults."""
    text = text.replace("{", "{" + around).replace("}", around + "}")
    source = Source("tune.lesson", "section a\n  " + text + "\n")
    line = Line(source, 2, 12, True, text, "", 12 + len(text))
    quick = _read(source, line)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(driver, "plain_beats", lambda *_: None)
        assert quick == _read(source, line)


def _read(source: Source, line: Line) -> object:
    """Return all that is read from a line: values, places and faults."""
    reader = Reader(source)
    with trusted():
        read = body_line(reader, line, Margin())
    return attrs.asdict(read, filter=_counts), [
        attrs.asdict(one, filter=_counts) for one in reader.faults
    ]


def _counts(field: attrs.Attribute[Any], _: object) -> bool:
    return field.name != "source"


def test_plain_beats_are_taken_where_they_can_be() -> None:
    """The short cut is used, or the law above would say nothing."""
    read = driver.parse("C { p, p m, p+a, - i3@0h2 } | Am { p6-4! }", "body_line")
    assert isinstance(read, tree.Tree)
    written = [bar.node(1).children[0] for bar in read.node(0).nodes()]
    assert [type(beats).__name__ for beats in written] == ["PlainBeats", "PlainBeats"]
