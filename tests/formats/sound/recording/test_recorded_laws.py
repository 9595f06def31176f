"""Any lesson as a recording: finite, never clipped, whatever is in it."""

from __future__ import annotations

from itertools import islice

import numpy as np
from lesson_pool import LESSONS, Made

from fretloom.formats.sound.recording.level import Level
from fretloom.formats.sound.recording.recorded import RecordingPlan, recorded
from fretloom.performance.playback.play import play


@LESSONS.law(most=6)
def test_any_lesson_can_be_heard(made: Made) -> None:
    """Its first seconds, much too loud and clicked; and its first bar as a loop."""
    bars, settings = made.timeline.bars, made.timeline.settings
    loud = RecordingPlan(clicks="always", level=Level(8.0))
    for chunk in islice(recorded(play(bars, settings), settings, loud).chunks, 4):
        assert np.isfinite(chunk).all()
        assert np.abs(chunk).max(initial=0) < 0.9
    loop = recorded(play(bars[:1], settings), settings, RecordingPlan(loop=True))
    lengths = [one.shape[1] for one in islice(loop.chunks, 10)]
    assert sum(lengths) == loop.frames or len(lengths) == 10
