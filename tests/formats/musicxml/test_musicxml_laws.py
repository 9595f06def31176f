"""Every timeline, however odd, gives a valid file that says what is played."""

from __future__ import annotations

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st
from musicxml_laws import check_everything, sounding
from musicxml_readers import notes21
from musicxml_strategies import timelines

from fretloom.performance.events import Timeline


@settings(max_examples=60)
@given(
    timelines(),
    st.sampled_from(("notation-and-tab", "two-parts", "notation", "tab")),
    st.booleans(),
)
def test_every_timeline_exports_by_the_laws(piece: Timeline, layout: str, concert: bool):
    """Valid by the W3C schema; cursor, lengths, ties, beams, accidentals, tablature, frames."""
    check_everything(piece, layout=layout, concert=concert)


@settings(max_examples=15)
@given(timelines())
def test_music21_reads_every_timeline(piece: Timeline):
    """Onsets and sounding pitches on both staves."""
    data = check_everything(piece)
    for staff in (0, 1):
        read: Counter[object] = Counter()
        for (measure, onset, _, midi, tied), count in notes21(data, staff).items():
            if not tied:
                read[measure, onset, midi] += count
        assert read == sounding(piece)
