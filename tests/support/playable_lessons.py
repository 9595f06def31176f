"""Generated lessons that a hand can mostly play: usual shapes, patterns over them, tempos, a form and steps."""

from __future__ import annotations

from functools import cached_property

from attrs import frozen
from hypothesis import strategies as st
from pools import Pool

from fretloom.notation.model.lesson import Lesson
from fretloom.notation.syntax.read import read
from fretloom.source import Source

#: Shapes as methods show them (common practice), with barres, the thumb over the neck, hops and wide ones.
_GUITAR = (
    "E  022100", "A  x02220", "D  xx0232", "G  320003", "C  x32010", "Am  x02210", "Em  022000", "Dm  xx0231",
    "F  133211", "F.small  xx3211", "F.thumb  1x3211  fingers T.3211", "Bm  x24432", "F#m  244222", "Bb  x13331",
    "B7  x21202", "B7.hop  x21202  fingers .213.4  bass 5 4 6 4  hop 2 to 6@2", "C#m7  x46454", "Gm  355333",
    "Cm  x35543", "G#m  466444", "C/G  332010", "D/F#  2x0232", "Fmaj7  xx3210", "A7  x02020", "E7  like E  lift 3",
    "Ab  466544", "Eb  x68886", "F#7  242322", "Bm7b5  x2323x", "Cdim7  x3424x", "Caug  x3211x", "Am9  x02413",
    "G13  3x345x", "Bm7  like Bm  lift 4", "Fm  like F  lift 2",
)  # fmt: skip
_UKULELE = (
    "C  0003",
    "F  2010",
    "G7  0212",
    "Am  2000",
    "Bb  3211",
    "E  4442",
    "Bm  4222",
    "D  2220",
    "Gm  0231",
)
_BEATS = (
    "p", "p", "p i", "p m", "p a", "p+m", "p+a i", "i", "m i", "p i m i", "p m a m", "- i", "p [m i]", "p i m",
    "p a@0", "p m2@3", "i+m", "-", "(p i m)", "p m!", "p a@0h2",
)  # fmt: skip


@frozen(eq=False)
class Playable:
    """A lesson as text."""

    text: str

    @cached_property
    def lesson(self) -> Lesson:
        """The lesson as read."""
        return read(Source("playable.lesson", self.text))


@st.composite
def _pattern(draw: st.DrawFn, name: str, beats: int) -> str:
    bars = draw(st.sampled_from([1, 1, 1, 2]))
    drawn = [" , ".join(draw(st.sampled_from(_BEATS)) for _ in range(beats)) for _ in range(bars)]
    return f"  {name}  {' | '.join(drawn)}"


@st.composite
def _section(draw: st.DrawFn, name: str, chords: list[str], beats: int) -> list[str]:
    one = st.sampled_from(chords)
    lines = [f"section {name}  using {draw(st.sampled_from(['first', 'second']))}"]
    if draw(st.booleans()):
        lines.append(f"  tempo {draw(st.integers(50, 150))}")
    for _ in range(draw(st.integers(1, 3))):
        bar = draw(st.sampled_from(["{one}", "{one} x2", "{one} {other}", "{one} using second",
                                    "{one} with m on 1", "{one} without p on 1", "written", "%"]))  # fmt: skip
        if bar == "written":
            bar = (
                "{one} {{ " + ", ".join(draw(st.sampled_from(_BEATS)) for _ in range(beats)) + " }}"
            )
        lines.append("  " + f"{draw(one)} | " + bar.format(one=draw(one), other=draw(one)))
    return lines


@st.composite
def playable_lessons(draw: st.DrawFn) -> Playable:
    """A lesson for a guitar, or now and then a ukulele."""
    small = draw(st.integers(0, 5)) == 0
    meter, beats = draw(st.sampled_from([("4/4", 4), ("3/4", 3), ("6/8", 2), ("2/4", 2)]))
    lines = draw(
        st.lists(
            st.sampled_from(_UKULELE if small else _GUITAR), min_size=2, max_size=6, unique=True
        )
    )
    wanted = {"E7": _GUITAR[0], "Bm7": _GUITAR[11], "Fm": _GUITAR[8]}
    lines += [line for name, line in wanted.items() if any(one.split()[0] == name for one in lines)]
    lines = list(dict.fromkeys(lines))
    chords = [line.split()[0] for line in lines]
    head = ['lesson "A tune to try"', f"  meter {meter}", f"  tempo {draw(st.integers(40, 190))}"]
    head += [f"  capo {draw(st.integers(1, 5))}"] if draw(st.booleans()) else []
    head += (
        [f"  plays in {draw(st.sampled_from(['C', 'G', 'E', 'Am']))}"]
        if draw(st.booleans())
        else []
    )
    head += (
        [f"  level {draw(st.sampled_from(['beginner', 'advanced']))}"]
        if draw(st.booleans())
        else []
    )
    head += (
        [
            "  tuning ukulele",
            "picking",
            "  p plays 4 3",
            "  i plays 2",
            "  m plays 1",
            "  a plays 1",
        ]
        if small
        else []
    )
    text = [*head, "voicings", *(f"  {line}" for line in lines), "patterns"]
    text += [draw(_pattern("first", beats)), draw(_pattern("second", beats))]
    text += [*draw(_section("verse", chords, beats)), *draw(_section("chorus", chords, beats))]
    text += ["form", "  verse", "  chorus x2", "  verse", f"    but last bar: {chords[0]}"]
    text += [f"    but tempo {draw(st.integers(60, 160))}"] if draw(st.booleans()) else []
    text += ['step "Slowly"', f"  Leave {chords[0]} early.", f"  show voicing {chords[0]}"]
    text += [f"  show section verse from 50 to {draw(st.integers(60, 180))}"]
    return Playable("\n".join(text) + "\n")


#: As many as the laws of easier lessons want.
PLAYABLE = Pool("playable", playable_lessons(), lambda made: made.text, shares=4, each=20)
