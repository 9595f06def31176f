"""Words, comments and headings for generated lessons."""

from __future__ import annotations

from fractions import Fraction

from attrs import frozen
from hypothesis import strategies as st

from fretloom.notation.model.heading import Heading, Setting
from fretloom.notation.model.margin import BARE, Margin
from fretloom.trade.guitar.plucking import usual_plan
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.music.key import parse_key
from fretloom.trade.music.meter import Meter, parse_meter
from fretloom.trade.music.pitch import parse_pitch
from fretloom.trade.music.tempo import Tempo

_METERS = ("4/4", "3/4", "2/4", "2/2", "5/4", "3/8", "6/8", "9/8", "12/8", "2+2+3/8", "3+2/8", "7/8")  # fmt: skip
METERS = (*map(parse_meter, _METERS), parse_meter("6/8", 6))
#: Tunings from the string with the highest number to string 1, with the trade's name if it has one.
TUNINGS = {
    "G3 D4 G4": "", "G4 C4 E4 A4": "", "G4 D3 G3 B3 D4": "", "E2 A2 D3 G3 B3 E4": "standard",
    "D2 A2 D3 G3 B3 E4": "drop D", "D2 A2 D3 G3 A3 D4": "DADGAD", "B1 E2 A2 D3 G3 B3 E4": "",
    "F#1 B1 E2 A2 D3 G3 B3 E4": "", "C1 F1 Bb1 Eb2 Ab2 Db3 Gb3 B3 E4 A4 D5 G5": "",
}  # fmt: skip
TWELVE_STRINGS = Tuning(
    tuple(map(parse_pitch, ["E2", "A2", "D3", "G3", "B3", "E4"])),
    tuple(map(parse_pitch, ["E3", "A3", "D4", "G4", "B3", "E4"])),
)

_WORDS = (
    "thumb",
    "slowly",
    "Lamps",
    "wharf",
    "élan",
    "日本",
    "🎸",
    "a",
    "2",
    "x2",
    "end",
    "E",
    "%",
    "&",
)
_SIGNS = ('"', "\\", "#", "# no", "|", "<b>", "{", "}", "it's", "-", "show")
words = st.lists(st.sampled_from(_WORDS), min_size=1, max_size=4).map(" ".join)
#: Any text that may stand in quotes, not empty.
quoted = st.lists(st.sampled_from(_WORDS + _SIGNS), min_size=1, max_size=4).map(" ".join)
titles = st.just("") | quoted
comments = st.just("#") | words.map("# {}".format)
prose = st.lists(st.sampled_from((*_WORDS, '"', "|", "it's", "-")), min_size=1, max_size=6).map(" ".join)  # fmt: skip


@st.composite
def margins(draw: st.DrawFn, first: bool = False) -> Margin:
    """Comments around a line; the first line of a block has no empty line before it."""
    if draw(st.integers(0, 3)) < 3:
        return BARE
    return Margin(
        above=tuple(draw(st.lists(comments, max_size=2))),
        beside=draw(st.just("") | comments),
        gap=not first and draw(st.booleans()),
    )


def block_margins(first: bool) -> st.SearchStrategy[Margin]:
    """Comments around a line that opens a block; an empty line stands before all but the first."""
    return margins(first=True).map(lambda one: Margin(one.above, one.beside, not first))


tails = st.just(()) | st.lists(comments, min_size=1, max_size=2).map(tuple)


@frozen
class Desk:
    """What a lesson is written for: `safe` strings are never muted, so any finger may pluck them."""

    tuning: Tuning
    meter: Meter
    safe: frozenset[int]

    @property
    def strings(self) -> int:
        return self.tuning.strings

    @property
    def standard(self) -> bool:
        return str(self.tuning) == "E2 A2 D3 G3 B3 E4"

    @property
    def homes(self) -> dict[str, tuple[int, ...]]:
        return dict(usual_plan(self.strings).homes)

    @property
    def thumb(self) -> tuple[int, ...]:
        return tuple(string for string in self.homes["p"] if string in self.safe)


@st.composite
def tunings(draw: st.DrawFn) -> Tuning:
    """A tuning of 3 to 12 strings: plain, re-entrant, or with double strings."""
    text = draw(st.sampled_from([*TUNINGS, *["E2 A2 D3 G3 B3 E4"] * 4, "twelve"]))
    if text == "twelve":
        return TWELVE_STRINGS
    name = TUNINGS[text] if draw(st.booleans()) else ""
    return Tuning(tuple(map(parse_pitch, text.split())), name=name)


@st.composite
def desks(draw: st.DrawFn) -> Desk:
    """An instrument and a meter."""
    tuning = draw(tunings())
    low = range(min(4, tuning.strings) + 1, tuning.strings + 1)
    muted = draw(st.just(set(low)) | st.sets(st.sampled_from(low))) if low else set()
    safe = frozenset(range(1, tuning.strings + 1)) - muted
    return Desk(tuning, draw(st.sampled_from(METERS)), safe)


tempos = st.builds(
    Tempo,
    st.integers(40, 180).map(Fraction) | st.just(Fraction(185, 2)),
    st.sampled_from([Fraction(1), Fraction(3, 2), Fraction(1, 2)]),
)
_OPTIONS = {
    "by": quoted,
    "rights": quoted,
    "tempo": tempos,
    "swing": st.sampled_from([(2, 1), (3, 2)]),
    "instrument": st.sampled_from(["classical", "12-string"]),
    "scale": st.sampled_from([Fraction(650), Fraction(1295, 2)]),
    "hand": st.sampled_from(["small", "average", "large", Fraction(185)]),
    "level": st.sampled_from(["beginner", "intermediate", "advanced"]),
    "plays": st.sampled_from(["E", "F#m", "Bb", "D dorian"]).map(parse_key),
    "names": st.just("english"),
}


@st.composite
def capos(draw: st.DrawFn, strings: int) -> Capo:
    """A capo over all strings or over some."""
    some = draw(st.just([]) | st.lists(st.integers(1, strings), unique=True, max_size=strings))
    return Capo(draw(st.integers(1, 7)), tuple(sorted(some, reverse=True)))


@st.composite
def headings(draw: st.DrawFn, desk: Desk, first: bool) -> Heading:
    """The `lesson` block for an instrument and a meter, its keys agreeing with the capo."""
    chosen = draw(st.lists(st.sampled_from(list(_OPTIONS)), unique=True))
    values = {name: draw(_OPTIONS[name]) for name in chosen}
    if desk.tuning.name != "standard" or draw(st.booleans()):
        values["tuning"] = desk.tuning
    if str(desk.meter) != "4/4" or draw(st.booleans()):
        values["meter"] = desk.meter
    if draw(st.booleans()):
        keyed = "plays" in values and desk.standard and draw(st.integers(0, 3)) > 0
        values["capo"] = capo = (
            Capo(draw(st.integers(1, 7))) if keyed else draw(capos(desk.strings))
        )
        if keyed:
            values["sounds"] = values["plays"].transposed(capo.fret)
    lines = [
        Setting(name=name, value=value, margin=draw(margins(first=not place)))
        for place, (name, value) in enumerate(values.items())
    ]
    return Heading(
        title=draw(titles),
        settings=tuple(lines),
        tail=draw(tails),
        margin=draw(block_margins(first)),
    )
