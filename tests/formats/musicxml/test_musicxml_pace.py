"""How fast and how loud: metronome marks, words, wedges and degrees of MusicXML 4.0."""

from __future__ import annotations

from typing import Any

import pytest
from musicxml_lesson import root_of, written
from musicxml_reading import Bar

import fretloom


def said(bar: Bar) -> list[Any]:
    """Return what stands over and under a bar about speed and loudness, in order, with its place."""
    found: list[Any] = []
    for at, direction in bar.above:
        kind = direction.find("direction-type") if direction.tag == "direction" else None
        if kind is None or kind.find("rehearsal") is not None:
            continue
        sign = kind[0]
        if sign.tag == "dashes":
            continue
        text = {
            "words": sign.text,
            "metronome": sign.findtext("per-minute"),
            "wedge": sign.get("type"),
            "dynamics": sign[0].tag if len(sign) else None,
        }[sign.tag]
        found.append((at, text))
    return [one for one in found if one[1] not in ("let ring", "plain", "simile")]


def sounds(bars: list[Bar]) -> list[str | None]:
    """Return the tempo that each bar says is heard."""
    return [
        next((one.get("tempo") for one in bar.element.iter("sound") if one.get("tempo")), None)
        for bar in bars
    ]


def test_a_ritardando_is_a_word_and_a_tempo_heard_in_each_bar():
    """90 to 60 over three bars: 80 and 70 begin the second and the third; 60 is shown where it stays."""
    bars = written("ritardando to 60 over 3 bars\nAm | Am | Am | Am | Am")
    assert [said(bar) for bar in bars] == [
        [(0, "90"), (0, "rit.")],
        [],
        [],
        [(0, "60")],
        [],
    ]
    assert sounds(bars) == ["90", "80", "70", "60", None]


def test_dashes_show_how_long_a_tempo_changes():
    """From the word to the end of the last bar of the change (MusicXML 4.0 `dashes`); none in a single bar."""
    bars = written(
        "ritardando to 60 over 3 bars\nAm | Am | Am | Am\naccelerando to 90 over 1 bar\nAm | Am"
    )
    lines = [
        [
            (at, one.find("direction-type/dashes").get("type"))
            for at, one in bar.above
            if one.find("direction-type/dashes") is not None
        ]
        for bar in bars
    ]
    assert lines == [[(0, "start")], [], [(4, "stop")], [], [], []]
    first = next(one for _, one in bars[0].above if one.find("direction-type/dashes") is not None)
    assert first.findtext("direction-type/words") == "rit."


def test_loudness_stands_above_where_words_are_sung():
    """Words have the place below (common practice of songs)."""
    for sung, placement in (("", "below"), ('words: "Lamps are lit"\n', "above")):
        root = root_of(f"dynamic p\ncrescendo to f over 2 bars\nAm | Am\n{sung}Am")
        found = [one for one in root.iter("direction") if one.find("direction-type/words") is None]
        loud = [
            one
            for one in found
            if one.find("direction-type/wedge") is not None
            or one.find("direction-type/dynamics") is not None
        ]
        assert {one.get("placement") for one in loud} == {placement}
        assert len(loud) == 4


def test_an_accelerando_of_one_bar_ends_with_its_tempo():
    """The mark stands at the bar that follows."""
    bars = written("accelerando to 120 over 1 bar\nAm | Am")
    assert [said(bar) for bar in bars] == [[(0, "90"), (0, "accel.")], [(0, "120")]]


def test_a_tempo_is_said_in_words_and_as_a_mark():
    """The tempo with which the section began comes back."""
    bars = written("Am\nritardando to 60 over 1 bar\nAm\na tempo\nAm")
    assert [said(bar) for bar in bars] == [
        [(0, "90")],
        [(0, "rit.")],
        [(0, "a tempo"), (0, "90")],
    ]
    assert sounds(bars) == ["90", None, "90"]


def test_a_second_ritardando_from_the_old_tempo_is_a_new_one():
    """It does not go on from where the first one ended."""
    bars = written("ritardando to 60 over 1 bar\nAm\na tempo\nritardando to 70 over 1 bar\nAm")
    assert [said(bar) for bar in bars] == [
        [(0, "90"), (0, "rit.")],
        [(0, "a tempo"), (0, "90"), (0, "rit.")],
    ]


def test_a_playing_goes_back_to_the_tempo_it_began_with():
    """Not to that of the playing before."""
    lines = "Am\nritardando to 60 over 1 bar\nAm\na tempo\nAm"
    bars = written(f"{lines}\n\nform\n  verse\n  verse\n    but bar 1 tempo 72")
    assert [said(bar) for bar in bars][3:] == [
        [(0, "72")],
        [(0, "90"), (0, "rit.")],
        [(0, "90")],
    ]


def test_another_tempo_is_only_a_mark():
    """`tempo 72` is no return."""
    bars = written("Am\ntempo 72\nAm | Am")
    assert [said(bar) for bar in bars] == [[(0, "90")], [(0, "72")], []]


def test_free_time_is_said_and_ended():
    """A mark stands where the beat comes back, though its tempo never changed."""
    bars = written("Am\nfree time\nAm | Am\na tempo\nAm")
    assert [said(bar) for bar in bars] == [
        [(0, "90")],
        [(0, "free time")],
        [],
        [(0, "a tempo"), (0, "90")],
    ]


def test_a_new_section_says_its_tempo_and_no_return():
    """The section before it ended more slowly."""
    bars = written("Am\nritardando to 60 over 1 bar\nAm\n\nform\n  verse x2")
    assert [said(bar) for bar in bars] == [[(0, "90")], [(0, "rit.")], [(0, "90")], [(0, "rit.")]]


@pytest.mark.parametrize("degree", ["ppp", "pp", "p", "mp", "mf", "f", "ff", "fff"])
def test_a_degree_of_loudness_stands_once(degree: str):
    """As long as it stays in force it is not said again (MusicXML 4.0 `dynamics`)."""
    bars = written(f"dynamic {degree}\nAm | Am")
    assert [said(bar) for bar in bars] == [[(0, "90"), (0, degree)], []]


def test_a_crescendo_is_a_wedge_from_its_first_bar_to_the_end_of_its_last():
    """The degree that it reaches stands behind it."""
    bars = written("dynamic p\ncrescendo to f over 2 bars\nAm | Am | Am")
    assert [said(bar) for bar in bars] == [
        [(0, "90"), (0, "p"), (0, "crescendo")],
        [(4, "stop")],
        [(0, "f")],
    ]


def test_a_diminuendo_that_ends_the_piece_says_where_it_leads():
    """No bar follows that could."""
    bars = written("dynamic f\nAm\ndiminuendo to pp over 1 bar\nAm")
    assert said(bars[1]) == [(0, "diminuendo"), (4, "stop"), (4, "pp")]


def test_two_crescendos_in_a_row_are_two_wedges():
    """The degree between them stands at the second."""
    lines = "dynamic p\ncrescendo to mf over 1 bar\nAm\ncrescendo to f over 1 bar\nAm"
    assert [said(bar)[-3:] for bar in written(lines)] == [
        [(0, "p"), (0, "crescendo"), (4, "stop")],
        [(0, "crescendo"), (4, "stop"), (4, "f")],
    ]


def test_a_crescendo_cut_off_by_the_form_ends_with_its_bar():
    """The next playing has one of its own."""
    lines = "dynamic p\ncrescendo to f over 2 bars\nAm | Am"
    bars = written(f"{lines}\n\nform\n  verse x2\n    but without bars 2-2")
    assert [said(bar)[-2:] for bar in bars] == [[(0, "crescendo"), (4, "stop")]] * 2


def test_loudness_and_tempo_stand_in_one_part_of_two():
    """Both are one player's."""
    root = root_of("dynamic p\ncrescendo to f over 1 bar\nAm | Am", layout="two-parts")
    first, second = root.findall("part")
    assert len(first.findall(".//wedge")) == 2
    assert [len(part.findall(".//dynamics")) for part in (first, second)] == [2, 0]
    assert [len(part.findall(".//metronome")) for part in (first, second)] == [1, 0]


def _score(body: str, *fields: str) -> str:
    head = 'lesson "T"\n' + "".join(f"  {field}\n" for field in fields)
    text = f"{head}voicings\n  C  x32010\nsection tune\n{body}"
    return fretloom.export_musicxml(fretloom.loads(text)).decode()


def test_loudness_that_is_over_is_said_to_be():
    """A playing was soft; the next one is as it was before."""
    form = "form\n  tune\n  tune\n    but dynamic p\n  tune\n"
    score = _score("  C { p, p, p, p }\n" + form)
    assert score.count("loudness as before") == 1
    assert score.index("<p />" if "<p />" in score else "<p/>") < score.index("loudness as before")


def test_loudness_that_a_swell_has_led_to_is_over_as_well():
    """A playing grew to ff; the next one is as it was before, folded or played."""
    form = "form\n  tune\n  tune\n    but crescendo to ff over last 1 bar\n  tune\n"
    assert _score("  C { p, p, p, p }\n" + form).count("loudness as before") == 1


def test_where_nothing_can_swing_it_is_played_straight():
    """In 6/8; back in 4/4 it swings again (MusicXML 4.0 `swing`, `straight`)."""
    body = "  C { p, p, p, p }\n  meter 6/8\n  C { p, p } | C { p, p }\n  meter 4/4\n  C { p, p, p, p }\n"
    score = _score(body, "swing 2:1")
    assert score.count("<straight") == 1
    assert score.count("<first>") == 2
