"""Pictures of the score: what is on them, how large they are, and what happens where they cannot be drawn."""

from __future__ import annotations

import re
import sys
from collections import Counter
from importlib.resources import files
from io import BytesIO

import pytest
import verovio
from fontTools.ttLib import TTFont
from lxml import etree
from reading_pictures import (
    LESSONS,
    LINK,
    SHORT,
    SVG,
    frets_written,
    pictures,
    size_in_mm,
    texts,
    tree,
)

import fretloom
from fretloom.errors import FretloomError
from fretloom.formats.pictures import picture
from fretloom.formats.pictures.drawing.glyphs import width
from fretloom.formats.pictures.fonts import letter_fonts
from fretloom.frontends.command.main import main
from fretloom.limits import LIMITS
from fretloom.values import evolve


@pytest.mark.parametrize("file", LESSONS, ids=lambda file: file.stem)
def test_a_picture_has_the_digits_of_the_file(file):
    """As many of each fret as the score has on its tablature: none is lost on the way through verovio."""
    lesson = fretloom.examine(fretloom.load(file))
    drawn = Counter(fret for page in fretloom.export(lesson, "svg") for fret in texts(page, "fret"))
    assert drawn == frets_written(fretloom.export_musicxml(lesson))


def test_a_song_on_one_page_is_one_file():
    (one,) = pictures()
    assert one.name == "lesson.svg"
    assert size_in_mm(one) == (210, 297)


def test_pages_are_numbered_files():
    """Each of the same size; the last bar is on the last one."""
    some = pictures(SHORT.replace("C:3 C:1", "C x60"))
    assert [one.name for one in some] == [
        f"lesson-{number}.svg" for number in range(1, len(some) + 1)
    ]
    assert len(some) > 1
    assert {size_in_mm(one) for one in some} == {(210, 297)}
    bars = [sum(one.get("class") == "bar" for one in tree(page).iter(f"{SVG}g")) for page in some]
    assert sum(bars) == 62
    assert all(bars)


def test_what_is_left_out_is_told_with_the_first_page():
    file = next(one for one in LESSONS if one.stem == "tuesday-rag")
    first, *more = fretloom.export(fretloom.load(file), "svg")
    assert first.left_out
    assert more
    assert not any(one.left_out for one in more)


def test_a_strip_is_one_system_as_wide_as_it_needs():
    (few,), (many,) = (
        pictures(paper="strip"),
        pictures(SHORT.replace("C:3 C:1", "C x60"), paper="strip"),
    )
    systems = [one for one in tree(many).iter(f"{SVG}g") if one.get("class") == "system"]
    assert len(systems) == 1
    assert size_in_mm(many)[0] > 5 * size_in_mm(few)[0]
    assert size_in_mm(many)[1] < 100


def test_letter_paper():
    """8.5 by 11 inches (ANSI/ASME Y14.1, size A)."""
    assert size_in_mm(pictures(paper="letter")[0]) == pytest.approx(
        (8.5 * 25.4, 11 * 25.4), abs=0.1
    )


@pytest.mark.parametrize("size", [4, 6, 9])
def test_the_staff_has_the_size_that_is_asked_for(size: int):
    """From the first to the fifth of the five lines of the first bar, in hundredths of a millimetre."""
    (one,) = pictures(staff_size=size, layout="notation")
    (bar, *_) = (one for one in tree(one).iter(f"{SVG}g") if one.get("class") == "bar")
    lines = [path.get("d").split() for path in bar.iter(f"{SVG}path")][:5]
    heights = [int(line[1]) for line in lines]
    assert heights[-1] - heights[0] == pytest.approx(size * 100, abs=5)


def test_options_of_the_score_reach_the_picture():
    assert texts(pictures(layout="notation")[0], "fret") == []
    assert texts(pictures(layout="tab")[0], "fret") != []
    assert texts(pictures()[0], "chord")[0] == "C"
    assert texts(pictures(concert=True)[0], "chord")[0].startswith("E")


def test_a_picture_is_the_same_every_time():
    """verovio's names are random; none is left."""
    assert pictures() == pictures()
    names = {one.get("id") for one in tree(pictures()[0]).iter() if one.get("id")}
    assert all(name.startswith("sign-") for name in names)


def test_a_picture_needs_nothing_beside_it():
    """No style sheet, script, font or other file; every sign that is drawn is in it."""
    root = tree(pictures()[0])
    harmless = "svg|title|desc|defs|path|rect|ellipse|polygon|polyline|g|use|text|tspan"
    assert all(re.fullmatch(f"{SVG}({harmless})", one.tag) for one in root.iter())
    names = {f"#{one.get('id')}" for one in root.iter() if one.get("id")}
    assert {one.get(LINK) for one in root.iter(f"{SVG}use")} == names
    assert b"Leipzig" not in b"".join(etree.tostring(one) for one in root.iter(f"{SVG}text"))


def test_the_note_of_the_tempo_is_an_outline():
    """U+ECA5 of SMuFL, a quarter note for texts, is followed by the number at a place of its own."""
    root = tree(pictures()[0])
    assert [text.strip() for text in texts(pictures()[0], "tempo")] == ["= 84"]
    assert len(outlines(root, "ECA5")) == 1


def outlines(root: etree._Element, code: str) -> list[etree._Element]:
    """Return where a sign of SMuFL is drawn among words, by the outline that verovio's own file has."""
    sign = etree.fromstring(
        (files("verovio") / "data" / "Leipzig" / f"{code}.xml").read_bytes()
    ).find("path")
    return [
        one
        for one in root.iter(f"{SVG}path")
        if one.get("d") == sign.get("d") and not one.get("id")
    ]


def test_accidentals_among_words_are_outlines():
    """Many fonts have none; SMuFL has U+EA64 and U+EA66 for flat and sharp among words."""
    chords = SHORT.replace("patterns", "  F#m 244222\n  Bb x13331\npatterns").replace(
        "C:3 C:1", "F#m:3 Bb:1"
    )
    root = tree(pictures(chords)[0])
    assert len(outlines(root, "EA66")) == 1
    assert len(outlines(root, "EA64")) == 2  # The second is the key that sounds.
    assert not {"♭", "♯"} & set("".join(root.itertext()))


@pytest.mark.parametrize(
    ("bold", "italic", "file"),
    [(False, False, 0), (True, False, 1), (False, True, 2), (True, True, 3)],
)
def test_words_are_as_wide_as_those_of_times(bold: bool, italic: bool, file: int):
    """To one in a hundred, by the font itself, which fontTools reads: pieces of a text after a sign are placed by it."""
    font = TTFont(BytesIO(letter_fonts()[file].data))
    text = "Tuning: open D (D A D F A D, low to high), Played in Ab, 12-string = 96"
    real = (
        sum(font["hmtx"][font.getBestCmap()[ord(one)]][0] for one in text) / font["head"].unitsPerEm
    )
    assert width(text, music=False, bold=bold, italic=italic) == pytest.approx(real, rel=0.01)


def test_plucks_are_letters_and_fingers_digits():
    (one,) = pictures()
    assert set(texts(one, "pluck")) == {"p", "m", "i"}
    assert set(texts(one, "finger")) <= {"1", "2", "3"}


BENT = SHORT.replace(
    "C | C |", "C { p, m2@3.bend-half-release, m2@1h3.grace, m2@5.prebend-full } | C |"
)


def test_bends_are_drawn_over_the_tablature():
    """The words over the arrows, higher than any digit; a release has an arrow more."""
    (one,) = pictures(BENT)
    assert texts(one, "bend") == ["½", "full"]
    words = [
        float(text.get("y")) for text in tree(one).iter(f"{SVG}text") if text.get("class") == "bend"
    ]
    digits = [
        float(text.get("y")) for text in tree(one).iter(f"{SVG}text") if text.get("class") == "fret"
    ]
    assert max(words) < min(digits)
    arrows = [
        point for point in tree(one).iter(f"{SVG}polygon") if len(point.get("points").split()) == 3
    ]
    assert len(arrows) == 3


def test_a_grace_note_stands_small_before_its_note():
    """On the same string, so at the same height, to a few hundredths of its size."""
    digits = [
        text for text in tree(pictures(BENT)[0]).iter(f"{SVG}text") if text.get("class") == "fret"
    ]
    (small,) = [
        one for one in digits if float(one.get("font-size")) < float(digits[0].get("font-size"))
    ]
    assert small.text == "1"
    main = next(one for one in digits if one.text == "3" and abs(float(one.get("y")) - float(small.get("y"))) < 100
                and float(one.get("x")) > float(small.get("x")))  # fmt: skip
    assert float(main.get("x")) - float(small.get("x")) < 1.6 * float(main.get("font-size"))


def test_words_over_tablature_alone_are_as_large_as_over_notation():
    """verovio makes them larger with the distance of the lines."""
    for kind in ("chord", "finger", "pluck", "section", "tempo"):
        sizes = set()
        for layout in ("tab", "notation"):
            (one,) = pictures(layout=layout)
            for text in tree(one).iter(f"{SVG}text"):
                if text.get("class") == kind:
                    scales = re.findall(r"scale\((.+?)\)", text.getparent().get("transform", ""))
                    sizes.add(float(text.get("font-size")) * float((scales or [1])[0]))
        assert max(sizes) - min(sizes) < 2, kind


def test_a_screen_reader_gets_a_title_and_a_description():
    """The first children of the picture (SVG 1.1, 5.4)."""
    title, described = tree(pictures()[0])[:2]
    assert (title.tag, title.text) == (f"{SVG}title", "Two Cups")
    assert described.tag == f"{SVG}desc"
    assert described.text.startswith("Notation and tablature, 3 bars, capo 3.")


@pytest.mark.parametrize(
    "title", ["</title><script>alert(1)</script>", "&lt;b&gt;", "]]>", "אב & 𝄞", "<!--"]
)
def test_a_title_is_never_markup(title: str):
    """It stands in the picture as it is written, twice: as its title and above the music."""
    (one,) = pictures(SHORT.replace("Two Cups", title))
    assert tree(one)[0].text == title
    assert texts(one, "heading") == [title, "Capo 3", "Played in C, sounds in E"]


def test_the_library_that_draws_may_be_missing(monkeypatch: pytest.MonkeyPatch, tmp_path, capsys):
    """The message says what installs it, and is all there is."""
    monkeypatch.setitem(sys.modules, "verovio", None)
    with pytest.raises(FretloomError, match=r"install it with pip install 'fretloom\[pictures\]'$"):
        pictures()
    file = tmp_path / "a.lesson"
    file.write_text(SHORT, "utf-8")
    assert main(["export", str(file), "--to", "svg"]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1


@pytest.mark.parametrize("paper", ["a4", "strip"])
def test_too_many_bars_are_refused_before_anything_is_drawn(
    paper: str, monkeypatch: pytest.MonkeyPatch
):
    """One more than there may be; as many as there may be are drawn."""
    monkeypatch.setattr(picture, "LIMITS", evolve(LIMITS, bars_drawn=3, bars_in_a_strip=3))
    assert pictures(paper=paper)
    monkeypatch.setattr(picture, "LIMITS", evolve(LIMITS, bars_drawn=2, bars_in_a_strip=2))
    monkeypatch.setattr(picture, "draw", lambda *_: pytest.fail("it is drawn"))
    with pytest.raises(FretloomError, match="2 bars at most, and this lesson has 3: "):
        pictures(paper=paper)


def test_nothing_of_the_library_is_printed(capfd: pytest.CaptureFixture[str]):
    """verovio reports what it leaves out of tablature; that is for those who write verovio."""
    verovio.enableLog(verovio.LOG_DEBUG)
    file = next(one for one in LESSONS if one.stem == "slow-kettle-blues")
    pictures(file.read_text("utf-8"))
    assert capfd.readouterr() == ("", "")


def test_a_picture_that_has_several_pages_is_written_into_a_folder(tmp_path, capsys):
    file = tmp_path / "a.lesson"
    file.write_text(SHORT.replace("C:3 C:1", "C x60"), "utf-8")
    assert main(["export", str(file), "--to", "svg", "-o", str(tmp_path / "a.svg")]) == 2
    assert "name a folder" in capsys.readouterr().err
    assert main(["export", str(file), "--to", "svg", "-o", str(tmp_path)]) == 0
    assert sorted(one.name for one in tmp_path.glob("*.svg"))[:2] == ["a-1.svg", "a-2.svg"]
