"""What may follow at a place: words of the block, names that there are, values, shapes, rules, files."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fretloom.collection.while_typing.completing.continuation import Continuation, Continuations
from fretloom.collection.while_typing.completing.field_values import field_values
from fretloom.collection.while_typing.completing.file_names import file_offers
from fretloom.collection.while_typing.completing.grammar_words import (
    half_offers,
    no_chord_offer,
    opening_offers,
    technique_offers,
    word_offers,
)
from fretloom.collection.while_typing.completing.names import name_offers
from fretloom.collection.while_typing.completing.rule_names import comment_offers
from fretloom.collection.while_typing.completing.sentences import fits, line_up_to
from fretloom.collection.while_typing.completing.shapes import shape_offers
from fretloom.collection.while_typing.line_at import LineAt, line_at
from fretloom.collection.while_typing.opened import OpenLesson
from fretloom.collection.while_typing.words import place_of
from fretloom.limits import LIMITS
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.notation.syntax.parsing.driver import following

#: What is there of a name or word already.
_BEGUN = re.compile(r"[^\s|:{}\"%,\[]*$")
_USING = re.compile(r"(?<!\S)using[ \t]+$")
_BEGUN_PLUCK = re.compile(r"[^\s|:{}\"%,\[\]()+]*$")
_TECHNIQUE = re.compile(r"[pimac][0-9@:hps!>*x]*(?:-[0-9]+)?[!>x]*(?:\.[a-z0-9-]+)*\.([a-z-]*)$")
_VALUE = re.compile(r"([a-z]+)(?:[ \t]+(?:in|on))?[ \t]+(.*)$")
#: Lines of the heading whose value can be several words.
_SEVERAL_WORDS = ("tuning", "instrument", "plays", "sounds")
#: Lines that hold plucks.
_PLUCKED = ("pattern_line", "body_line", "form_line")
#: Lines with words of the notation that are written as two.
_WITH_HALVES = ("body_line", "form_line")


def offers_at(opened: OpenLesson, offset: int) -> Continuations:
    """Return what may follow at a place of a text; the likely first, each text once."""
    here = line_at(opened.source, offset)
    nothing = Continuations(here.span(here.at, here.at))
    if here.at > LIMITS.line:
        return nothing
    if here.in_comment:
        found = comment_offers(opened, here)
    elif here.quoted is not None:
        names_file = here.rule == "use_line" or here.body.startswith(("based", "use"))
        start = here.at - len(here.quoted)
        made = file_offers(opened) if names_file else ()
        found = Continuations(here.span(start, here.at), tuple(made))
    else:
        found = _in_line(opened, here)
    offers = {one.text: one for one in reversed(found.offers)}
    return Continuations(
        found.span, tuple(sorted(offers.values(), key=lambda one: (one.rank, one.text)))
    )


def _in_line(opened: OpenLesson, here: LineAt) -> Continuations:
    before = here.before
    if here.rule in _PLUCKED and (word := _TECHNIQUE.search(before)):
        return Continuations(here.span(word.start(1), here.at), tuple(technique_offers()))
    plucks = here.rule == "pattern_line" or before.rfind("{") > before.rfind("}")
    begun = (_BEGUN_PLUCK if plucks else _BEGUN).search(before)
    start = begun.start() if begun else here.at
    if here.at < 0:
        return Continuations(here.span(here.at, here.at))
    if here.rule == "opening":
        lesson = opened.lesson
        first = not here.source.opening_before(here.start - 1)
        made = opening_offers(first, lesson.heading is not None, lesson.form is not None)
        return Continuations(here.span(start, here.at), tuple(made) if not start else ())
    value = _VALUE.match(before) if here.rule == "setting_line" else None
    if value is not None and value[1] in FIELDS:
        found = _values(opened, here, value)
        if found.offers:
            return found
    if not here.rule:
        shows = (Continuation(text="show", kind="word"),)
        begins = here.block == "step" and not start
        return Continuations(here.span(start, here.at), shows if begins else ())
    return Continuations(
        here.span(start, here.at), tuple(_by_grammar(opened, here, before[:start]))
    )


def _values(opened: OpenLesson, here: LineAt, value: re.Match[str]) -> Continuations:
    """Return the values of a line of the heading; a word that belongs to the line's name comes first."""
    word, naming = value[1], opened.examined.timeline.settings.names
    row = FIELDS[word]
    if " " in row.word and not here.before.startswith(f"{row.word} "):
        rest = Continuation(text=row.word.partition(" ")[2], kind="word")
        return Continuations(here.span(value.start(2), here.at), (rest,))
    several = any(sign in value[2] for sign in " \t")
    made = [
        Continuation(text=text, kind="value", detail=says, rank=rank)
        for rank, (text, says) in enumerate(field_values(word, naming))
        if word in _SEVERAL_WORDS or not several
    ]
    return Continuations(here.span(value.start(2), here.at), tuple(made))


def _by_grammar(opened: OpenLesson, here: LineAt, before: str) -> Iterator[Continuation]:
    """Yield what the grammar lets follow, if the line is then understood."""
    rule = here.rule
    line = line_up_to(here, before)
    wanted = following(line, rule)
    rest = tuple(half_offers(before, rule, wanted)) if rule in _WITH_HALVES else ()
    material = opened.examined.reading.material
    if rest and before.rsplit(maxsplit=1)[-1] not in material.voicings:
        yield from rest
        return
    place = place_of(rule, before)
    in_bar = rule == "body_line" or place == "bar"
    if "NAME" in wanted:
        names = tuple(name_offers(opened, "bar" if in_bar else rule, before))
        if in_bar and not _USING.search(before):
            names = (*names, no_chord_offer())
        yield from _fitting(rule, line, names, "C" if in_bar else "")
    if "FRETS" in wanted:
        yield from shape_offers(opened, before.split(maxsplit=1)[0])
    words = (*rest, *word_offers(wanted, place))
    for one in words:
        yield from _fitting(rule, line, (one,), one.text)


def _fitting(
    rule: str, line: str, offers: tuple[Continuation, ...], word: str
) -> tuple[Continuation, ...]:
    """Return offers if one word in their place makes a line that is understood; "" if that is known."""
    if not word or rule == "setting_line" or fits(rule, line, word):
        return offers
    return ()
