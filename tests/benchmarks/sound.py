"""Times the sound of a lesson, cold and warm, with its memory, beside fluidsynth playing the same notes.

    python tests/benchmarks/sound.py [ROUNDS]

Seconds of the processor (all threads) and of the clock, the best of some rounds; each round is a process of its own,
once with OPENBLAS_NUM_THREADS as it is and once with 1. A busy machine makes all of them larger: compare only what ran
side by side. fluidsynth (Debian: fluidsynth, fluid-soundfont-gm) is left out where it is not installed; its reverberation and chorus are
switched off.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROUNDS = 3
SECONDS = 180
FONT = Path("/usr/share/sounds/sf2/FluidR3_GM.sf2")
#: Eight plucks a bar of 2.5 seconds, all strings, two fingers at a time on the first beat.
LESSON = """lesson "Long"
  tempo 96
voicings
  C   x32010
  Am  x02210
patterns
  t  p+m i , a i , p i , m i
section s using t
  repeat {times}
  C | Am
  end
"""


def playback(bars: int):  # type: ignore[no-untyped-def]
    from fretloom.api import examine, loads
    from fretloom.performance.playback.play import play

    timeline = examine(loads(LESSON.format(times=-(-bars // 2)))).reading.timeline
    return play(timeline.bars[:bars], timeline.settings), timeline.settings


def measured() -> dict[str, float]:
    """Measure this process: it has imported nothing but the lesson's side yet."""
    played, settings = playback(round(SECONDS / 2.5))
    two, _ = playback(2)
    found: dict[str, float] = {}

    def timed(name: str, work) -> None:  # type: ignore[no-untyped-def]
        cpu, clock = time.process_time(), time.perf_counter()
        work()
        found[name] = time.process_time() - cpu
        found[f"{name}, clock"] = time.perf_counter() - clock

    def importing() -> None:
        import fretloom.formats.sound.recording.recorded
        import fretloom.formats.sound.recording.samples16  # noqa: F401

    timed("import", importing)
    from fretloom.formats.sound.guitar.mixing import Mix
    from fretloom.formats.sound.recording.recorded import Level, RecordingPlan, recorded
    from fretloom.formats.sound.recording.wav import wav_pieces

    def whole() -> None:
        with Path(os.devnull).open("wb") as file:
            file.writelines(wav_pieces(recorded(played, settings, RecordingPlan())))

    def guitar() -> None:
        for _ in Mix(played, settings).heard():
            pass

    def loop() -> None:
        level = Level(1.0)
        for _ in recorded(two, settings, RecordingPlan(loop=True, level=level)).chunks:
            pass

    timed("loop of two bars, cold", loop)
    timed("all of it, cold", whole)
    timed("guitar, body and room", guitar)
    timed("all of it, warm", whole)
    timed("loop of two bars, warm", loop)
    found["notes"] = len(played.sounds)
    status = Path("/proc/self/status")
    if status.exists():
        line = next(one for one in status.read_text().splitlines() if one.startswith("VmHWM"))
        found["memory, MB"] = int(line.split()[1]) / 1024
    return found


def with_fluidsynth(folder: Path) -> float | None:
    """Return the seconds of the processor that fluidsynth takes for the same notes, None without it."""
    if shutil.which("fluidsynth") is None or not FONT.exists():
        return None
    import mido

    played, _ = playback(round(SECONDS / 2.5))
    events = []
    for sound in played.sounds:
        channel = sound.string - 1
        on, off = (float(played.clock.seconds(at)) for at in (sound.at, sound.until))
        events += [(on, 1, channel, sound), (max(off, on + 0.01), 0, channel, sound)]
    track, now = mido.MidiTrack(), 0
    track += [mido.Message("program_change", channel=one, program=25) for one in range(6)]
    for at, begins, channel, sound in sorted(events, key=lambda one: one[:3]):
        tick = round(at * 960)
        kind = "note_on" if begins else "note_off"
        track.append(
            mido.Message(
                kind,
                channel=channel,
                note=int(sound.midi),
                velocity=sound.loudness,
                time=tick - now,
            )
        )
        now = tick
    file = mido.MidiFile(ticks_per_beat=480)
    file.tracks.append(track)
    file.save(folder / "long.mid")
    command = ["fluidsynth", "-niq", "-R", "0", "-C", "0", "-r", "44100", "-F"]
    before = os.times()
    subprocess.run(
        [*command, str(folder / "long.wav"), str(FONT), str(folder / "long.mid")],
        check=True,
        capture_output=True,
    )
    after = os.times()
    return (
        after.children_user + after.children_system - before.children_user - before.children_system
    )


def main(rounds: int) -> None:
    for threads in (None, "1"):
        env = {**os.environ}
        env.pop("OPENBLAS_NUM_THREADS", None)
        if threads:
            env["OPENBLAS_NUM_THREADS"] = threads
        command = [sys.executable, __file__, "measure"]
        runs = [
            json.loads(subprocess.run(command, env=env, check=True, capture_output=True).stdout)
            for _ in range(rounds)
        ]
        best = {name: min(run[name] for run in runs) for name in runs[0]}
        print(
            f"\n{SECONDS} s, {best.pop('notes'):.0f} notes, OPENBLAS_NUM_THREADS {threads or 'unset'}:"
        )
        for name, value in best.items():
            rate = (
                f"{SECONDS / value:6.0f} times real time"
                if "all" in name or "guitar" in name
                else ""
            )
            print(f"  {name:32} {value:7.3f}  {rate}")
    with tempfile.TemporaryDirectory() as folder:
        taken = [with_fluidsynth(Path(folder)) for _ in range(rounds)]
    known = [one for one in taken if one is not None]
    if known:
        print(
            f"\nfluidsynth, the same notes: {min(known):.3f}, {SECONDS / min(known):.0f} times real time"
        )


if __name__ == "__main__":
    if sys.argv[1:] == ["measure"]:
        print(json.dumps(measured()))
    else:
        main(int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS)
