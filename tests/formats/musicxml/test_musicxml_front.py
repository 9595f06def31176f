"""The words of the first page: what they say, and that they lie on it without covering one another."""

from __future__ import annotations

from typing import Any

import pytest
from attrs import evolve
from front_laws import check_page
from lxml import etree
from musicxml_laws import check_everything
from musicxml_pieces import C, bar, plucks, settings, timeline
from musicxml_readers import MEI, mei_of, read21
from writing_scores import left_out_of, to_musicxml

from fretloom.formats.shape import LeftOut
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.guitar.tunings import parse_tuning


def exported(concert: bool = False, **of: Any) -> Any:
    """Export a bar with these settings as a tree, all laws checked."""
    tuning = parse_tuning(of.pop("tuning", "standard"))
    wanted = settings(strings=" ".join(map(str, tuning.pitches)), **of)
    wanted = evolve(wanted, tuning=tuning)
    return etree.fromstring(to_musicxml(timeline([bar((), None)], wanted), concert=concert))


def said(root: Any, justify: str = "left") -> list[str]:
    """Return the lines at one side of the head."""
    return [
        one.text for one in root.iterfind("credit/credit-words") if one.get("justify") == justify
    ]


def test_the_head_of_a_lesson_with_everything() -> None:
    """Title in the middle, author right, what has to be known left, rights at the foot."""
    root = exported(
        title="Weir Song", by="Kiln Lane Tuesday Group", rights="CC0",
        tuning="DADGAD", capo=2, plays="D", sounds="E", swing=(2, 1),
    )  # fmt: skip
    assert said(root, "center") == ["Weir Song", "CC0"]
    assert said(root, "right") == ["Kiln Lane Tuesday Group"]
    assert said(root) == [
        "Tuning: DADGAD (D A D G A D, low to high)",
        "Capo 2",
        "Played in D, sounds in E",
        "Swing 2:1",
    ]
    check_page(root)
    kinds = [one.findtext("credit-type") for one in root.iterfind("credit")]
    assert kinds == ["title", "composer", None, None, None, None, "rights"]
    assert root.findtext("work/work-title") == "Weir Song"
    assert root.findtext("identification/creator") == "Kiln Lane Tuesday Group"
    assert root.findtext("identification/rights") == "CC0"
    assert not [one for one in root.iter("words") if "Capo" in one.text]


@pytest.mark.parametrize(
    ("tuning", "instrument", "lines"),
    [
        ("standard", "steel string", []),
        ("standard", "classical", []),
        ("drop D", "steel string", ["Tuning: drop D (D A D G B E, low to high)"]),
        ("D2 A2 D3 F#3 A3 D4", "steel string", ["Tuning: open D (D A D F♯ A D, low to high)"]),
        ("half step down", "steel string", ["Tuning: half step down (E♭ A♭ D♭ G♭ B♭ E♭, low to high)"]),
        ("C2 G2 D3 G3 A3 D4", "steel string", ["Tuning: C G D G A D, low to high"]),
        ("E2 A2 D3 G3 B3 B3", "steel string", ["Tuning: E A D G B B, low to high"]),
        ("ukulele", "steel string", ["For ukulele"]),
        ("ukulele", "soprano ukulele", ["For soprano ukulele"]),
        ("ukulele low G", "tenor ukulele", ["For tenor ukulele", "Tuning: ukulele low G (G C E A, low to high)"]),
        ("A4 D4 F#4 B4", "tenor ukulele", ["For tenor ukulele", "Tuning: A D F♯ B, string 4 to string 1"]),
        ("E1 A1 D2 G2", "steel string", ["Tuning: E A D G, low to high"]),
        ("7-string", "7-string", ["For 7-string guitar"]),
        ("baritone A", "baritone", ["For baritone guitar", "Tuning: baritone A (A D G C E A, low to high)"]),
        (
            "12-string", "steel string",
            ["12-string: the second string of courses 6, 5, 4 and 3 an octave higher, of courses 2 and 1 in unison"],
        ),
        ("standard", "12-string", ["For 12-string guitar", "Tuning: standard (E A D G B E, low to high)"]),
        (
            "C2+C3 G2+G3 D3+A3 G3 A3+A3 D4+D4", "12-string",
            [
                "Tuning: C G D G A D, low to high",
                "11-string: the second string of courses 6 and 5 an octave higher, of course 4 7 half steps higher, "
                "of courses 2 and 1 in unison",
            ],
        ),
    ],
)  # fmt: skip
def test_the_tuning_is_said_where_it_is_not_the_usual_one(
    tuning: str, instrument: str, lines: list[str]
) -> None:
    """By its name if it has one, and its strings; so is what doubled strings are (common practice, no source)."""
    root = exported(tuning=tuning, instrument=instrument, plays="")
    check_page(root)
    assert " ".join(said(root)) == " ".join(lines)


@pytest.mark.parametrize(
    ("of", "concert", "words"),
    [
        ({"plays": "C"}, False, []),
        ({"plays": "C", "capo": 2, "sounds": "D"}, False, ["Capo 2", "Played in C, sounds in D"]),
        ({"plays": "C", "capo": 2, "sounds": "D"}, True, ["Capo 2", "Played in C, written in D as it sounds"]),
        ({"plays": "Am", "capo": 1, "sounds": "Bbm"}, False, ["Capo 1", "Played in Am, sounds in B♭m"]),
        ({"plays": "Am", "capo": 1, "sounds": "Bbm", "names": "german"}, False, ["Capo 1", "Played in Am, sounds in Bm"]),
        ({"plays": "E", "sounds": "F#", "capo": 2, "names": "romance"}, False, ["Capo 2", "Played in Mi, sounds in Fa♯"]),
        ({"plays": "", "capo": 3}, True, ["Capo 3", "Written as it sounds"]),
        ({"plays": "", "capo": 3}, False, ["Capo 3"]),
        ({"plays": "D", "sounds": "E"}, False, ["Played in D, sounds in E"]),
        ({"plays": "", "sounds": "E", "capo": 2}, False, ["Capo 2", "Sounds in E"]),
    ],
)  # fmt: skip
def test_both_keys_stand_where_they_differ(
    of: dict[str, Any], concert: bool, words: list[str]
) -> None:
    """Without a capo the key signature says it."""
    assert said(exported(concert=concert, **of)) == words


def test_a_capo_on_some_strings_says_which_and_how_frets_are_counted() -> None:
    """The highest number first, as a player counts from the bass."""
    root = exported(capo=Capo(2, (3, 5, 4)), plays="E")
    assert " ".join(said(root)) == (
        "Capo 2 on strings 5, 4 and 3 (frets are counted from it there, from the nut elsewhere) Played in E"
    )
    check_page(root)


@pytest.mark.parametrize(
    "text",
    [
        "Lamp " * 40, "W" * 300, "x" * 20_000, "Weir, " * 3_000, "日本の堰 " * 60, "🎸" * 80,
        "\u0301" * 50 + "Weir", "Wim MWM @@ %% " * 30, "a\u200b\u202eb " * 30, "",
    ],
)  # fmt: skip
def test_a_long_title_author_and_rights_stay_on_the_page(text: str) -> None:
    """Smaller letters, more lines, and in the end a cut; nothing hidden is written."""
    everything = {"capo": Capo(2, (3, 5, 4, 1)), "plays": "C", "sounds": "Eb", "swing": (3, 2)}
    of = settings(title=text, by=text, rights=text, **everything)
    root = etree.fromstring(check_everything(timeline([bar(plucks("p5", C, of), C)], of)))
    check_page(root)
    assert "\u202e" not in "".join(one.text for one in root.iterfind("credit/credit-words"))


def test_a_title_that_is_cut_is_told_and_whole_elsewhere() -> None:
    """`work-title` has all of it."""
    of = settings(title="Weir " * 500, by="Tuesday Group")
    piece = timeline([bar((), None)], of)
    what = "the end of the title, which the head of the page has no room for"
    assert LeftOut(what) in left_out_of(piece)
    assert etree.fromstring(to_musicxml(piece)).findtext("work/work-title") == of.title


def test_a_title_of_some_words_is_large_and_a_long_one_smaller() -> None:
    """22 points for one line; two lines in the same size before it shrinks."""
    sizes = []
    for count in (3, 12, 30):
        root = exported(title="Lantern " * count, by="", plays="")
        found = root.findall("credit/credit-words")
        sizes.append(({int(one.get("font-size")) for one in found}, len(found)))
    assert [lines for _, lines in sizes] == sorted(lines for _, lines in sizes)
    assert sizes[0] == ({22}, 1)
    assert all(len(size) == 1 and max(size) >= 12 for size, _ in sizes)


def test_no_part_name_stands_beside_the_staff() -> None:
    """One player: the name is there for programs, and is not printed (MusicXML 4.0 `print-object`)."""
    for layout in ("notation-and-tab", "two-parts"):
        of = settings()
        data = to_musicxml(timeline([bar((), None)], of), layout=layout)
        names = etree.fromstring(data).findall("part-list/score-part/part-name")
        assert all(name.text and name.get("print-object") == "no" for name in names)


def test_music21_and_verovio_still_read_title_and_author() -> None:
    """music21 from `work` and `creator`; verovio draws the credits, the title in the middle at the top."""
    of = settings(title="Weir Song", by="Tuesday Group", rights="CC0", capo=2, sounds="D")
    data = to_musicxml(timeline([bar((), None)], of))
    read = read21(data).metadata
    assert (read.title, read.composer) == ("Weir Song", "Tuesday Group")
    rows = {
        one.text: (one.get("halign"), one.get("valign")) for one in mei_of(data).iter(f"{MEI}rend")
    }
    assert rows["Weir Song"] == ("center", "top")
    assert rows["Tuesday Group"] == ("right", "middle")
    assert rows["Played in C, sounds in D"] == ("left", "bottom")
    head = mei_of(data).find(f".//{MEI}pgHead")
    assert [one.text for one in head.iter(f"{MEI}rend")] == [
        "Weir Song", "Tuesday Group", "Capo 2", "Played in C, sounds in D",
    ]  # fmt: skip
    assert [one.text for one in mei_of(data).find(f".//{MEI}pgFoot").iter(f"{MEI}rend")] == ["CC0"]
