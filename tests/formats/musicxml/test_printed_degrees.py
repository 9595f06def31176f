"""The suffix of a chord symbol stands once on the page, and readers hear the chord's own notes."""

from __future__ import annotations

import re

import music21
import pytest
import verovio
from lxml import etree
from musicxml_pieces import bar, settings, timeline, voicing
from musicxml_readers import MEI
from writing_scores import to_musicxml

from fretloom.formats.musicxml.kinds import musicxml_kind
from fretloom.formats.musicxml.printed_degrees import shared
from fretloom.trade.harmony.naming import usual_suffixes
from fretloom.trade.harmony.symbol import parse_symbol
from fretloom.trade.wording import suffix_with_signs

TRADE = (
    "M7(#11)", "7(b9,#11)", "7#9#5", "7b9#5", "m(add9)", "7-9", "7+9", "m7(b5)", "add2", "add4",
    "13b9", "13#11", "9#11", "7b9sus4", "69", "mMaj9", "7no5", "maj9#11", "7b5b9", "7#5#9",
)  # fmt: skip
#: Chords whose suffix does not end with the degrees that their kind lacks: these are hidden, and verovio prints them.
HIDDEN = ("7alt", "dim(maj7)", "m(maj11)", "6sus4", "6sus2")
KINDS = (*usual_suffixes(), *TRADE)


def score(suffix: str) -> bytes:
    held = voicing(f"Bb{suffix}", "x32030")
    return to_musicxml(timeline([bar(held=held)], settings()), layout="notation")


@pytest.mark.parametrize("suffix", KINDS)
def test_music21_hears_every_kind_of_chord(suffix: str):
    """Pitch classes of the `harmony`, against the model's (profile of the exporter, assertion 11)."""
    read = music21.converter.parseData(score(suffix), format="musicxml")
    [heard] = read.recurse().getElementsByClass(music21.harmony.ChordSymbol)
    classes = {pitch.pitchClass for pitch in heard.pitches}
    assert classes == set(parse_symbol(f"Bb{suffix}").pitch_classes)


@pytest.mark.parametrize("suffix", [one for one in KINDS if one not in HIDDEN])
def test_verovio_prints_every_suffix_once(suffix: str):
    """It puts degrees in brackets, and prints those that are hidden: a third that is left out."""
    verovio.enableLog(verovio.LOG_OFF)
    kit = verovio.toolkit()
    assert kit.loadData(score(suffix).decode())
    text = etree.fromstring(kit.getMEI().encode()).findtext(f".//{MEI}harm")
    plain = re.sub(r"no3(?=\))|[(),]", "", text)
    wanted = re.sub(r"[(),\s]", "", f"B♭{suffix_with_signs(suffix)}")
    assert sorted(plain) == sorted(wanted)


@pytest.mark.parametrize(
    ("suffix", "printed"),
    [("m7b5", "m7♭5"), ("7(b9,#11)", "7(♭9,♯11)"), ("sus4", "sus4"), ("7bb7", "7♭♭7")],
)
def test_flats_and_sharps_are_printed_as_signs(suffix: str, printed: str):
    """Engraving of chord symbols (common practice)."""
    assert suffix_with_signs(suffix) == printed


@pytest.mark.parametrize("suffix", HIDDEN)
def test_a_suffix_that_does_not_end_with_its_degrees_is_the_text_of_its_kind(suffix: str):
    """C7alt: four degrees complete the kind, and none of them is written."""
    found = shared(suffix, musicxml_kind(parse_symbol(f"C{suffix}").quality)[1])
    assert found.text == suffix
    assert all(one.hidden for one in found.degrees)
