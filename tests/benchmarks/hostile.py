"""Lessons made to take time or memory: every construct of the notation repeated, nested and combined.

Each generator takes a number of characters and returns a text of about that size. `LINES` are the
single lines that `bounds.py` fills with each of `UNITS`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import count, product

from fretloom.limits import LIMITS

HEAD = 'lesson "T"\n  plays in C\n  meter 4/4\n  tempo 80\n'
VOICINGS = """voicings
  C   x32010  fingers .32.1.  bass 5 4 5 4
  Am  x02210  fingers ..231.  bass 5 4 5 4
  F   xx3211  fingers ..3211  bass 4 3 4 3
  G   320003  fingers 32...4  bass 6 4 5 4
"""
OPEN = """voicings
  C   x32010  bass 5 4 5 4
  Am  x02210  bass 5 4 5 4
  F   xx3211  bass 4 3 4 3
  G   320003  bass 6 4 5 4
"""
PATTERNS = "patterns\n  plain  p , p m , p i , p m\n  t  p , p , p , p\n"
START = HEAD + VOICINGS + PATTERNS

Maker = Callable[[int], str]
MAKERS: dict[str, Maker] = {}


def maker(make: Maker) -> Maker:
    """Enter a generator under its name."""
    MAKERS[make.__name__.replace("_", " ")] = make
    return make


def many(piece: Callable[[int], str], size: int) -> str:
    """Return numbered pieces, one after the other, of about so many characters."""
    made: list[str] = []
    length = 0
    for number in count():
        made.append(piece(number))
        length += len(made[-1])
        if length >= size:
            return "".join(made)
    raise AssertionError


def repeated(name: str, start: str, piece: str | Callable[[int], str], end: str = "") -> None:
    """Enter a generator that repeats one piece between a start and an end."""

    def make(size: int) -> str:
        room = max(size - len(start) - len(end), 1)
        one = piece if callable(piece) else None
        middle = many(one, room) if one else str(piece) * (room // len(str(piece)) + 1)
        return start + middle + end

    MAKERS[name] = make


_SECTION = START + "section s using plain\n"
#: Where one line is filled with many of one sign or word.
LINES: dict[str, str] = {
    "nothing": "",
    "title": "lesson ",
    "title text": 'lesson "',
    "setting": 'lesson "T"\n  ',
    "by": 'lesson "T"\n  by "',
    "tuning": 'lesson "T"\n  tuning ',
    "capo": 'lesson "T"\n  capo 2 on ',
    "meter": 'lesson "T"\n  meter ',
    "plays": 'lesson "T"\n  plays in ',
    "use": 'use "',
    "picking": "picking\n  p plays ",
    "voicing": "voicings\n  E ",
    "voicing name": "voicings\n  E",
    "frets": "voicings\n  E 022100 ",
    "bass": "voicings\n  E 022100 bass ",
    "like": "voicings\n  E 022100\n  F like E ",
    "pattern": "patterns\n  t ",
    "pattern beats": "patterns\n  t p , ",
    "pattern name": "patterns\n  t",
    "group": "patterns\n  t [",
    "roll": "patterns\n  t (",
    "section": START + "section s ",
    "bar": _SECTION + "  ",
    "bar of E": _SECTION + "  C ",
    "written bar": _SECTION + "  C { ",
    "ending": _SECTION + "  repeat 2\n  ending 1 ",
    "form": _SECTION + "  C\nform\n  s ",
    "but": _SECTION + "  C\nform\n  s\n    but bar 1: ",
    "step": 'step "',
    "show": 'step "T"\n  show ',
    "comment": 'lesson "T"\n  # ',
    "waiver": 'lesson "T"\n  by "x" # allow ',
}
UNITS = (
    *'"\\()[]{}|,-+@#:/%&.<',
    *("a", "q", "9", "x", "p", "E", " ", "\t", "é", "\u00a0", "\u200b", "\x1b", "“", "\r", "\v"),
    *(
        '\\"',
        "\\\\",
        "p ",
        "p+",
        "E ",
        "E(",
        "(a",
        ")a",
        ")(",
        "E()",
        " # ",
        "# ",
        " #",
        "|:",
        ":|",
        "| ",
        "|",
        " | ",
    ),
    *(
        "[p ",
        "] ",
        "(p",
        "(p) ",
        "p,",
        "x2 ",
        "1/",
        "1-",
        "9 ",
        "9-",
        "h9",
        "p@9h9",
        "as ",
        "using t ",
        "with a on 1 ",
    ),
    *(
        "without p on 1 ",
        "early on 1 ",
        "stop on 1 ",
        "rest ",
        "% ",
        "same ",
        '"a" ',
        '"',
        "but ",
        "in 3/4 ",
        "E:1 ",
    ),
    *(
        "b5",
        "(b5)",
        "sus4",
        "/G",
        "#",
        "b",
        "add9",
        "maj7",
        "2+",
        "ﷺ",
        "C\u0301",
        "e\u0301",
        "fingers 1 ",
        "bass 6 ",
        "lift 1 ",
    ),
    *(
        "mute 1 ",
        "up 1 ",
        "hop 1 to 1@1 ",
        "add 1@1 ",
        "move 1 to 1@1 ",
        "x" * 9 + " ",
        "-1",
        "1&",
        "p-",
        "p6-1 ",
        "plain ",
    ),
)
ENDS = ("", " (", '"', " # c", " !", "\n  x", " }", " ] )")


def swept(size: int) -> Iterator[tuple[str, str]]:
    """Yield a name and a text for each line, unit and end."""
    for (name, start), unit, end in product(LINES.items(), dict.fromkeys(UNITS), ENDS):
        yield f"{name} + {unit!r} * n + {end!r}", start + unit * (size // len(unit)) + end


# ---- lines, one after the other -------------------------------------------------------------------
_VOICING_LINES = {
    "voicings": "  v{0} 022100\n",
    "voicings with fingers": "  v{0} 022100 fingers .231..\n",
    "voicings at frets": "  v{0} {1}{2}{3}{4}{1}{3}\n",
    "like one": "  v{0} like C lift 1\n",
    "like the one before": "  v{0} like v{5} up 1\n",
    "one name": "  E 022100\n",
    "chord names": "  {6} x32010\n",
    "long chord names": "  C7(b9,#11,b13).{0} x32010\n",
    "many changes": "  v{0} like C " + "add 1@3 " * 20 + "\n",
    "many hops": "  v{0} x32010 " + "hop 3 to 6@3 " * 20 + "\n",
    "unknown like": "  v{0} like w{0}\n",
    "unread": "  v{0} zzz\n",
    "odd names": "  Cmaj7sus4add9no5.{0} x32010\n",
}
_ROOTS = [
    root + kind + bass
    for bass in ("", "/E", "/G", "/B", "/Bb", "/F#")
    for kind in (
        "",
        "m",
        "7",
        "m7",
        "maj7",
        "dim",
        "sus4",
        "6",
        "9",
        "add9",
        "m7b5",
        "7b9",
        "13",
        "aug",
    )
    for root in ("C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")
]


def _numbered(line: str) -> Callable[[int], str]:
    def piece(number: int) -> str:
        frets = [number // 5**place % 5 for place in range(4)]
        chord = _ROOTS[number % len(_ROOTS)]
        before = f"{number - 1}" if number else "0 x32010\n  w"
        return line.format(number, *frets, before, chord)

    return piece


for _name, _line in _VOICING_LINES.items():
    repeated(f"voicings: {_name}", HEAD + VOICINGS, _numbered(_line))

_TAIL = "section s using plain\n  C | Am | F | G\n"
for _name, _line in {
    "settings": '  by "x"\n',
    "capos": "  capo 3\n",
    "tunings": "  tuning E2 A2 D3 G3 B3 E4\n",
    "names": "  names german\n",
    "unknown": "  zzz {0}\n",
    "used": '  use "v{0}.lesson"\n',
}.items():
    repeated(f"heading: {_name}", 'lesson "T"\n', _numbered(_line))
for _name, _line in {
    "use": 'use "v{0}.lesson"\n',
    "picking": "picking\n  p plays 6 5 4\n",
    "lesson": 'lesson "T{0}"\n',
    "form": "form\n  s\n",
    "step": 'step "T{0}"\n  prose\n',
    "sections": "section s{0} using plain\n  C\n",
    "sections of thousands": "section s{0} using plain\n  C x5000\n",
    "sections of a name": "section s using plain\n  C\n",
    "empty sections": "section s{0}\n",
    "headings": "voicings\npatterns\n",
    "strangers": "zzz{0}\n",
    "misspelt": "voicing\n",
    "comments": "# c\n",
    "indented comments": "  # c\n",
    "blank": "\n",
    "blank and spaces": " \n",
    "CR": "\r",
}.items():
    repeated(f"blocks: {_name}", START + _TAIL, _numbered(_line))
for _name, _line in {
    "patterns": "  q{0} p , p , p , p\n",
    "of a name": "  q p , p , p , p\n",
    "many bars": "    | p , p , p , p\n",
    "many bars, comments between": "    # c\n    | p , p , p , p\n",
    "full beats": "  q{0} " + " , ".join(["p i m a " * 12] * 4) + "\n",
    "wrong beats": "  q{0} p , p\n",
    "odd": "  q{0} z , z , z , z\n",
    "chords": "  q{0} p+i+m+a , p+i+m+a , (p i m a) , p6-1\n",
    "groups": "  q{0} " + "[" * 15 + "p i" + "]" * 15 + " , p , p , p\n",
    "waivers": "  q{0} p , p , p , p  # allow unused-pattern: x\n",
    "unknown waivers": "  q{0} p , p , p , p  # allow unusd-patern: x\n",
}.items():
    repeated(f"patterns: {_name}", START, _numbered(_line))
_BODY = {
    "one": "  C\n",
    "one bar line": "  C | C | C | C | C | C | C | C | C | C | C | C | C | C | C | C\n",
    "changing": "  C | Am | F | G\n",
    "four in a bar": "  C Am F G\n",
    "shares": "  C:1/7 Am:6/7 F:1 G:2\n",
    "unknown": "  X{0}\n",
    "one unknown": "  X\n",
    "unknown patterns": "  C using t{0}\n",
    "bars for a thousand": "  C x1000\n",
    "same": "  %\n",
    "rests": "  rest\n",
    "repeat": "  repeat 1\n",
    "repeats": "  repeat 2\n  C\n  end\n",
    "repeats of thousands": "  repeat 9999\n  C\n  end\n",
    "ends": "  end\n",
    "endings": "  ending {0}: C\n",
    "meters": "  meter 3/4\n  C using t\n  meter 4/4\n  C\n",
    "all meters": "  meter {7}/16\n  rest\n",
    "tempos": "  tempo {7}\n  C\n",
    "pickups": "  pickup 1: C {{ p }}\n",
    "written": "  C {{ p , p i , p m , p+a }}\n",
    "written new": "  C {{ {8} }}\n",
    "literal frets": "  C {{ p5@{1} , i2@{2} , m1@{3}h{4} , p6@{1} }}\n",
    "full": "  C {{ " + " , ".join(["p i m a " * 12] * 4) + " }}\n",
    "brushes": "  C {{ " + " , ".join(["p6-1 i1-6 " * 8] * 4) + " }}\n",
    "slurs": "  C {{ " + " , ".join(["m1" + "h1p0" * 12] * 4) + " }}\n",
    "odd divisions": "  C {{ "
    + " , ".join("p i m a c p i m a c p i m "[: 2 * n] for n in (5, 7, 11, 13))
    + " }}\n",
    "patches": "  C " + "with a@3 on 1+1/{0} " * 30 + "\n",
    "patched": "  C with a@3 on 3 without p on 1 early on 4& release on 4 stop on 4&\n",
    "cues": '  "lamp {0}" C\n',
    "waivers": "  C  # allow thumb-off-bass: x\n",
    "crossed": "  C {{ p1 , i6 , m5 , a4 }}\n",
    "faulty": "  C zzz( | Am\n",
    "faulty bars": "  C using | C using | C using\n",
    "settings": "  capo 3\n",
    "ringing": "  C {{ p , - , - , - }}\n",
    "nothing at all": "  C {{ - , - , - , - }}\n",
    "techniques": "  C {{ m2@1.for-2.vibrato , a1@3.bend-half-release , p.damped , m2@1h3.grace }}\n",
    "trills": "  C {{ m2@1.trill-3 , a1@0.trill-2 , p.ghost , m2@1.harmonic-13 }}\n",
    "held": "  C {{ m2@1.for-4 , a1@0.for-3 , p.for-2 , i3@0.for-1 }}\n",
    "held too long": "  C {{ m2@1.for-{0} , m , m , m }}\n",
    "small notes": "  C {{ m2@1h3p1h3p1h3p1h3.grace , p , p , p }}\n",
    "slaps": "  C {{ slap , slap+p , body-slap , (slow p i m) }}\n",
    "techniques in one pluck": "  C {{ p" + ".ghost" * 60 + " , p , p , p }}\n",
    "fermatas": "  C fermata on 4\n",
    "words": '  C | C\n  words: "a" on 1 | "b-c" on 2 3&\n',
    "verses": '  words {0}: "la" | "lo"\n',
    "syllables": '  C\n  words: "' + "a-" * 30 + 'a" on ' + "1 " * 31 + "\n",
    "loudness": "  dynamic p\n  crescendo to f over 1 bar\n  C\n",
    "slowing": "  ritardando to 60 over 2 bars\n  C\n",
    "slowing over thousands": "  ritardando to 60 over 5000 bars\n",
    "free and in time": "  free time\n  C\n  a tempo\n  C\n",
    "patterns by line": "  using t\n  C\n  using plain\n  C\n",
}
_BEATS = ("p", "p m", "p i", "p+m", "- a", "p a", "p+a", "p -", "- i", "p i m")


def _bar_piece(line: str) -> Callable[[int], str]:
    def piece(number: int) -> str:
        frets = [number // 5**place % 5 for place in range(4)]
        beats = " , ".join(_BEATS[number // 10**place % 10] for place in range(4))
        return line.format(number + 2, *frets, "", "", 20 + number % 79, beats)

    return piece


#: Lines of a section, so that it stays within its bars.
_LINES_A_SECTION = 4_000


def _in_sections(piece: Callable[[int], str]) -> Callable[[int], str]:
    def whole(number: int) -> str:
        section = f"section s{number // _LINES_A_SECTION} using plain\n"
        return piece(number) if number % _LINES_A_SECTION else section + piece(number)

    return whole


for _name, _line in _BODY.items():
    repeated(f"bars: {_name}", START, _in_sections(_bar_piece(_line)))
    repeated(
        f"bars, fingers open: {_name}", HEAD + OPEN + PATTERNS, _in_sections(_bar_piece(_line))
    )
for _name, _line in {
    "entries": "  s\n",
    "entries many times": "  s x9\n",
    "unknown": "  z{0}\n",
    "but": "    but bar 1: Am\n",
    "but bars put in": "    but bar 1: C x5000\n",
    "entry and but": "  s\n    but bar 1: Am\n",
    "entry, bars put in": "  s\n    but bar 1: C x5000\n",
    "entry and using": "  s\n    but using t\n",
    "entry and tempo": "  s\n    but tempo {7}\n",
    "buts of other bars": "    but bar {0}: Am\n",
    "faulty": "    but zzz\n",
    "without": "  s\n    but without bar 1\n",
    "only": "  s\n    but only bar {0}\n",
    "tempos of bars": "    but bar {0} tempo {7}\n",
    "one bar again": "    but bar 1 dynamic p\n",
    "slowing": "    but ritardando to {7} over bar {0}\n",
    "last bars": "  s\n    but last 2 bars dynamic p\n",
    "without repeats": "  s\n    but without repeats\n",
    "words": "  s\n    but words {0}\n",
}.items():
    repeated(f"form: {_name}", START + _TAIL + "form\n  s\n", _bar_piece(_line))
    repeated(
        f"form of 500 bars: {_name}",
        START + "section s using plain\n  C x500\nform\n  s\n",
        _bar_piece(_line),
    )
for _name, _line in {
    "prose": "  Lamps are lit.\n",
    "voicing": "  show voicing C\n",
    "unknown": "  show voicing X{0}\n",
    "unknown section": "  show section X{0}\n",
    "change": "  show change C to Am at 60\n",
    "bars": "  show bars 1-{0} of s\n",
    "form": "  show form at 84\n",
    "faulty": "  show zzz\n",
}.items():
    repeated(f"steps: {_name}", START + _TAIL + 'step "One"\n', _bar_piece(_line))


@maker
def voicings_all_over_the_neck(size: int) -> str:
    """Frets of every kind, so that hardly two voicings sound alike."""
    signs = "x0123456789"
    lines = many(
        lambda at: (
            f"  v{at} {''.join(signs[(at * (7 + k) + at // 11**k) % 11] for k in range(6))}\n"
        ),
        min(max(size - 200, 1), 60_000),
    )
    return f"{HEAD}voicings\n{lines}{PATTERNS}section s using plain\n  v1\n"


# ---- combinations ---------------------------------------------------------------------------------
def shapes(number: int) -> list[str]:
    """Return frets of so many different voicings that can be fingered."""
    found = [
        f"{a}{b}{c}{d}{e}{f}"
        for a, b, c, d, e, f in product("x03", "x23", "024", "013", "x12", "0x3")
    ]
    return found[:number] if number <= len(found) else found


def _song(
    voicings: int, order: Callable[[int], int], size: int, beats: str = "p , i , m , a"
) -> str:
    """Return a song over voicings without fingers, in an order that is given by the bar's number."""
    named = shapes(voicings)
    lines = "".join(f"  v{at} {frets}\n" for at, frets in enumerate(named))
    head = f"{HEAD}voicings\n{lines}patterns\n  plain  {beats}\n"
    return head + many(
        _in_sections(lambda at: f"  v{order(at) % len(named)}\n"), max(size - len(head), 1)
    )


@maker
def all_changes_of_23_voicings(size: int) -> str:
    """Every voicing is changed to every other one."""
    return _song(23, lambda at: at * (1 + at // 23 % 22), size)


@maker
def all_changes_of_60_voicings(size: int) -> str:
    """Every voicing is changed to every other one."""
    return _song(60, lambda at: at * (1 + at // 60 % 59), size)


@maker
def a_grid_of_400_voicings(size: int) -> str:
    """Changes to the neighbours in a square."""
    return _song(400, lambda at: at * (1, 20, 21)[at % 3], size)


@maker
def four_new_voicings_a_bar(size: int) -> str:
    """Hundreds of voicings without fingers, four in every bar."""
    named = shapes(400)
    lines = "".join(f"  v{at} {frets}\n" for at, frets in enumerate(named))
    head = f"{HEAD}voicings\n{lines}patterns\n  plain  p , p , p , p\nsection s using plain\n"
    four = [
        f"  {' '.join(f'v{(at * 4 + k * 7) % len(named)}' for k in range(4))}\n"
        for at in range(100)
    ]
    return head + many(lambda at: four[at % 100], max(size - len(head), 1))


@maker
def names_like_known_ones(size: int) -> str:
    """200 known voicings, and as many unknown ones as fit that are like all of them."""
    return _names_beginning("Cmaj7sus4add9no5.", max(size - 8000, 1))


@maker
def long_names_like_known_ones(size: int) -> str:
    """Long names of one letter, which take the longest to compare."""
    return _names_beginning("a" * 100, max(size - 22000, 1))


def _names_beginning(start: str, size: int) -> str:
    known = "".join(f"  {start}{at:04} x32010\n" for at in range(200))
    bars = many(lambda at: f"  {start}{at + 5000}\n", size)
    return f"{HEAD}voicings\n{known}{PATTERNS}section s using plain\n{bars}"


@maker
def long_bars(size: int) -> str:
    """A meter of 64 beats with eight plucks on each."""
    beats = " , ".join(["p i m a p i m a"] * 64)
    bars = "  C | Am | F | G\n" * max(1, (size - 2000) // 17)
    return (
        START.replace("4/4", "64/1").replace(PATTERNS, f"patterns\n  plain {beats}\n")
        + f"section s using plain\n{bars}"
    )


@maker
def bars_of_different_beats(size: int) -> str:
    """A meter of 16 beats, each divided in another way."""
    division = " ".join(["p", "i", "m", "a"] * 12)
    beats = " , ".join(division[: 2 * n - 1] for n in range(1, 17))
    return START.replace("4/4", "16/4").replace(PATTERNS, f"patterns\n  plain {beats}\n") + (
        "section s using plain\n" + "  C | Am\n" * max(1, (size - 2000) // 9)
    )


@maker
def repeats_of_many_bars(size: int) -> str:
    """`repeat 9` of bars played fifty times each, changing."""
    return (
        START
        + "section s using plain\n  repeat 9\n"
        + many(lambda at: f"  {('C', 'Am', 'F', 'G')[at % 4]} x50\n", min(size, 300))
        + "  end\n"
    )


@maker
def as_many_bars_as_can_be(size: int) -> str:
    """A few characters that play as many bars as can be, a note in each."""
    start = START.replace("plain  p , p m , p i , p m", "plain  p , - , - , -")
    times = LIMITS.bars_written // 4
    bars = " | ".join(f"{name} x{times}" for name in ("C", "Am", "F", "G"))
    passes = LIMITS.bars_played // LIMITS.bars_written
    return start + f"section s using plain\n  {bars}\nform\n  s x{passes}\n"


@maker
def as_many_changes_as_can_be(size: int) -> str:
    """A few characters that change the voicing with each note."""
    start = START.replace("plain  p , p m , p i , p m", "plain  p , - , - , -")
    passes = LIMITS.bars_played // 4
    return start + f"section s using plain\n  C | Am | F | G\nform\n  s x{passes}\n"


@maker
def as_many_notes_as_can_be(size: int) -> str:
    """A pattern with many notes, played as often as the notes allow."""
    beats = " , ".join(["p i m a p i m a"] * 4)
    passes = LIMITS.notes // 128
    return START.replace(PATTERNS, f"patterns\n  plain {beats}\n") + (
        f"section s using plain\n  C | Am | F | G\nform\n  s x{passes}\n"
    )


@maker
def nested_repeats(size: int) -> str:
    """Repeats inside one another."""
    return (
        START
        + "section s using plain\n"
        + "  repeat 1\n" * (size // 18)
        + "  C\n"
        + "  end\n" * (size // 18)
    )


@maker
def nested_repeats_of_two(size: int) -> str:
    """Repeats inside one another, each played twice."""
    return (
        START
        + "section s using plain\n"
        + "  repeat 2\n  C\n" * (size // 20)
        + "  end\n" * (size // 20)
    )


@maker
def endings_of_many_passes(size: int) -> str:
    """A repeat with an ending for each of its passes."""
    return (
        START
        + "section s using plain\n  repeat 9999\n  C\n"
        + many(lambda at: f"  ending {at + 1}: Am\n", max(size - 500, 1))
        + "  end\n"
    )


@maker
def one_ending_for_many_passes(size: int) -> str:
    """One ending with thousands of numbers."""
    numbers = many(lambda at: f"{at + 1} ", min(size, 19_000))
    return START + f"section s using plain\n  repeat 9999\n  C\n  ending {numbers}: Am\n  end\n"


@maker
def many_strings(size: int) -> str:
    """Twelve strings, all plucked."""
    return (
        'lesson "T"\n  meter 4/4\n  tuning E2 A2 D3 G3 B3 E4 E2 A2 D3 G3 B3 E4\nvoicings\n'
        + many(
            lambda at: f"  v{at} {''.join(str((at // 3**k + k) % 4) for k in range(12))}\n",
            max(size - 500, 1),
        )
        + "patterns\n  plain p12-1 , p12-1 , p12-1 , p12-1\nsection s using plain\n  v1 | v2 | v3\n"
    )


@maker
def a_chain_of_likes_that_is_used(size: int) -> str:
    """Each voicing is like the one before, and the last is played."""
    lines = many(lambda at: f"  v{at + 1} like v{at} mute 6\n", max(size - 600, 1))
    return (
        START.replace("patterns", f"  v0 022100\n{lines}patterns", 1)
        + f"section s using plain\n  v{lines.count(chr(10))}\n"
    )


@maker
def waivers_of_many_findings(size: int) -> str:
    """Every bar has a finding and a waiver for it."""
    return (
        START.replace("p , p m", "p1 , p m")
        + "section s using plain\n"
        + ("  C | Am  # allow thumb-off-bass: so\n" * max(1, (size - 500) // 37))
    )


def sections(count: int) -> str:
    """Sections of one bar each, all different."""
    return "".join(
        f"section s{at} using plain\n  {'C' if at % 2 else 'Am'}\n" for at in range(count)
    )


@maker
def a_form_without_order(size: int) -> str:
    """Thirty sections, played in an order that never comes again."""
    at, lines = 1, list[str]()
    for _ in range(max(size - 2000, 6) // 6):
        at = at * 1103515245 % 2147483647
        lines.append(f"  s{at % 30}\n")
    return START + sections(30) + "form\n" + "".join(lines)


@maker
def a_form_that_nearly_comes_again(size: int) -> str:
    """Eight playings again and again, with another one in place of the last each time."""
    rows = many(
        lambda at: "  s1\n  s2\n  s3\n  s4\n  s5\n  s6\n  s7\n" + f"  s{8 + at % 22}\n",
        max(size - 2000, 41),
    )
    return START + sections(30) + "form\n" + rows


@maker
def a_form_with_a_change_in_each_playing(size: int) -> str:
    """One section, each time with another bar."""
    rows = many(
        lambda at: f"  s{at % 2}\n    but bar 1: {'C' if at // 2 % 2 else 'Am'}\n",
        max(size - 600, 30),
    )
    return START + sections(2) + "form\n" + rows


@maker
def a_form_that_goes_back_late(size: int) -> str:
    """A long way, the same way again up to its last playing, and then another end."""
    way = many(lambda at: f"  s{at * at % 29}\n", max(size - 2000, 12) // 2)
    return START + sections(30) + "form\n" + way + way + "  s29\n"


@maker
def a_form_of_one_section_again_and_again(size: int) -> str:
    """The same playing thousands of times."""
    return START + sections(1) + "form\n" + "  s0\n" * (max(size - 600, 5) // 5)
