"""The words behind a pluck: what they mean, how they are written, and what is said of wrong ones."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fretloom.model import Bend, Pluck, Slap, Technique, Trill, parse_count
from fretloom.notation.syntax.parsing.odd_plucks import odd_pluck
from fretloom.notation.syntax.parsing.plucks import pluck_maker
from fretloom.notation.syntax.writing.words import pluck as written


def technique(text: str) -> Technique:
    make = pluck_maker(text)
    assert make is not None
    made = make()
    assert isinstance(made, Pluck)
    return made.technique


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("m2@3.to-3", Technique(held_to=parse_count("3"))),
        ("m2@3.to-2+1/6", Technique(held_to=parse_count("2+1/6"))),
        ("p.to-4&", Technique(held_to=parse_count("4&"))),
        ("p.for-2", Technique(held_for=Fraction(2))),
        ("p.for-3/2", Technique(held_for=Fraction(3, 2))),
        ("p.for-1.5", Technique(held_for=Fraction(3, 2))),
        ("a@3.ring", Technique(lasting="ring")),
        ("a@3.damped", Technique(lasting="damped")),
        ("a1@5.bend-half", Technique(bend=Bend(Fraction(1)))),
        ("a1@5.bend-full-release", Technique(bend=Bend(Fraction(2), release=True))),
        ("a1@5.bend-full-and-half", Technique(bend=Bend(Fraction(3)))),
        ("a1@5.prebend-quarter", Technique(bend=Bend(Fraction(1, 2), before=True))),
        ("a1@5.vibrato", Technique(vibrato=True)),
        ("a1@5.trill-7:4", Technique(trill=Trill(7, "4"))),
        ("m.ghost", Technique(ghost=True)),
        ("m2@1h3.grace", Technique(grace="on-beat")),
        ("m2@1h3p1h3.grace-before", Technique(grace="before")),
        ("a2@3.harmonic-15", Technique(touch=15)),
        ("m2@1!.ghost.vibrato", Technique(ghost=True, vibrato=True)),
    ],
)
def test_each_word(text: str, meant: Technique) -> None:
    """Every word with what it asks for."""
    assert technique(text) == meant


@pytest.mark.parametrize(
    "text",
    [
        "m2@3.to-3", "p.for-1.5", "p.for-5/3", "a@3.ring", "a@3.damped.vibrato", "a1@5.bend-full-release.vibrato",
        "a1@5.prebend-half", "a1@5.ghost.trill-7:4", "m2@1h3!.grace", "m2@1h3.damped.grace-before",
        "a2@3.harmonic-15.ghost", "p6-4!.damped", "slap", "slap!", "body-slap", "body-slap!",
    ],
)  # fmt: skip
def test_what_is_written_is_read_again(text: str) -> None:
    """In canonical order the text comes back as it was."""
    make = pluck_maker(text)
    assert make is not None
    assert written(make()) == text


@pytest.mark.parametrize(
    ("text", "slap"),
    [
        ("slap", Slap()),
        ("string-slap", Slap()),
        ("slap>", Slap(accent=True)),
        ("body-slap", Slap(place="body")),
    ],
)
def test_slaps(text: str, slap: Slap) -> None:
    """On the strings unless it says the body."""
    make = pluck_maker(text)
    assert make is not None
    assert make() == slap


@pytest.mark.parametrize(
    ("text", "says", "way_out"),
    [
        ("m2@3.bend", "`.bend` does not say how far", "bend-half"),
        ("m2@3.bend-whole", "`.bend-whole` does not say how far", "bend-full"),
        ("m2@3.vib", "`.vib` says nothing", "did you mean .vibrato?"),
        ("m2@3.vibratto", "`.vibratto` says nothing", "did you mean .vibrato?"),
        ("m2@3.hold", "`.hold` says nothing", "did you mean .to-3"),
        ("m2@3.staccato", "`.staccato` says nothing", "did you mean .damped?"),
        ("m2@3.loud", "`.loud` says nothing", "such words are .to-3"),
        ("m2@3.ring.damped", "two things of one kind", "keep one"),
        ("m2@3.ring.to-3", "does not go together", "one length"),
        ("m2@3.for-0", "for no time", "begin at 1"),
        ("m2@3.to-0", "for no time", "begin at 1"),
        ("m2@3.grace", "does not go with m2@3", "m2@1h3.grace"),
        ("p6-4.vibrato", "does not go with p6-4", "only its length"),
        ("b", "`b` is not a pluck", "write a finger"),
        ("tr", "`tr` is not a pluck", "m2@3.trill-5"),
        ("vibrato", "`vibrato` is not a pluck", "m2@3.vibrato"),
        ("a1@12*.harmonic-24", "does not go with a1@12*", "keep one of them"),
    ],
)
def test_wrong_words_are_answered(text: str, says: str, way_out: str) -> None:
    """One sentence about the word, and what to write."""
    assert pluck_maker(text) is None
    message, hint = odd_pluck(text)
    assert says in message
    assert way_out in hint
