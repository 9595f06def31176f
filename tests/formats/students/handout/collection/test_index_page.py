"""The page of a collection: in the order of the fewest new things, strict, and safe."""

from __future__ import annotations

import html5lib
import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from reading_through import reading_of

from fretloom.formats.students.handout.collection.entry import (
    IndexEntry,
    entry_of,
    in_learning_order,
)
from fretloom.formats.students.handout.collection.page import index_page
from fretloom.practising.novelty import NewThing


def _entry(title: str, *things: str, level: str = "beginner", **more) -> IndexEntry:
    asks = tuple(NewThing("technique", one, f"a {one}") for one in things)
    given = {
        "by": "", "files": (("handout", f"{title}.html"),), "key": "G", "tuning": "standard", "capo": "none",
        "tempo": "♩ = 80", "bars": 8,
    }  # fmt: skip
    return IndexEntry(title=title, level=level, asks=asks, **{**given, **more})


def test_each_lesson_brings_as_little_new_as_can_be():
    entries = [
        _entry("Long", "barre", "slide", "roll", "harmonic"),
        _entry("Barre", "barre", "slide"),
        _entry("First", "roll"),
        _entry("Slide", "roll", "slide"),
    ]
    ordered = in_learning_order(entries)
    assert [(one.title, one.order, one.new) for one in ordered] == [
        ("First", 1, 1), ("Slide", 2, 1), ("Barre", 3, 1), ("Long", 4, 1),
    ]  # fmt: skip


def test_of_equals_the_easier_level_comes_first_then_the_shorter_then_the_title():
    entries = [
        _entry("B", level="intermediate"), _entry("Z", bars=4), _entry("A"), _entry("C", level="other"),
    ]  # fmt: skip
    assert [one.title for one in in_learning_order(entries)] == ["Z", "A", "B", "C"]


def test_lessons_for_one_instrument_stand_together():
    """Each instrument begins with what is least for somebody who knows none of it; the one with most lessons first."""
    entries = [
        _entry("Hula", "roll", instrument="ukulele"), _entry("Barre", "barre", "slide", "roll"),
        _entry("First", "roll", "slide"),
    ]  # fmt: skip
    ordered = in_learning_order(entries)
    assert [(one.title, one.order, one.new) for one in ordered] == [
        ("First", 1, 2), ("Barre", 2, 1), ("Hula", 3, 1),
    ]  # fmt: skip


def test_the_page_names_instruments_where_there_are_several():
    several = index_page([_entry("A"), _entry("B", instrument="ukulele")], "Lessons")
    assert 'name="instrument"' in several
    assert "Lessons for one instrument stand together." in several
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(several)
    heads = len(tree.findall(".//thead/tr/th"))
    assert {len(row.findall("td")) for row in tree.findall(".//tbody/tr")} == {heads} == {9}
    assert "nstrument</th>" not in index_page([_entry("A"), _entry("B")], "Lessons")


@pytest.mark.parametrize(
    ("lines", "instrument"),
    [
        ("", "guitar"), ("  tuning DADGAD\n", "guitar"), ("  tuning ukulele\n", "ukulele"),
        ("  instrument mandolin\n  tuning G3 D4 A4 E5\n", "mandolin"),
        ("  instrument classical\n", "guitar"), ("  instrument kettle\n", "guitar"),
    ],
)  # fmt: skip
def test_an_entry_knows_its_instrument_by_name_or_tuning(lines: str, instrument: str):
    text = f'lesson "Kiln"\n{lines}patterns\n  one p1 , i1 , p1 , i1\nsection a\n  rest\n'
    assert entry_of(reading_of(text), [("handout", "a.html")]).instrument == instrument


@given(st.lists(st.sets(st.sampled_from("abcdef")), max_size=8))
def test_new_things_add_up_to_all_there_are(asked):
    ordered = in_learning_order([_entry(str(at), *sorted(one)) for at, one in enumerate(asked)])
    assert sum(one.new for one in ordered) == len(set().union(*asked))
    assert [one.order for one in ordered] == list(range(1, len(asked) + 1))


def test_the_page_is_strict_html_whatever_a_title_says():
    """Source: the parser of the WHATWG standard as html5lib has it."""
    nasty = '<script>x</script>"onclick="y'
    page = index_page(
        [_entry(nasty, "barre", by=nasty, tuning=nasty, key=nasty), _entry("B")], nasty
    )
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page)
    assert len(tree.findall(".//script")) == 1
    assert [one for one in tree.iter() if "onclick" in one.attrib] == []
    assert len(tree.findall(".//tbody/tr")) == 2


def test_there_is_nothing_to_choose_where_all_are_alike():
    page = index_page([_entry("A", key="G"), _entry("B", key="D")], "Lessons")
    assert 'name="key"' in page
    assert 'name="tuning"' not in page


def test_an_entry_says_what_a_student_chooses_by():
    text = 'lesson "Kiln"\n  by "Us"\n  capo 3\n  plays in E\n  sounds in G\n  level beginner\n  tuning drop D\n'
    text += "voicings\n  E 022100\npatterns\n  one p , i , p , i\nsection a using one\n  E x2\n"
    entry = entry_of(reading_of(text), [("handout", "a.html")])
    assert (entry.title, entry.by, entry.level, entry.key) == ("Kiln", "Us", "beginner", "G")
    assert (entry.tuning, entry.capo, entry.bars) == ("drop D", "fret 3", 2)
    assert evolve(entry, asks=()).techniques == ()
