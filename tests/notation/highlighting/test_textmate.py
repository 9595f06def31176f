"""The grammar for editors: as it is written, as an engine of its form applies it, and against the grammar of the notation.

The form: macromates.com/manual/en/language_grammars. The engine of the tests is compared with that of an editor on demand (tests/editors).
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
from coloured import by_editor, by_reader, engine, first_difference
from lesson_pool import LESSONS, Made
from lesson_texts import shown_lessons
from places import EXAMPLES, PROJECT

from fretloom.notation.highlighting.kinds import TextKind
from fretloom.notation.highlighting.textmate import SCOPES, grammar, grammar_json

WRITTEN = PROJECT / "docs/editors/fretloom-lessons/syntaxes/lesson.tmLanguage.json"


def _rules(rule: Any) -> Iterator[dict[str, Any]]:
    if isinstance(rule, dict):
        yield rule
        for inner in rule.values():
            yield from _rules(inner)
    elif isinstance(rule, list):
        for inner in rule:
            yield from _rules(inner)


def test_the_written_file_is_that_of_the_grammar() -> None:
    """Write it anew with `python -m fretloom.notation.highlighting.textmate` and its path."""
    assert WRITTEN.read_text(encoding="utf-8") == grammar_json()


def test_it_has_the_form_that_editors_read() -> None:
    """Every pattern can be compiled, every capture exists, and every include leads to a rule."""
    data = grammar()
    assert json.loads(grammar_json()) == data
    for rule in _rules(data):
        for key, captures in (("match", "captures"), ("begin", "beginCaptures"), ("end", "")):
            if isinstance(rule.get(key), str):
                groups = re.compile(rule[key]).groups
                assert all(int(number) <= groups for number in rule.get(captures, ()))
        if isinstance(rule.get("include"), str):
            assert rule["include"].removeprefix("#") in data["repository"]
        if isinstance(rule.get("begin"), str):
            assert "end" in rule
    assert len(set(SCOPES.values())) == len(TextKind)


@pytest.mark.parametrize("place", shown_lessons())
def test_editors_colour_what_people_are_shown_as_the_reader_does(place: str) -> None:
    """Each sign of an example or of a page's lesson has the same colour in both, unless it has a fault on purpose."""
    text = shown_lessons()[place]
    kinds = by_reader(text)
    if TextKind.FAULT not in kinds and not text[:1].isspace():
        assert first_difference(text, by_editor(text), kinds) == ""


@LESSONS.law(most=40)
def test_editors_colour_any_lesson_as_the_reader_does(made: Made) -> None:
    """Two ways that share nothing but the tables come to the same."""
    assert first_difference(made.text, by_editor(made.text), by_reader(made.text)) == ""


def test_comments_and_texts_are_found_as_by_the_reader() -> None:
    """In their odd places as well."""
    text = (
        'lesson "a # b \\" c"  # allow stretch: why\n  ## allow barre, stretch\n  by "x" #\n  rights "y"#z\n'
        '#allow none\nstep "s"\n  "quoted # no" prose # yes\n  a#b c # d\n'
    )
    assert first_difference(text, by_editor(text), by_reader(text)).endswith('rights "y"#z')
    text = text.replace('"y"#z', '"y"')
    assert first_difference(text, by_editor(text), by_reader(text)) == ""


def test_a_text_that_is_typed_goes_to_the_end_of_its_line() -> None:
    """And the next line is not taken for a part of it."""
    kinds = by_editor('section a  "Ver\n  E\n')
    assert kinds[11:15] == [TextKind.TEXT] * 4
    assert kinds[18] is TextKind.NAME


@pytest.mark.parametrize("spoiled", ['"', "{", "| |", "using", "((", "section", "# "])
def test_spoiled_lessons_take_no_more_steps(spoiled: str) -> None:
    """Twice as long a text takes twice as many steps, counted, whatever has been put between its words."""
    text = (EXAMPLES / "tuesday-rag.lesson").read_text(encoding="utf-8")
    words = re.split(r"(?<= )", text)
    spoilt = "".join(
        word + (f"{spoiled} " if number % 7 == 0 else "") for number, word in enumerate(words)
    )
    counts = []
    for times in (1, 2):
        before = engine().steps
        by_editor(spoilt * times)
        counts.append(engine().steps - before)
    assert counts[1] <= 2 * counts[0] + 400
