"""Files written from timelines built by hand keep every law and carry what the page shows."""

from __future__ import annotations

from fractions import Fraction

import pytest
from lxml import etree
from musicxml_laws import check_everything
from musicxml_pieces import G7, C, F, bar, note, plucks, settings, timeline
from musicxml_reading import notes_of

from fretloom.trade.music.meter import parse_meter

LAYOUTS = ("notation-and-tab", "two-parts", "notation", "tab")


def mixed(capo: int = 2):
    """A piece with triplets, a sextuplet, slurs, an accent, a bar of rest and a cue."""
    of = settings(capo=capo, swing=(2, 1))
    slurred = (
        note(0, 5, 3, "p", of=of, fretting="3", ring=9),
        note("1/2", 3, 0, "i", of=of, slurs=(("hammer-on", "3/4", 2),)),
        note(1, 2, 1, "m", of=of, accent=True, fretting="1"),
        note(2, 2, 0, "m", of=of, slurs=(("hammer-on", "5/2", 1), ("pull-off", "3", 0))),
    )
    bars = [
        bar(plucks("p5 , p4 m2 , p5+a1 i3 , p4 m2", C, of), C),
        bar(plucks("p6 , p4 m2 i3 , p6 , p6 - m2 i3", G7, of), G7, cue="Lamps are lit"),
        bar(plucks("p5+i3+m2 , i3 m2 a1 m2 i3 m2 , i3 m2 a1 m2 i3 , p4", F, of), F),
        bar(slurred, C),
        bar(held=None, rest=True),
    ]
    return timeline(bars, of)


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("concert", [False, True])
def test_every_layout_keeps_every_law(layout: str, concert: bool):
    """Notation, tablature, both, and two parts; written and concert pitch."""
    check_everything(mixed(), layout=layout, concert=concert)


def test_one_bar_says_what_the_profile_says():
    """The worked example of MusicXML with a capo: C shape, capo 2, sounds in D (MusicXML 4.0 `transpose`)."""
    of = settings(capo=2, meter="2/4")
    two = parse_meter("2/4")
    data = check_everything(timeline([bar(plucks("p5+a1 , p4+i3 m2", C, of, two), C, two)], of))
    root = etree.fromstring(data)
    assert root.findtext("part/measure/attributes/transpose/diatonic") == "1"
    assert root.findtext("part/measure/attributes/transpose/chromatic") == "2"
    assert root.findtext("part/measure/attributes/staff-details/capo") == "2"
    assert "Capo 2" in [words.text for words in root.iter("credit-words")]
    assert root.findtext("part/measure/harmony/root/root-step") == "C"
    upper = [(n.onset, n.midi) for n in notes_of(data) if n.staff == "1" and n.voice == "1"]
    assert upper == [(0, 64), (1, 55), (Fraction(3, 2), 60)]
