"""What a page plays, read back: its data decoded in Python, and its script run by node, without a browser."""

from __future__ import annotations

import json
import shutil
import subprocess
from fractions import Fraction
from typing import Any

import numpy as np
import pytest

from fretloom.formats.sound.ticks import TICKS
from fretloom.formats.sound.web.instrument import instrument_data
from fretloom.formats.sound.web.notes import NotePool, tempos_of
from fretloom.formats.sound.web.script import sound_script
from fretloom.performance.events import Settings
from fretloom.performance.playback.sounds import Playback

NODE = shutil.which("node")
needs_node = pytest.mark.skipif(
    NODE is None, reason="on demand: the script of a page is run by node"
)


def page_of_sound(playback: Playback, settings: Settings) -> dict[str, Any]:
    """Return the data of a page with one player that plays all of a playback."""
    pool = NotePool(settings)
    bars = pool.taken(playback)
    return {
        "guitar": instrument_data(settings),
        "ticks": TICKS,
        "kinds": pool.kinds.rows,
        "bars": pool.bars.rows,
        "meters": pool.meters.rows,
        "plays": [{"bars": bars, "tempos": tempos_of(playback)}],
    }


def seconds_at(tempos: list[float], tick: int) -> float:
    """Return when a tick comes, by the changes of tempo."""
    second, length = 0.0, 0.0
    for at, (start, quarters) in enumerate(zip(tempos[::2], tempos[1::2], strict=True)):
        if start > tick and at:
            break
        second += (start - tempos[2 * at - 2]) * length if at else 0.0
        length, last = 60 / quarters / TICKS, start
    return second + (tick - last) * length


def decoded(page: dict[str, Any]) -> list[tuple[float, float, list[Any]]]:
    """Return every note of the only player: when it is plucked and ends in seconds, and its kind."""
    (one,) = page["plays"]
    found, start = [], 0
    for number in one["bars"]:
        _, length, _, places, *_ = page["bars"][number]
        tick = start
        for later, kind in zip(places[::2], places[1::2], strict=True):
            tick += later
            row = page["kinds"][kind]
            ends = seconds_at(one["tempos"], tick + row[5])
            found.append((seconds_at(one["tempos"], tick), ends, row))
        start += length
    return found


def in_node(expression: str, given: object) -> Any:
    """Return what an expression of the script comes to; in it `given` is what was given."""
    code = (
        f"{sound_script()}\nconst given = JSON.parse(require('fs').readFileSync(0, 'utf8'));"
        f"process.stdout.write(JSON.stringify({expression}));"
    )
    made = subprocess.run(
        [str(NODE), "-e", code],
        input=json.dumps(given, default=_plain),
        capture_output=True,
        text=True,
        check=False,
    )
    assert made.stderr == ""
    return json.loads(made.stdout)


def waves_in_node(page: dict[str, Any], voices: list[dict[str, Any]]) -> list[np.ndarray]:
    """Return the samples of voices, from the pluck on."""
    inside = (
        "((one) => given.voices.map((voice) => Array.from(one.voice(voice)).slice(one.lead)))"
        "(guitarOf(given.page.guitar, 44100))"
    )
    return [np.array(one) for one in in_node(inside, {"page": page, "voices": voices})]


def _plain(value: object) -> float:
    assert isinstance(value, Fraction)
    return float(value)
