"""What is written around the music, and how lines and fingers stand on the page."""

from __future__ import annotations

import re

from reading_pictures import SHORT, SVG, pictures, size_in_mm, texts, tree

RIGHTS = SHORT.replace("  capo 3", '  by "Kiln Lane"\n  rights "CC0"\n  capo 3')


def placed(output, kind: str) -> list[tuple[str, float, float]]:
    """Return text, x and y of the texts of a class, in hundredths of a millimetre, from where they are drawn."""
    found = []
    for one in tree(output).iter(f"{SVG}text"):
        if one.get("class") == kind:
            x, y = float(one.get("x")), float(one.get("y"))
            for group in one.iterancestors(f"{SVG}g"):
                moved = re.fullmatch(
                    r"translate\(([\d.]+)[, ]+([\d.]+)\)", group.get("transform", "")
                )
                if moved:
                    x, y = x + float(moved[1]), y + float(moved[2])
            found.append((one.text, x, y))
    return found


def test_the_rights_stand_at_the_foot_of_the_last_page():
    """In the middle, a centimetre from the edge, and on no other page."""
    *others, last = pictures(RIGHTS.replace("C:3 C:1", "C x60"))
    assert ("CC0", 10500, 28700) in placed(last, "heading")
    assert others
    assert all("CC0" not in texts(one, "heading") for one in others)


def test_a_strip_has_its_head_over_it():
    """The title, and all that a page has at its top in a line under it."""
    (one,) = pictures(RIGHTS, paper="strip")
    (title, _, high), (rest, _, low), *_ = placed(one, "heading")
    assert (title, rest) == ("Two Cups", "Kiln Lane · Capo 3 · Played in C, sounds in E")
    music = [y for _, _, y in placed(one, "chord")]
    assert 0 < high < low < min(music)
    assert max(y for _, _, y in placed(one, "fret")) < size_in_mm(one)[1] * 100


def test_a_strip_is_as_wide_as_its_head():
    """A long title needs more than a bar."""
    (short,) = pictures(SHORT.replace("C | C | C:3 C:1", "C"), paper="strip")
    (long,) = pictures(
        SHORT.replace("C | C | C:3 C:1", "C").replace("Two Cups", "Two Cups " * 12), paper="strip"
    )
    assert size_in_mm(long)[0] > size_in_mm(short)[0] + 100


def test_lines_of_both_staves_are_equally_thin():
    """verovio's are thicker on tablature; a fifth of a millimetre is common (common practice, no source)."""
    (bar, *_) = (one for one in tree(pictures()[0]).iter(f"{SVG}g") if one.get("class") == "bar")
    level = re.compile(r"M([\d.]+) ([\d.]+) L([\d.]+) ([\d.]+)")
    lines = [
        (level.fullmatch(one.get("d")), one.get("stroke-width")) for one in bar.iter(f"{SVG}path")
    ]
    widths = {
        width
        for line, width in lines
        if line and line[2] == line[4] and float(line[3]) - float(line[1]) > 500
    }
    assert len(widths) == 1
    assert 5 < float(widths.pop()) < 20


def test_a_finger_is_never_written_over_the_stem_of_its_note():
    """Each stem of the thumb goes down beside its letter, which ends left of it."""
    (one,) = pictures(fingers="all", layout="notation")
    stems = []
    for path in tree(one).iter(f"{SVG}path"):
        line = re.fullmatch(r"M([\d.]+) ([\d.]+) L([\d.]+) ([\d.]+)", path.get("d"))
        if line and line[1] == line[3] and abs(float(line[4]) - float(line[2])) < 600:
            stems.append((float(line[1]), *sorted((float(line[2]), float(line[4])))))
    assert len(stems) >= 12
    crossed = []
    for text in tree(one).iter(f"{SVG}text"):
        if text.get("class") in ("pluck", "finger"):
            x, y, size = (float(text.get(name)) for name in ("x", "y", "font-size"))
            left = x - size / 2 if text.get("text-anchor") == "end" else x - size / 4
            right = x if text.get("text-anchor") == "end" else x + size / 4
            crossed += [
                (text.text, x, y) for at, top, bottom in stems
                if left < at < right and top < y and y - size / 2 < bottom
            ]  # fmt: skip
    assert crossed == []


def test_the_title_is_larger_than_what_stands_under_it():
    """verovio writes both in one size."""
    (one,) = pictures(RIGHTS)
    sizes = [
        float(text.get("font-size"))
        for text in tree(one).iter(f"{SVG}text")
        if text.get("class") == "heading"
    ]
    assert sizes[0] > 1.5 * max(sizes[1:])


def test_a_title_with_a_sign_in_it_stays_in_the_middle():
    """Its pieces have places of their own, around the middle of the page."""
    (one,) = pictures(SHORT.replace("Two Cups", "Two Cups in B♭ and more"))
    (first, left, _), (rest, right, _), *_ = placed(one, "heading")
    assert (first, rest) == ("Two Cups in B", "and more")
    assert 10500 - left < 4000
    assert left < 10500 < right + 1500


def test_a_solo_has_no_brace_and_no_name_before_its_staves():
    """Nothing is curved in bars without slurs but the signs, and no word is the instrument's."""
    (one,) = pictures()
    curved = [
        path
        for path in tree(one).iter(f"{SVG}path")
        if "C" in path.get("d") and "stroke-width" in path.attrib
    ]
    assert curved == []
    assert "Guitar" not in "".join(tree(one).itertext())
