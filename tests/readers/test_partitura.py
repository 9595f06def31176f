"""partitura reads the same music from our scores as is played."""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction

import pytest
from lxml import etree
from played_scores import LESSONS, exact, played, score_of

partitura = pytest.importorskip(
    "partitura", reason="partitura is not installed: pip install -e '.[readers]'"
)
pytestmark = pytest.mark.filterwarnings("ignore")


def semitones(score: bytes) -> int:
    """Return how much higher than written the score sounds, which partitura keeps apart."""
    first = etree.fromstring(score).find(".//transpose")
    if first is None:
        return 0
    return int(first.findtext("chromatic")) + 12 * int(first.findtext("octave-change") or 0)


@pytest.mark.parametrize("file", LESSONS, ids=lambda file: file.stem)
def test_onsets_and_pitches(file, tmp_path):
    """Of notes and grace notes, ties joined; an upbeat lies before 0."""
    score = score_of(file, "notation")
    path = tmp_path / "score.musicxml"
    path.write_bytes(re.sub(rb"<fingering[^>]*>T</fingering>", b"", score))
    (part,) = partitura.load_musicxml(path).parts
    upbeat = min(
        Fraction(0), *(exact(float(part.quarter_map(one.start.t))) for one in part.measures)
    )
    read = Counter(
        (exact(float(part.quarter_map(note.start.t))) - upbeat, note.midi_pitch + semitones(score))
        for note in part.notes_tied
    )
    assert read == played(file)
