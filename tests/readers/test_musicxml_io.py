"""musicxml-io, a library for JavaScript, keeps what tablature needs when it reads a score and writes it again."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections import Counter
from pathlib import Path

import pytest
from lxml import etree
from places import PROJECT
from played_scores import LESSONS, score_of

MODULES = PROJECT / "build" / "readers" / "node_modules"
if shutil.which("node") is None or not (MODULES / "musicxml-io").is_dir():
    pytest.skip(
        "musicxml-io is not installed: npm install --prefix build/readers musicxml-io@0.9.6",
        allow_module_level=True,
    )
pytestmark = pytest.mark.process
KEPT = (
    "staff-lines", "staff-tuning", "capo", "string", "fret", "pluck", "fingering", "hammer-on", "pull-off", "slide",
    "bend", "bend-alter", "frame", "frame-note", "barre", "first-fret", "root-step", "kind", "transpose", "clef",
    "pitch", "duration", "voice", "staff", "stem", "tie", "tied", "time-modification", "repeat", "ending", "rehearsal",
    "words", "lyric", "text", "credit-words", "metronome", "grace", "harmonic", "arpeggiate", "beam", "notehead",
)  # fmt: skip


def counted(score: bytes) -> Counter[tuple[str, str]]:
    """Return the elements that are kept, with the text in them."""
    root = etree.fromstring(score)
    return Counter(
        (one.tag, " ".join(" ".join(one.itertext()).split()))
        for one in root.iter()
        if one.tag in KEPT
    )


@pytest.mark.parametrize("file", LESSONS, ids=lambda file: file.stem)
def test_what_tablature_needs_is_kept(file: Path):
    score = score_of(file, "notation-and-tab")
    again = subprocess.run(
        ["node", str(Path(__file__).with_name("write_again.cjs"))],
        input=score, capture_output=True, check=True, env=os.environ | {"NODE_PATH": str(MODULES)},
    ).stdout  # fmt: skip
    before, after = counted(score), counted(again)
    assert (before - after, after - before) == (Counter(), Counter())
