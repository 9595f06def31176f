"""What can follow what in a line, as the tables of the parser have it."""

from __future__ import annotations

from statements import VALID

from fretloom.notation.highlighting.following import begins, in_order, stretches_of
from fretloom.notation.syntax.parsing.scanning import scanned


def test_what_has_to_follow_is_forced() -> None:
    """`early` is followed by `on` and a count; `swing` by two numbers with a colon between."""
    assert stretches_of("body_line").after["EARLY"].forced == ("ON", "COUNT")
    assert stretches_of("setting_line").after["SWING"].forced == ("NUMBER", "COLON", "NUMBER")


def test_a_stretch_holds_what_can_stand_in_it() -> None:
    """After `bass` only numbers, up to another word of the block; after frets no name."""
    bass = stretches_of("voicing_line").after["BASS"]
    assert (bass.forced, bass.bag) == (("NUMBER",), ("NUMBER",))
    assert {"FINGERS", "HOP"} <= set(bass.ends)
    first = stretches_of("voicing_line").first
    assert (first.forced, first.bag) == (("NAME",), ("FRETS",))


def test_a_word_of_the_section_begins_a_line_only() -> None:
    """Behind a bar line `tempo` and `last` would be names of voicings."""
    body = stretches_of("body_line")
    assert {"TEMPO", "LAST"} <= set(body.first.ends)
    assert not {"TEMPO", "LAST"} & set(body.after["USING"].ends)


def test_terminals_keep_the_order_of_the_parser() -> None:
    """A word that is played as often comes before a name, which it would be otherwise."""
    order = in_order(["ODD", "PLUCK", "NAME", "TIMES"])
    assert order.index("TIMES") < order.index("NAME")
    assert order.index("PLUCK") < order.index("ODD")


def test_stretches_take_every_statement() -> None:
    """In each right statement every terminal is forced, in the bag of its stretch, or begins one that may follow."""
    for rule, texts in VALID.items():
        found = stretches_of(rule)
        for text in texts:
            stretch, due = found.first, list(found.first.forced)
            for one in scanned(text, rule):
                if due and due[0] == one.terminal:
                    due.pop(0)
                elif begins(one.terminal):
                    assert one.terminal in stretch.ends, (text, one)
                    stretch = found.after[one.terminal]
                    due = list(stretch.forced)
                else:
                    assert one.terminal in stretch.bag, (text, one)
