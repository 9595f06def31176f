"""The page as a whole: strict HTML, whole in itself, and safe whatever a lesson says."""

from __future__ import annotations

import re
from itertools import pairwise

import html5lib
import pytest
from lesson_pool import LESSONS
from places import EXAMPLES
from reading_through import reading_of

from fretloom.api.reading import examine, load
from fretloom.errors import FretloomError
from fretloom.formats.students.handout import html as handout_html
from fretloom.formats.students.handout.options import SHEETS, HandoutOptions
from fretloom.formats.students.handout.page import page_of

LESSON = """
lesson "Kiln Lane Evening"
  by "Tuesday group"
  rights "CC0"
  capo 2
  plays in C
  meter 4/4

voicings
  C  x32010
  G  320003

patterns
  plain  p , i , p , i

section verse  using plain
  C | G
  words: "Lamps are" | "lit"

step "Slowly"
  Count aloud.
  show change C to G at 60
"""
NASTY = "<script>alert(1)</script><img src=x onerror=y>&amp;\\u2028{{ say }}{% raw %}</style>"


def _strict(page: str):
    """Parse by the HTML standard; any error in the markup is an exception."""
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page)
    for one in tree.iter():
        one.tag = str(one.tag).rpartition("}")[2]
    return tree


def page_text(tree) -> str:
    """Return the text that a reader sees or hears."""
    return "".join(tree.find("body").itertext())


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.lesson")), ids=lambda one: one.stem)
@pytest.mark.parametrize("sheet", SHEETS)
def test_examples_are_strict_html_and_whole_in_themselves(path, sheet):
    """Source: the parser of the WHATWG standard as html5lib has it, which refuses faulty markup."""
    page = page_of(examine(load(path)).reading, HandoutOptions(sheet=sheet))
    tree = _strict(page)
    assert [one.tag for one in tree] == ["head", "body"]
    assert len(tree.findall(".//h1")) == 1
    assert tree.findall(".//link") + tree.findall(".//img") == []
    urls = re.findall(r"url\(([^)]{0,12})", page) + re.findall(r'(?:src|href)="([^"]{0,12})', page)
    assert {one for one in urls if not one.startswith(("data:font/", "#"))} == set()
    assert "http" not in page.replace("http://www.w3.org/2000/svg", "")


def test_headings_go_down_by_one_and_every_id_is_there_once():
    tree = _strict(page_of(reading_of(LESSON), HandoutOptions()))
    levels = [int(one.tag[1]) for one in tree.iter() if re.fullmatch("h[1-6]", str(one.tag))]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    ids = [one.get("id") for one in tree.iter() if one.get("id")]
    assert len(ids) == len(set(ids))
    named = {one.get("aria-labelledby") for one in tree.iter()} - {None}
    assert named <= set(ids)


def test_every_picture_has_a_name_and_says_what_it_shows():
    tree = _strict(page_of(reading_of(LESSON), HandoutOptions()))
    pictures = tree.findall(".//svg")
    assert pictures
    for picture in pictures:
        assert picture.get("role") == "img"
        assert picture.find("title").text


@pytest.mark.parametrize(
    "place",
    [
        'lesson "{}"',
        '  by "{}"',
        '  rights "{}"',
        "  {} C | G",
        '  words: "{}" | "lit"',
        'step "{}"',
        "  {}",
    ],
)
def test_no_text_of_a_lesson_becomes_markup(place):
    """Title, maker, rights, cue, words, step and its text, with markup of HTML, of templates and of SVG."""
    text = LESSON
    nasty = place.replace("{}", f'"{NASTY}"' if place == "  {} C | G" else NASTY)
    starts = {
        'lesson "{}"': 'lesson "Kiln Lane Evening"', '  by "{}"': '  by "Tuesday group"',
        '  rights "{}"': '  rights "CC0"', "  {} C | G": "  C | G",
        '  words: "{}" | "lit"': '  words: "Lamps are" | "lit"', 'step "{}"': 'step "Slowly"', "  {}": "  Count aloud.",
    }  # fmt: skip
    assert starts[place] in text
    reading = reading_of(text.replace(starts[place], nasty))
    for sheet in SHEETS:
        tree = _strict(page_of(reading, HandoutOptions(sheet=sheet)))
        # What plays is ours, and has an empty place for each player.
        ours = [one.get("class") for one in tree.findall(".//script")]
        assert ours == (["player", "player"] if sheet == "handout" else [])
        assert [
            one for one in tree.iter() if any(name.startswith("on") for name in one.attrib)
        ] == []
        assert len(tree.findall(".//style")) == 1
        assert "alert(1)" in page_text(tree) or sheet != "handout"


def test_only_the_parts_that_are_wanted():
    tree = _strict(page_of(reading_of(LESSON), HandoutOptions(parts=("shapes", "road"))))
    assert [one.get("id") for one in tree.findall(".//main/section")] == ["road", "shapes"]


def test_parts_are_for_the_handout():
    with pytest.raises(
        FretloomError, match="parts can be chosen for the handout, not for the wall-card"
    ):
        page_of(reading_of(LESSON), HandoutOptions(sheet="wall-card", parts=("road",)))


@pytest.mark.parametrize("parts", [("roads",), "road", ("road", 1), None])
def test_unknown_parts_are_refused(parts):
    with pytest.raises(FretloomError, match=r"parts is (any of road, shapes|a tuple of words)"):
        HandoutOptions(parts=parts)


def test_a_lesson_that_plays_nothing_is_refused():
    with pytest.raises(FretloomError, match="nothing to hand out"):
        page_of(reading_of('lesson "Empty"\n'), HandoutOptions())


def test_files_are_named_by_their_sheet():
    names = [
        handout_html.write(reading_of(LESSON), HandoutOptions(sheet=sheet))[0].name
        for sheet in SHEETS
    ]
    assert names == ["weir.handout.html", "weir.song-sheet.html", "weir.wall-card.html"]


def test_a_page_is_the_same_every_time():
    options = HandoutOptions()
    assert page_of(reading_of(LESSON), options) == page_of(reading_of(LESSON), options)


def test_the_song_sheet_has_the_words_under_the_chords():
    tree = _strict(page_of(reading_of(LESSON), HandoutOptions(sheet="song-sheet")))
    bars = tree.findall(".//ol[@class='sung']/li")
    said = ["".join(one.itertext()) for one in bars]
    assert said == ["CLamps are", "Glit"]


def test_what_is_heard_of_pictures_calls_strings_as_the_page_does():
    """No "string 5" is left where strings go by names."""
    page = page_of(reading_of(LESSON), HandoutOptions(strings="names"))
    heard = re.findall(r"<desc[^>]*>([^<]*)</desc>", page)
    assert any("the A string ring at fret 3" in one for one in heard)
    assert any("thumb the A string fret 3" in one for one in heard)
    assert not [one for one in heard if re.search(r"string \d", one)]


@pytest.mark.parametrize("sheet", SHEETS)
def test_two_shapes_of_one_chord_are_told_apart_on_every_sheet(sheet):
    """Whoever plays "C" with the barre where the open one is meant plays another song."""
    text = LESSON.replace("  G  320003\n", "  G  320003\n  C.bar  x35553\n").replace(
        "C | G", "C | C.bar"
    )
    tree = _strict(page_of(reading_of(text), HandoutOptions(sheet=sheet)))
    chords = ["".join(one.itertext()) for one in tree.findall(".//span[@class='chord']")]
    assert chords == ["C", "C at fret 3"]
    (row,) = [one for one in tree.findall(".//p[@class='said']") if one.get("role") is None] or [
        None
    ]
    assert row is None or "C, C at fret 3" in "".join(row.itertext())


@LESSONS.law(most=12)  # A page is large, and the parser is slow.
def test_any_lesson_makes_a_page(made):
    reading = reading_of(made.text)
    if reading.timeline.bars and reading.sound:
        _strict(page_of(reading, HandoutOptions()))
