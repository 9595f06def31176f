"""Lessons as text become files that read back right: the examples, and lessons of any kind."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import accumulate

import places
import pytest
from expanding import expand
from lesson_pool import LESSONS, Made
from musicxml_laws import check_everything, sounding, tab_notes
from musicxml_readers import chords21, notes21, played_by_verovio, tab_of_verovio
from musicxml_reading import bars_of
from write_golden_scores import GOLDEN, score_of
from writing_scores import to_musicxml

from fretloom.notation.loading import load_lesson
from fretloom.performance.events import Timeline
from fretloom.trade.harmony.symbol import parse_symbol

ROOT = places.EXAMPLES
EXAMPLES = sorted(path.stem for path in ROOT.glob("*.lesson"))


def example(name: str) -> Timeline:
    return expand(load_lesson(ROOT / f"{name}.lesson", ROOT)).timeline


@pytest.mark.parametrize("name", EXAMPLES)
def test_examples_export_and_read_back(name: str):
    """Every law, and music21 reads the notes of both staves and the chord symbols."""
    piece = example(name)
    data = check_everything(piece)
    for staff in (0, 1):
        read_back: Counter[object] = Counter()
        for (measure, onset, _, midi, tied), count in notes21(data, staff).items():
            if not tied:
                read_back[measure, onset, midi] += count
        assert read_back == sounding(piece)
    for measure, onset, _, classes in chords21(data):
        taken = [one for one in piece.bars[measure].bar.voicings if one.onset == onset]
        written = parse_symbol(taken[0].voicing.symbol, piece.settings.names)
        capo = piece.settings.capo.fret
        assert classes == {(pitch + capo) % 12 for pitch in written.pitch_classes}


@pytest.mark.parametrize("name", EXAMPLES)
def test_verovio_plays_and_draws_the_examples(name: str):
    """Onsets and pitches but for rolls and grace notes, which verovio spreads; all strings and frets.

    Grace notes on tablature make it play all that follows late, so notation alone is heard.
    """
    piece = example(name)
    data = to_musicxml(piece)
    starts = [Fraction(0), *accumulate(played.bar.length for played in piece.bars)]
    spread = {
        starts[place] + note.onset
        for place, played in enumerate(piece.bars)
        for note in played.bar.notes
        if note.gesture is not None or note.technique.grace
    }
    played = Counter[object]()
    for (place, onset, midi), count in sounding(piece).items():
        if starts[place] + onset not in spread:
            played[starts[place] + onset, midi] += count
    heard = played_by_verovio(to_musicxml(piece, layout="notation"))[0]
    assert not played - heard
    rolls = sum(sounding(piece).values()) - sum(played.values())
    assert sum(heard.values()) == sum(played.values()) + rolls
    written = [
        (n.number("notations/technical/string"), n.number("notations/technical/fret"))
        for n in tab_notes(bars_of(data))
    ]
    assert tab_of_verovio(data) == sorted(written)


@LESSONS.law(most=40)
def test_every_lesson_exports_by_the_laws(made: Made):
    """Any lesson that plays something gives a valid file that says what is played."""
    piece = made.expansion.timeline
    if piece.bars:
        check_everything(piece)


@pytest.mark.parametrize("name", sorted(path.stem for path in GOLDEN.glob("*.lesson")))
def test_golden_scores(name: str):
    """Whole files that a person has read and seen drawn; `write_golden_scores.py` writes them anew."""
    assert score_of(name) == (GOLDEN / f"{name}.musicxml").read_bytes()
