"""Laws on what is offered, over all places of the examples: all of it fits there, and what stands there is among it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from places import EXAMPLES
from typed_lessons import typed

from fretloom.collection.while_typing.completing.continuation import Continuations
from fretloom.collection.while_typing.completing.following import offers_at
from fretloom.collection.while_typing.completing.grammar_words import terminal_words
from fretloom.collection.while_typing.completing.sentences import ENDS
from fretloom.collection.while_typing.line_at import LineAt, line_at
from fretloom.notation.syntax.parsing.tables import tables
from fretloom.notation.syntax.read import read
from fretloom.source import Source

_WORD = re.compile(r'(?<![^\s|:{}",\[(+])[^\s|:{}",()\[\]+]+')
_NAME = re.compile(r"[A-Z][^\s|:{}\",()]*")
#: Numbers, fingers over strings, plucks that say more than their finger: these cannot be offered.
_OWN = re.compile(r"\d.*|[1-4T.]+|[pimac][\d@!>*x.].*|.*slap!|#|x\d+")
_ABOVE = {"section": "section a", "form": "form\n  a", "step": 'step "A"', "lesson": 'lesson "A"'}
_Place = tuple[LineAt, str, Continuations]


@cache
def _places() -> tuple[_Place, ...]:
    """Return where words begin in the examples, each kind of beginning once: the line, the word, what is offered."""
    seen: set[tuple[str, str]] = set()
    return tuple(one for file in sorted(EXAMPLES.glob("*.lesson")) for one in _of(file, seen))


def _of(file: Path, seen: set[tuple[str, str]]) -> Iterator[_Place]:
    text = file.read_text("utf-8")
    lesson, _ = typed(text, file)
    for found in _WORD.finditer(text):
        here = line_at(lesson.source, found.start())
        # Bars and beats before the one that is typed are all alike; so are names and numbers.
        before = re.sub(r".+([|,])", r"X \1", here.before)
        kind = (here.rule, re.sub(r"\d+", "0", _NAME.sub("N", before)))
        shapes = here.rule == "voicing_line" and len(here.before.split()) == 1
        if here.rule and not here.in_comment and here.quoted is None and not shapes:
            if kind not in seen:
                yield here, found[0], offers_at(lesson, found.start())
            seen.add(kind)


def test_the_word_that_stands_there_is_among_those_offered() -> None:
    """Whoever types an example from its beginning is offered each of its words, and each name that is there."""
    missing = [
        (here.before, word)
        for here, word, found in _places()
        if not any(word in (one.text, one.text.split()[0]) for one in found.offers)
        and not _OWN.fullmatch(word)
        and not here.body.startswith(("tuning", "instrument"))  # Their values are whole lines.
        and not _gives_name(here)
    ]
    assert missing == []
    assert len(_places()) > 200


def test_whatever_is_offered_makes_a_line_that_is_understood() -> None:
    """In its block, behind what stands there in the example, and with the line ended in one of some ways."""
    wrong = [
        (before, one.text)
        for here, _, found in _places()
        for before in (here.body[: found.span.start - here.start],)
        for one in found.offers
        if here.rule != "opening" and not _fits(here, before, one.text)
    ]
    assert wrong == []


def _gives_name(here: LineAt) -> bool:
    return (here.rule, here.before.strip()) in {
        ("voicing_line", ""), ("pattern_line", ""), ("section_line", "section"),
    }  # fmt: skip


def _fits(here: LineAt, before: str, text: str) -> bool:
    word = text.split(maxsplit=1)[0]
    ends = ("", *ENDS.get(text, ("to C", "p", "like C", *ENDS.get(word, ()), '"a.lesson"')))
    above = f"{_ABOVE.get(here.block, here.block)}\n  " if here.block else ""
    begun = f"{above}{'x p ' if here.continues else ''}{before}{text}"
    return any(
        _understood(f"{begun} {end}{closing}\n") for closing in ("", "}", ")", "]") for end in ends
    )


def _understood(text: str) -> bool:
    return all(one.rule != "not-understood" for one in read(Source("", text)).faults)


def test_each_word_of_the_grammar_has_an_end() -> None:
    """So that a new word is tried in its place, and offered there."""
    words = {word for terminal in tables().terminals for word in terminal_words(terminal)}
    alone = {
        "end",
        "repeats",
        "form",
        "rest",
        "mm",
        "inches",
        "a tempo",
        "free time",
        "x2",
        "lesson",
    }
    assert words - alone == {one for one in ENDS if one in words}
    assert set(ENDS) <= words


@pytest.mark.parametrize(
    ("marked", "there", "not_there"),
    [
        ("section a\n  C | ^", "C N.C. rest %", "x2 early fermata release stop with without using"),
        ("section a\n  N.C. ^", "x2 early with without using", "rest same %"),
        ("section a\n  rest ^", "x2 with stop", "C rest N.C."),
        ("section a\n  C { p , ^", "p i m a c slap body-slap -", "C x2"),
        ("section a\n  C { p+^", "p i m a c slap", "C"),
        ("section a\n  C { (^", "p i m a c slow", "C"),
        ("section a\n  C without ^", "p i m a c", "C on"),
        ("section a\n  ritardando ^", "to", "C x2 early"),
        ("section a\n  crescendo t^", "to", "C x2 early"),
        ("section a\n  a ^", "tempo", "C x2 to"),
        ("section a\n  free ^", "time", "C x2"),
        ("section a\n  C | free ^", "x2 C", "time"),
        ("section a\n  ending 1: ))) | C ^", "x2 early", "pickup a"),
        ("section a\n  C\nform\n  a\n    but bar 1: ^", "C N.C. same rest", "a x2 early but"),
        ("section a\n  C\nform\n  a\n    but last bar: C^", "C N.C.", "a but"),
        ("section a\n  C\nform\n  a\n    but bars 1-2: C | ^", "C rest", "a x2"),
        ("section a\n  C\nform\n  a\n    but bars 1-2: C ^", "x2 early using", "a tempo"),
        ("section a\n  C\nform\n  a\n    but accelerando ^", "to", "C a"),
        ("patterns\n  other  p , ^", "p i m a c slap -", "other"),
        ("picking\n  ^", "p i m a c", "plays"),
    ],
)
def test_places_where_few_words_fit(marked: str, there: str, not_there: str) -> None:
    """A bar needs its voicing first; what was written as two words goes on with the second."""
    found = offers_at(*typed(f"voicings\n  C  x32010\n{marked}")).offers
    texts = {one.text for one in found}
    assert set(there.split()) <= texts
    assert texts.isdisjoint(not_there.split())
