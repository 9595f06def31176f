"""muspy reads the same music and the same tempos from our scores."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest
from lxml import etree
from played_scores import LESSONS, played, score_of

muspy = pytest.importorskip("muspy", reason="muspy is not installed: pip install -e '.[readers]'")
pytestmark = pytest.mark.filterwarnings("ignore")


@pytest.fixture(params=LESSONS, ids=lambda file: file.stem)
def file(request: pytest.FixtureRequest):
    return request.param


@pytest.fixture
def read(file, tmp_path):
    path = tmp_path / "score.musicxml"
    path.write_bytes(score_of(file, "notation"))
    return muspy.read_musicxml(str(path))


def test_onsets_and_sounding_pitches(file, read):
    """It adds `transpose` by itself."""
    found = Counter(
        (Fraction(note.time, read.resolution), note.pitch)
        for track in read.tracks
        for note in track.notes
    )
    assert found == played(file)


def test_tempos(file, read):
    """Each `sound` of the file with a tempo, in quarter notes a minute."""
    written = [
        float(one.get("tempo"))
        for one in etree.fromstring(score_of(file, "notation")).iter("sound")
        if one.get("tempo")
    ]
    assert [one.qpm for one in read.tempos] == written
