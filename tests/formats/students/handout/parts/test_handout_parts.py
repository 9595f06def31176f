"""The parts of a handout: what stands in them, for whom they are made."""

from __future__ import annotations

import re

import html5lib
import pytest
from places import EXAMPLES
from reading_through import reading_of

from fretloom.api.reading import examine, load
from fretloom.formats.students.handout.options import HandoutOptions
from fretloom.formats.students.handout.page import page_of
from fretloom.formats.students.handout.parts.all_parts import shared_words
from fretloom.practising.path import practice_path

LESSON = """
lesson "Kiln Lane Evening"
  capo 2
  plays in C
  meter 4/4
  tempo 80

voicings
  C      x32010  fingers .32.1.  bass 5 4 5 4
  G      320003  fingers 21...3  bass 6 4 5 4
  F.bar  133211  fingers 134211

patterns
  plain  p , p m , p i , p m

section verse  using plain  "Verse"
  C | G | F.bar | F.bar
  C | G | C x2

form
  verse
  verse
    but last bar: G

step "Slowly"
  Count aloud, then F.bar.
  show change C to F.bar from 50 to 80
  show bars 1-2 of verse at 60
  show pattern plain over C
  show section verse
"""


def _tree(text: str = LESSON, **options):
    page = page_of(reading_of(text), HandoutOptions(**options))
    tree = html5lib.HTMLParser(namespaceHTMLElements=False).parse(page)
    for one in tree.iter():
        one.tag = str(one.tag).rpartition("}")[2]
    return tree


def _said(part) -> str:
    return " ".join(" ".join(part.itertext()).split())


def _part(tree, name: str):
    return tree.find(f".//section[@id='{name}']")


def test_the_head_shows_the_capo_on_the_neck():
    head = _tree().find(".//header")
    assert "capo 2" in _said(head.find(".//svg"))
    assert _tree(LESSON.replace("  capo 2\n", "")).find(".//header//svg") is None


def test_each_shape_that_is_played_stands_there_once():
    shapes = _part(_tree(), "shapes").findall(".//figure")
    assert [one.find(".//svg/title").text for one in shapes] == ["C", "G", "F"]


def test_a_shape_says_what_it_sounds_as_with_the_capo_and_only_then():
    assert "Sounds as D." in _said(_part(_tree(), "shapes"))
    assert "Sounds as" not in _said(_part(_tree(LESSON.replace("  capo 2\n", "")), "shapes"))


def test_each_pattern_is_shown_alone_with_its_words():
    picking = _part(_tree(), "picking")
    assert _said(picking.find(".//h3")) == "Plain, over C"
    assert picking.find(".//svg") is not None
    assert "thumb" in _said(picking)


def test_a_step_has_the_teachers_words_and_pictures_of_what_it_shows():
    step = _tree().find(".//section[@aria-labelledby='step-1']")
    assert _said(step.find("h2")) == "1 Slowly"
    assert _said(step.find("p")) == "Count aloud, then F."
    change, bars, pattern, section = step.findall(".//div[@class='piece']")
    assert "C to F" in _said(change)
    assert "Tempo ladder 50" in _said(change)
    assert len(bars.findall(".//span[@class='bar-of']")) == 2
    assert len(pattern.findall(".//span[@class='bar-of']")) == 1
    assert _said(section.find(".//a")) == "In the song below."
    assert section.findall(".//span[@class='bar-of']") == []


def test_the_teachers_steps_keep_their_numbers():
    """What is added for parts of the song that no step shows has a letter; without steps, all are counted."""
    numbers = [one.text for one in _tree().findall(".//section/h2/span[@class='number']")]
    assert numbers == ["1", "1a"]
    found = _tree(LESSON[: LESSON.index('step "Slowly"')])
    steps = [one for one in found.findall(".//main/section") if "step" in one.get("class").split()]
    numbers = [one.text for one in found.findall(".//section/h2/span[@class='number']")]
    assert len(steps) > 2
    assert numbers == [str(at) for at in range(1, len(steps) + 1)]


def test_a_step_for_the_thumb_alone_shows_the_thumb_alone():
    """Such a step is found where the teacher has written none."""
    tree = _tree(LESSON[: LESSON.index('step "Slowly"')])
    steps = [one for one in tree.findall(".//main/section") if "step" in one.get("class").split()]
    (alone,) = [one for one in steps if "thumb alone" in _said(one.find("h2")).lower()]
    said = " ".join(one.text for one in alone.findall(".//span[@class='bar-of']//desc"))
    assert "thumb string 5" in said
    assert "middle" not in said
    assert "index" not in said


def test_a_barre_comes_with_its_caution():
    step = _tree().find(".//section[@aria-labelledby='step-1']")
    assert "stop if it hurts; ask a teacher or clinician" in _said(step.find(".//p[@class='care']"))


def test_the_song_is_written_once_and_later_only_what_is_new():
    first, again = _part(_tree(), "song").findall(".//div[@class='section']")
    assert len(first.findall(".//span[@class='bar-of']")) == 8
    assert len(again.findall(".//span[@class='bar-of']")) == 1
    assert "The end is new: G." in _said(again)
    assert " but " not in _said(again)


def test_the_letters_of_the_strings_stand_before_a_line():
    letters = _part(_tree(), "song").findall(".//span[@class='bar-of']/span")
    classes = [one.get("class") for one in letters[:8]]
    assert classes == ["letters", *["letters later"] * 3] * 2


def test_practice_has_a_box_for_each_day_and_the_cautions():
    practice = _part(_tree(), "practice")
    rows = practice.findall(".//table[@class='plan']/tbody/tr")
    assert len(rows) > 3
    assert "7 boxes" in _said(rows[0]) or "seven" in _said(rows[0])
    said = _said(practice.find(".//p[@class='care']"))
    assert "25 minutes" in said
    assert "clinician" in said


def test_a_drill_has_a_box_for_each_day_on_which_it_is_made():
    """As many as the plan has for it, not as many as fit."""
    practice = _part(_tree(), "practice")
    plan = {}
    for row in practice.findall(".//table[@class='plan']/tbody/tr"):
        plan[_said(row.find("td"))] = len(row.findall(".//svg/rect"))
    drills = practice.findall(".//table[@class='drills']/tbody/tr")
    assert drills
    for row in drills:
        before, _, after = _said(row.find("th")).partition(" to ")
        (days,) = {
            boxes
            for said, boxes in plan.items()
            if f"from {before} to {after} and back for" in said
        }
        assert len(row.findall(".//svg/rect")) == days


def test_the_legend_has_only_signs_of_these_pages():
    whole = _said(_part(_tree(), "signs"))
    assert "one finger over several strings" in whole
    plain = _said(
        _part(
            _tree(LESSON.replace("F.bar  133211  fingers 134211", "F.bar  xx3210  fingers ..321.")),
            "signs",
        )
    )
    assert "one finger over several strings" not in plain
    assert _part(_tree(parts=("signs",)), "signs") is None


def test_large_print_has_larger_pictures():
    def wide(tree) -> float:
        return float(_part(tree, "shapes").find(".//svg").get("width").removesuffix("mm"))

    assert wide(_tree(large=True)) == pytest.approx(1.75 * wide(_tree()), abs=0.02)
    assert _tree(large=True).find("body").get("class") == "handout large"


def test_mirrored_pictures_have_the_bass_on_the_right():
    usual = _part(_tree(), "shapes").find(".//svg")
    mirrored = _part(_tree(mirrored=True), "shapes").find(".//svg")

    def outer(svg) -> list[float]:
        return [float(one.get("x")) for one in svg.findall("text") if one.text == "A"]

    width = float(usual.get("viewBox").split()[2])
    assert outer(mirrored)[0] == pytest.approx(width - outer(usual)[0], abs=0.02)


def test_strings_go_by_their_names_if_one_likes():
    assert "strings 5, 4, 5 and 4" in _said(_part(_tree(), "picking"))
    assert "the A, D, A and D strings" in _said(_part(_tree(strings="names"), "picking"))


def test_letter_paper_is_said_to_the_printer():
    style = _tree(page_size="letter").find(".//style").text
    assert re.search(r"@page \{ size: Letter; \}", style)


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.lesson")), ids=lambda one: one.stem)
def test_no_word_of_the_notation_reaches_a_student(path):
    """Neither tags, nor `but`, nor `x2`, nor names of patterns with hyphens."""
    reading = examine(load(path)).reading
    tree = html5lib.HTMLParser(namespaceHTMLElements=False).parse(
        page_of(reading, HandoutOptions())
    )
    said = _said(tree.find("body"))
    tags = {
        name for name in reading.timeline.voicings if "." in name and not name.startswith("N.C")
    }
    assert [tag for tag in tags if tag in said] == []
    assert (
        re.search(r"\bbut (?:last|bars?|using|from)\b|\bx[2-9]\b|line \d of the order", said)
        is None
    )


def test_bars_in_the_song_and_in_a_step_are_counted_within_their_section():
    """However many bars are played before it."""
    intro = "section intro using plain\n  C x5\n\nsection verse"
    text = LESSON.replace("section verse", intro, 1).replace("form\n", "form\n  intro\n")
    tree = _tree(text.replace("show bars 1-2", "show bars 5-6"))
    step = tree.find(".//section[@aria-labelledby='step-1']")
    titles = [one.text for one in step.findall(".//svg/title") if one.text.startswith("Bar ")]
    assert list(dict.fromkeys(titles)) == ["Bar 5", "Bar 6"]
    song = [one.text for one in _part(tree, "song").findall(".//svg/title")]
    numbers = [1, 2, 3, 4, 5, 1, 2, 3, 4, 5, 6, 7, 8, 8]
    assert song[::2] == [f"Bar {number}" for number in numbers]


def test_the_side_of_the_strings_is_true_of_a_ukulele():
    """Its string 4 is on the left, and is not its thick one."""
    head = 'lesson "Small Cups"\n  tuning G4 C4 E4 A4\n  meter 4/4\n\nvoicings\n  C  0003\n\n'
    text = f"{head}patterns\n  plain  p , i , p , i\n\nsection verse using plain\n  C x2\n"
    shapes = _said(_part(_tree(text), "shapes"))
    assert "String 4 is on the left." in shapes and "From string 4:" in shapes
    assert "thick" not in shapes
    assert "String 4 is on the right." in _said(_part(_tree(text, mirrored=True), "shapes"))


def test_what_is_said_of_every_pattern_is_said_once():
    """Over them; of one pattern all stays with it."""
    assert shared_words([("a", "both"), ("both", "b"), ("c", "both")]) == ("both",)
    assert shared_words([("a", "both")]) == ()
    assert shared_words([]) == ()
    late = "\n  late   p , m p , p i , m\n\nsection late  using late\n  C | G\n\nsection verse"
    two = LESSON.replace("\n\nsection verse", late).replace("form\n", "form\n  late\n")
    picking = _part(_tree(two), "picking")
    fingers = "The index finger stays on string 3 and the middle finger on string 2."
    assert [_said(one) for one in picking.findall("p")] == [fingers]
    assert _said(picking).count("The index finger") == 1
    assert len(picking.findall(".//h3")) == 2


def test_signs_stand_before_practice():
    """On paper they fill what the song leaves."""
    sections = [one.get("id") for one in _tree().findall(".//main/section")]
    assert sections[-3:] == ["song", "signs", "practice"]


def _rows(**options):
    rows = _part(_tree(**options), "practice").findall(".//table[@class='plan']/tbody/tr")
    return [{one.get("data-label"): _said(one) for one in row.findall("td")} for row in rows]


def test_a_row_of_the_plan_has_the_tempos_of_its_days():
    """From the lowest of the first day to the highest of the last: those of the practice page."""
    path = practice_path(reading_of(LESSON))
    reached = {}
    for session in path.sessions:
        for item in session.items:
            if item.start is not None and item.goal is not None:
                both = reached.setdefault((item.doing, item.where), [])
                both += [item.start, item.goal]
    spans = {f"{min(each)} to {max(each)}" for each in reached.values() if min(each) < max(each)}
    found = [row["Tempo"] for row in _rows() if "Tempo" in row]
    assert spans
    assert spans <= set(found)
    assert len(found) == len(reached)
    page = _part(_tree(), "practice")
    assert "Tempos are in quarter notes a minute" in _said(page)


def test_a_row_of_a_plan_with_dates_has_its_dates():
    days = {row["Days"] for row in _rows(begin="2027-01-04")}
    assert "every day" in days
    assert any("January" in one for one in days)
    assert not [one for one in days if "January" not in one and one != "every day"]
    assert not [row for row in _rows() if "January" in row["Days"]]
