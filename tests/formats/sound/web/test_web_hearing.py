"""What the script makes of the notes: when each is heard, and when its string is touched, as in a recording."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from heard import RATE, playback_of, played_file
from places import EXAMPLES
from web_sound import in_node, needs_node, page_of_sound

from fretloom.formats.sound.guitar.scoring import Guitarist
from fretloom.formats.sound.guitar.string.voice import StringVoice
from fretloom.performance.events import Settings
from fretloom.performance.playback.joining import counted_in
from fretloom.performance.playback.play import play
from fretloom.performance.playback.sounds import Playback

pytestmark = needs_node
PATHS = sorted(EXAMPLES.glob("*.lesson"))


def _listed(
    playback: Playback, settings: Settings, bars: tuple[int, int] | None = None, loop: bool = False
) -> dict[str, Any]:
    first, last = bars or (0, len(playback.bars) - 1)
    given = {"page": page_of_sound(playback, settings), "first": first, "last": last, "loop": loop}
    inside = "notesOf(given.page).listed(given.page.plays[0], given.first, given.last, given.loop)"
    found: dict[str, Any] = in_node(inside, given)
    return found


def _voiced(
    playback: Playback, settings: Settings, speed: float, loop: bool = False
) -> list[dict[str, Any]]:
    """Return what every note becomes at a speed, heard at its time from 0 on."""
    given = {"page": page_of_sound(playback, settings), "speed": speed, "loop": loop}
    inside = (
        "((it) => it.listed(given.page.plays[0], 0, given.page.plays[0].bars.length - 1, given.loop).items"
        ".filter(({ kind }) => kind).map((one) => it.voiced(one, given.speed, one.at / given.speed, 44100)))(notesOf(given.page))"
    )
    found: list[dict[str, Any]] = in_node(inside, given)
    return found


@pytest.mark.parametrize("path", PATHS, ids=lambda one: one.stem)
def test_bars_and_clicks_come_when_the_playback_says(path) -> None:
    playback, settings = played_file(path)
    found = _listed(playback, settings)
    seconds = playback.clock.seconds
    bars = [one["at"] for one in found["items"] if "bar" in one]
    assert bars == pytest.approx([float(seconds(one.start)) for one in playback.bars], abs=1e-4)
    clicks = [(one["at"], one["click"]) for one in found["items"] if "click" in one]
    counts = [count for bar in playback.bars for count in bar.counts]
    assert [strength for _, strength in clicks] == [strength for _, strength in counts]
    assert [at for at, _ in clicks] == pytest.approx(
        [float(seconds(at)) for at, _ in counts], abs=1e-4
    )
    assert found["ends"] == pytest.approx(float(playback.seconds), abs=1e-4)


@pytest.mark.parametrize("loop", [False, True])
@pytest.mark.parametrize(
    "name", ["kiln-lane-shuffle", "glaze-and-ash", "twelve-panes", "slow-kettle-blues"]
)
def test_strings_are_touched_and_moved_as_in_a_recording(name: str, loop: bool) -> None:
    """Each change within a few samples, and as fast; in a loop the first pluck of the next round ends what rings."""
    playback, settings = played_file(EXAMPLES / f"{name}.lesson")
    player = Guitarist(playback, settings, loop=loop)
    voices = [one for one in player.events() if isinstance(one, StringVoice)]
    ours = _voiced(playback, settings, 1.0, loop)
    assert len(ours) == len(voices)
    ours_by, theirs_by = (
        sorted(made) for made in ([_key_of(one) for one in ours], [_key(one) for one in voices])
    )
    assert [one[:3] for one in ours_by] == [one[:3] for one in theirs_by]
    for one, other in zip(ours_by, theirs_by, strict=True):
        assert one[3:] == pytest.approx(other[3:], abs=12)


def _key_of(one: dict[str, Any]) -> tuple[float, ...]:
    damp = one["changes"][-1]
    return (
        min(110, one["loud"]),
        len(one["changes"]),
        round(damp["seconds"] * 1000),
        *sorted([damp["at"]]),
    )


def _key(one: StringVoice) -> tuple[float, ...]:
    damp = one.changes[-1]
    return (round(one.hard * 110), len(one.changes), round(damp.seconds * 1000), damp.at)


@pytest.mark.parametrize("speed", [0.4, 0.7, 1.2])
def test_at_another_tempo_all_of_it_is_faster_or_slower(speed: float) -> None:
    """Source: the playback at that speed; only what a hand needs to stop a string lasts as long as it does."""
    playback, settings = playback_of("O { p6 m1.for-1 , i3@2h4 , p4 , a2 }", "tempo 80")
    bars = [one.played for one in playback.bars if one.played is not None]
    there = play(bars, settings, Fraction(speed).limit_denominator(10))
    voices = [one for one in Guitarist(there, settings).events() if isinstance(one, StringVoice)]
    for ours, voice in zip(_voiced(playback, settings, speed), voices, strict=True):
        assert [one["at"] for one in ours["changes"]] == pytest.approx(
            [one.at for one in voice.changes], abs=12
        )


@pytest.mark.parametrize(
    "fields",
    [
        ("tempo 60",),
        ("tempo 200",),
        ("meter 6/8", "tempo 40 to 3/8"),
        ("meter 2+2+3/8", "tempo 100"),
    ],
)
def test_a_count_in_is_that_of_recordings(fields: tuple[str, ...]) -> None:
    """A bar, and two of short ones; uneven beats are counted between."""
    beats = "p6 , " * {"meter 6/8": 2, "meter 2+2+3/8": 3}.get(fields[0], 4)
    playback, settings = playback_of(f"O {{ {beats.rstrip(', ')} }}", *fields)
    counted = counted_in(playback)
    bars = [one for one in counted.bars if one.played is None]
    given = {
        "page": page_of_sound(playback, settings),
        "quarter": 60 / float(playback.clock.spans[0].quarters),
    }
    found = in_node("notesOf(given.page).countedIn(given.page.plays[0], 0, given.quarter)", given)
    seconds = counted.clock.seconds
    counts = [(float(seconds(at)), strength) for bar in bars for at, strength in bar.counts]
    assert [strength for _, strength in found["places"]] == [strength for _, strength in counts]
    assert [at for at, _ in found["places"]] == pytest.approx([at for at, _ in counts])
    assert found["lasts"] == pytest.approx(float(seconds(bars[-1].end)))


def test_before_a_pickup_it_is_counted_up_to_it() -> None:
    path = next(one for one in PATHS if played_file(one)[0].bars[0].played.bar.kind == "pickup")
    playback, settings = played_file(path)
    counted = counted_in(playback)
    given = {
        "page": page_of_sound(playback, settings),
        "quarter": 60 / float(playback.clock.spans[0].quarters),
    }
    found = in_node("notesOf(given.page).countedIn(given.page.plays[0], 0, given.quarter)", given)
    bars = [one for one in counted.bars if one.played is None]
    assert found["lasts"] == pytest.approx(float(counted.clock.seconds(bars[-1].end)))
    assert len(found["places"]) == sum(len(one.counts) for one in bars)


def test_a_part_of_the_song_begins_at_its_first_bar() -> None:
    playback, settings = played_file(EXAMPLES / "kiln-lane-shuffle.lesson")
    found = _listed(playback, settings, (4, 5))
    start, end = (
        float(playback.clock.seconds(one)) for one in (playback.bars[4].start, playback.bars[5].end)
    )
    assert found["ends"] == pytest.approx(end - start, abs=1e-4)
    assert [one["bar"] for one in found["items"] if "bar" in one] == [4, 5]
    plucked = [one["at"] for one in found["items"] if "kind" in one]
    inside = [
        float(playback.clock.seconds(one.at)) - start
        for one in playback.sounds
        if one.bar in (4, 5)
    ]
    assert sorted(plucked) == pytest.approx(sorted(max(0, one) for one in inside), abs=1e-4)
    assert RATE == 44100
