"""Every timeline, however odd, gives a valid file that says what is played."""

from __future__ import annotations

from collections import Counter

from musicxml_laws import check_everything, sounding
from musicxml_readers import notes21
from musicxml_strategies import Piece, pieces
from pools import Pool

PIECES = Pool("pieces", pieces(), repr, shares=2, each=30)


@PIECES.law()
def test_every_timeline_exports_by_the_laws(piece: Piece):
    """Valid by the W3C schema; cursor, lengths, ties, beams, accidentals, tablature, frames."""
    of = {"layout": piece.layout, "concert": piece.concert, "fingers": piece.fingers}
    check_everything(piece.timeline, **of)


@PIECES.law(most=16)
def test_music21_reads_every_timeline(piece: Piece):
    """Onsets and sounding pitches on both staves."""
    data = check_everything(piece.timeline)
    for staff in (0, 1):
        read: Counter[object] = Counter()
        for (measure, onset, _, midi, tied), count in notes21(data, staff).items():
            if not tied:
                read[measure, onset, midi] += count
        assert read == sounding(piece.timeline)
