"""Lessons whose forms may be folded: repeats, endings, playings that come again, ways back, and what breaks them."""

from __future__ import annotations

from attrs import frozen
from hypothesis import strategies as st

HEAD = """\
lesson "Kiln Lane Rounds"
  plays in C
  tempo 90{swing}

voicings
  C   x32010
  Am  x02210
  G   320003
  E7  020100

patterns
  plain  p , p m , p i , p m
  spare  p , m , - , i

"""
BARS = (
    "C", "C", "Am", "Am", "G", "C:2 G:2", "E7 early on 4&", "Am using spare",
    "G { p.for-6, m, i, - }", '"lamps" C', "C { -, p, m, i }", "Am fermata on 3", "rest",
)  # fmt: skip
PACES = (
    "dynamic p", "dynamic f", "crescendo to f over 1 bar", "diminuendo to p over 2 bars",
    "ritardando to 60 over 1 bar", "tempo 100", "a tempo", "free time",
)  # fmt: skip
CHANGES = (
    "last bar: G", "last bar: G | C", "last 2 bars: C | C | E7", "first bar: E7", "bar 2: Am",
    "without bars 1-1", "only bars 1-2", "only from bar 2", "without last bar", "without repeats",
    "tempo 100", "dynamic p", "using spare", "ritardando to 60 over last bar", "words 1",
)  # fmt: skip


ENDINGS = {
    2: (["1", "2"],),
    3: (["1,2", "3"], ["1", "2,3"], ["1", "2", "3"], ["1,3", "2"]),
    4: (["1,3", "2,4"], ["1,3", "2", "4"], ["1,4", "2,3"], ["1,2", "3,4"], ["1", "2,4", "3"]),
}


@frozen
class Form:
    """The text of a lesson."""

    text: str


def lines(draw: st.DrawFn, most: int, pace: bool) -> list[str]:
    """Draw some bars on a line or two, perhaps with words, or something said of speed and loudness."""
    found = []
    if pace and not draw(st.integers(0, 3)):
        found.append(draw(st.sampled_from(PACES)))
    bars = draw(st.lists(st.sampled_from(BARS), min_size=1, max_size=most))
    found.append(" | ".join(bars))
    if not draw(st.integers(0, 4)):
        found.append('words: "low"')
    if not draw(st.integers(0, 4)):
        found += ['words 1: "a-" on 1', 'words 2: "long lane" on 1 3']
    return found


def repeat(draw: st.DrawFn, nested: bool) -> list[str]:
    times = draw(st.integers(2, 4))
    found = lines(draw, 2, pace=False)
    if nested:
        found = [*repeat(draw, nested=False), *found]
    if draw(st.booleans()):
        wanted = draw(st.sampled_from(ENDINGS[times]))
        for numbers in wanted:
            found.append(
                f"ending {numbers}: {' | '.join(draw(st.lists(st.sampled_from(BARS), min_size=1, max_size=2)))}"
            )
    return [f"repeat {times}", *(f"  {line}" for line in found), "end"]


def section(draw: st.DrawFn, name: str) -> str:
    found = ["pickup 1: C { p }"] if not draw(st.integers(0, 6)) else []
    found += lines(draw, 4, pace=True)
    for _ in range(draw(st.integers(0, 2))):
        found += (
            repeat(draw, nested=not draw(st.integers(0, 5)))
            if draw(st.booleans())
            else lines(draw, 3, pace=True)
        )
    title = draw(st.sampled_from(("", ' "The Round"', ' "Round 2"')))
    return f"section {name} using plain{title}\n" + "".join(f"  {line}\n" for line in found)


@st.composite
def forms(draw: st.DrawFn) -> Form:
    """A lesson of two or three sections, the second half of its form made from the first."""
    names = ["verse", "chorus", "close"][: draw(st.integers(1, 3))]
    sections = [section(draw, name) for name in names]
    entries = draw(st.lists(st.sampled_from(names), min_size=1, max_size=4))
    if draw(st.booleans()):
        entries += entries[draw(st.integers(0, len(entries) - 1)) :]
    if draw(st.booleans()):
        entries.append(names[-1])
    form = []
    for name in entries:
        form.append(f"  {name}{draw(st.sampled_from(('', '', '', ' x2', ' x3')))}\n")
        if not draw(st.integers(0, 3)):
            form.append(f"    but {draw(st.sampled_from(CHANGES))}\n")
    head = HEAD.format(swing=draw(st.sampled_from(("", "\n  swing 2:1"))))
    return Form(head + "\n".join(sections) + "\nform\n" + "".join(form))
