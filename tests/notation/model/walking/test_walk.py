"""The walk over a lesson: it reaches everything, says where it is, and puts other things there."""

from __future__ import annotations

from collections.abc import Iterator
from importlib import import_module
from pkgutil import walk_packages
from typing import get_args, get_type_hints

import attrs
import pytest
from attrs import evolve

import fretloom.notation.model
from fretloom.notation.model.form import FormEntry
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.margin import Unread
from fretloom.notation.model.pattern import Pattern, PatternBar, Pluck, Stroke
from fretloom.notation.model.section import Bar, With
from fretloom.notation.model.walking import walk as module
from fretloom.notation.model.walking.walk import every, lines, rebuilt, uses, walk
from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.source import Source

TEXT = """\
lesson "Two cups"
  tempo 80

use "voicings/open.lesson"

picking
  p plays 6 5 4

voicings
  C       x32010
  C.high  like C  add 1@3

patterns
  plain  p , p m , p [i [m (a i)]] , -
  long   p , - , - , - | i1 , - , - , -

section verse  using plain  "Verse"
  pickup 1: C { m2 }
  C | C x2 using long | C.high C
  repeat 2
    C | %
    repeat 3
      rest
    end
    ending 1: C | C { p, p+slap, i1-3, p.ring }
      C with a1 on 3 without p on 1
    ending 2: C
    words: "Two cups"
  end
  using long
  dynamic mf
  last 3: C { p, m3@2h3, p }

form
  verse x2
    but bars 2-3: C.high with i3 on 2 | C { p5, p, p, p } | C
    but last bar: C { p6, p, p, p }
    but from bar 5: C using long | C { p4, p, p, p }
    but without bar 1
  verse
    but using long
    but bars 1-2 using plain
    but tempo 72
    but only bars 2-9
    but dynamic p
    but ritardando to 60 over last 2 bars
    but words 1

step "The change"
  Slowly.
  show change C to C.high
  show pattern long over C
  show bars 1-2 of verse
"""


def lesson(text: str = TEXT) -> Lesson:
    found = read(Source("t.lesson", text))
    assert found.faults == ()
    return found


def everything(node: object) -> Iterator[object]:
    """Yield all values of the model below one, by their fields: independent of the walk."""
    if isinstance(node, tuple):
        for one in node:
            yield from everything(one)
    elif attrs.has(type(node)) and type(node).__module__.startswith(f"{PACKAGE}."):
        yield node
        for one in attrs.fields(type(node)):
            if one.eq:
                yield from everything(getattr(node, one.name))


PACKAGE = fretloom.notation.model.__name__
#: What is written in a line but is neither a line, a bar, a pluck nor the use of a name.
DETAILS = {
    "Technique",
    "Bend",
    "Trill",
    "SungBar",
    "Margin",
    "Slur",
    "Add",
    "Lift",
    "Move",
    "Mute",
    "Shift",
}


def test_the_walk_reaches_everything() -> None:
    """Whatever the fields of the model hold is given, once each and in written order."""
    wanted = [one for one in everything(lesson()) if type(one).__name__ not in DETAILS]
    assert [node for _, node in walk(lesson())] == wanted


def test_what_a_class_of_the_model_holds_is_in_the_table() -> None:
    """A new kind of line, or a new field that holds one, has to be entered in `_INSIDE`."""
    modules = [import_module(one.name) for one in walk_packages(module_path(), f"{PACKAGE}.")]
    classes = {
        one
        for each in modules
        for one in vars(each).values()
        if isinstance(one, type) and attrs.has(one) and one.__module__ == each.__name__
    }
    model = {one for one in classes if one.__module__.split(".")[-1] not in ("walk", "places")}
    for one in model:
        hints = get_type_hints(one)
        holding = {
            each.name
            for each in attrs.fields(one)
            if any(
                part in model and part.__name__ not in DETAILS for part in parts(hints[each.name])
            )
        } - {"linked"}
        assert holding == set(module._INSIDE.get(one, ())), one


def module_path() -> list[str]:
    return list(fretloom.notation.model.__path__)


def parts(hint: object) -> set[object]:
    """Return the types that an annotation mentions."""
    return {hint}.union(*(parts(one) for one in get_args(hint)))


def named(kind: type) -> list[str]:
    return [str(place) for place, _ in every(lesson(), kind)]


def test_bars_are_counted_as_a_musician_counts() -> None:
    """`x2` is two bars, a pickup none; endings, short bars and changed bars are named as such."""
    assert named(Bar) == [
        "the pickup of verse",
        "bar 1 of verse",
        "bar 2 of verse",
        "bar 4 of verse",
        "bar 5 of verse",
        "bar 6 of verse",
        "bar 7 of verse",
        "bar 8 of verse (ending 1)",
        "bar 9 of verse (ending 1)",
        "bar 10 of verse (ending 1)",
        "bar 11 of verse (ending 2)",
        "the last bar of verse",
        "bar 2 of verse in entry 1 of the form",
        "bar 3 of verse in entry 1 of the form",
        "bar 3 of verse in entry 1 of the form",
        "the last bar of verse in entry 1 of the form",
        "bar 5 of verse in entry 1 of the form",
        "bar 6 of verse in entry 1 of the form",
    ]


def test_bars_of_patterns() -> None:
    """A bar of a pattern is only numbered where there are several; `{ }` has its bar's place."""
    assert named(PatternBar)[:4] == [
        "the pattern plain",
        "bar 1 of the pattern long",
        "bar 2 of the pattern long",
        "the pickup of verse",
    ]


def test_numbers_stay_in_the_last_bar_that_is_replaced() -> None:
    """Three bars in the place of one all are that bar."""
    text = 'lesson "T"\nsection a\n  C x4\nform\n  a\n    but bar 2: C | C | C\n'
    bars = list(every(lesson(text), Bar))
    assert [place.bar for place, _ in bars] == [1, 2, 2, 2]


def test_a_short_last_bar_counts() -> None:
    """An incomplete bar within the section is one, a pickup is none."""
    text = "section a\n  C\n  last 3: C\n  pickup 1: C\n  C\n"
    assert [place.bar for place, _ in every(lesson(text), Bar)] == [1, 2, None, 3]


def test_an_ending_lasts_to_the_end_of_its_repeat() -> None:
    """What follows the repeat, and the repeat in an ending, are where they are."""
    text = (
        "section a\n  repeat 2\n    C\n    ending 1: C\n    repeat 2\n      C\n    end\n"
        "    ending 2: C\n  end\n  C\n"
    )
    bars = list(every(lesson(text), Bar))
    assert [place.passes for place, _ in bars] == [(), (1,), (1,), (2,), ()]


def test_every_pluck_is_found() -> None:
    """In groups, rolls and pinches, in braces, `with` and `but`; brushes are others."""
    found = ["".join((one.finger, str(one.string or ""))) for _, one in every(lesson(), Pluck)]
    plain, long = "p p m p i m a i", "p i1"
    bars = "m2 p p p a1 p m3 p i3 p5 p p p p6 p p p p4 p p p"
    assert found == f"{plain} {long} {bars}".split()


def test_uses_of_names() -> None:
    """Each name is found wherever it can be used, with the place and the very words."""
    found = [(one.kind, one.name, str(one.place)) for one in uses(lesson())]
    own = [one for one in found if one[0] != "voicing" or one[1] == "C.high"]
    assert own == [
        ("pattern", "plain", "verse"),
        ("pattern", "long", "bar 2 of verse"),
        ("voicing", "C.high", "bar 4 of verse"),
        ("pattern", "long", "bar 12 of verse"),
        ("section", "verse", "verse in entry 1 of the form"),
        ("voicing", "C.high", "bar 2 of verse in entry 1 of the form"),
        ("pattern", "long", "bar 5 of verse in entry 1 of the form"),
        ("section", "verse", "verse in entry 2 of the form"),
        ("pattern", "long", "verse in entry 2 of the form"),
        ("pattern", "plain", "bar 1 of verse in entry 2 of the form"),
        ("voicing", "C.high", "the step The change"),
        ("pattern", "long", "the step The change"),
        ("section", "verse", "the step The change"),
    ]
    assert ("voicing", "C", "the voicing C.high") in found
    assert ("voicing", "C", "the step The change") in found
    assert all(one.span is not None and one.name in one.span.text for one in uses(lesson()))


def test_a_part_of_a_lesson_can_be_walked() -> None:
    """A pattern by itself knows its name, a bar by itself its strokes."""
    pattern = lesson().patterns[1]
    assert [str(place) for place, _ in every(pattern, Stroke)] == [
        "bar 1 of the pattern long",
        "bar 2 of the pattern long",
    ]


def test_lines_and_their_depth() -> None:
    """A `but` stands one step below its entry; lines that could not be read are lines too."""
    form = lesson().form
    assert [depth for _, depth in lines(form)] == [1, 2, 2, 2, 2, 1, *[2] * 7]
    broken = read(Source("t.lesson", "form\n  a\n    but bar: ?\n")).form
    assert [(type(line), depth) for line, depth in lines(broken)] == [(FormEntry, 1), (Unread, 2)]


def test_nothing_replaced_is_the_same_lesson() -> None:
    """What stays the same is kept as it is, places and all."""
    before = lesson()
    same = rebuilt(
        before,
        name=lambda kind, name: name,
        voicing=lambda entry, place: entry,
        entry=lambda entry, place: entry,
        bar=lambda bar, place: bar,
        pluck=lambda pluck, place: pluck,
    )
    assert same is before


def test_names_are_replaced_where_they_are_used() -> None:
    """Every use has the new name; what defines a name, and other kinds of names, keep theirs."""
    new = rebuilt(lesson(), name=lambda kind, name: "new" if name == "C.high" else name)
    text = TEXT.replace("C.high", "new").replace("  new  like", "  C.high  like")
    assert format_lesson(new) == format_lesson(lesson(text))
    new = rebuilt(lesson(), name=lambda kind, name: "new" if kind == "pattern" else name)
    assert {one.name for one in uses(new) if one.kind == "pattern"} == {"new"}
    assert [one.name for one in new.patterns] == ["plain", "long"]


def test_bars_are_replaced_after_what_is_in_them() -> None:
    """Each bar comes with its place, its names replaced by then."""
    seen = []

    def cued(bar: Bar, place) -> Bar:
        seen.append((str(place), [part.voicing for part in bar.parts]))
        return evolve(bar, cue=str(place)) if place.short else bar

    new = rebuilt(lesson(), name=lambda kind, name: name.lower(), bar=cued)
    assert seen[:2] == [("the pickup of verse", ["c"]), ("bar 1 of verse", ["c"])]
    cues = [bar.cue for _, bar in every(new, Bar) if bar.cue]
    assert cues == [
        "the pickup of verse",
        "the last bar of verse",
        "the last bar of verse in entry 1 of the form",
    ]


def test_plucks_are_replaced_wherever_they_are() -> None:
    """As many are replaced as there are, and nothing else changes."""

    def louder(pluck, place):
        return evolve(pluck, accent=True)

    new = rebuilt(lesson(), pluck=louder)
    assert all(pluck.accent for _, pluck in every(new, Pluck))
    assert all(patch.pluck.accent for _, patch in every(new, With))
    assert rebuilt(new, pluck=lambda pluck, place: evolve(pluck, accent=False)) == lesson()


def test_what_differs_only_in_its_span_is_replaced() -> None:
    """Spans take no part in equality, but they are what findings point to."""
    new = rebuilt(lesson(), pluck=lambda pluck, place: evolve(pluck, span=None))
    assert new == lesson()
    assert all(pluck.span is None for _, pluck in every(new, Pluck))


@pytest.mark.parametrize("what", ["voicing", "entry"])
def test_lines_are_replaced(what: str) -> None:
    """A line of voicings, an entry of the form."""

    def marked(line, place):
        return evolve(line, margin=evolve(line.margin, beside="# seen"))

    text = format_lesson(rebuilt(lesson(), **{what: marked}))
    assert text.count("# seen") == 2


def test_patterns_keep_their_bars_when_names_are_replaced() -> None:
    """No name is used in the bars of a pattern, so they stay the very same."""
    new = rebuilt(lesson(), name=lambda kind, name: f"{name}.new")
    pairs = zip(every(lesson(), Pattern), every(new, Pattern), strict=True)
    assert all(one == other for (_, one), (_, other) in pairs)
