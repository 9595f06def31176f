"""Statements of the notation, valid and spoiled, with the rule of the grammar that reads each."""

from __future__ import annotations

from hypothesis import strategies as st

VALID = {
    "lesson_line": ['lesson "Kiln Lane \\"Shuffle\\""'],
    "setting_line": [
        'by "A. Teacher"', 'based on "low-water.lesson"', "tuning drop D", "capo 2 on 5 4 3",
        "plays in F# m", "meter 2+2+3/8 in 3", "tempo 60 to 3/8", "swing 2:1", "scale 25.5 inches",
        "hand average", "hand 175 mm", "names german",
    ],
    "notation_line": ["notation 1"],
    "use_line": ['use "voicings/open.lesson"'],
    "home_line": ["p plays 6 5 4"],
    "voicing_line": [
        "B7 x21202 fingers .213.4 bass 5 4 6 4 hop 2 to 6@2", "C7(b9,#11) x-10-12-12-11-10",
        "E6 like E add 2@2:4 lift 3 move 2 to 6@3 mute 6 5 up 2 down 1",
    ],
    "pattern_line": [
        'answer "Question" in 6/8 in 2: p , [p -] i | (p i m a)+m , p6-4! a@3h5p3*',
        "plain p , p m , p i , p m",
    ],
    "section_line": ['section verse 8 bars using plain in 3/4 "Verse"'],
    "body_line": [
        '"la | la" E:3 E7:1 x2 | % | A { p+a, (p i), [p -] m } with a@3 on 2& without p on 4',
        "C { p, p m, - i2, p+m! } early on 4& | rest x3 | same | Am using pinched release on 2trip",
        "pickup from 4&: E { p m }", "last 3 beats: E", "ending 1, 2: A | B7", "repeat 2", "end",
        "| E | A stop on 2+1/6 |", "tempo 72", "meter 2/4",
    ],
    "bar": ["E { p, p m, p i, p m }", '"lamps" C/G x2'],
    "form_line": [
        "verse x2", "but last bar: C x2", "but bars 5-6: A | B7", "but without bars 1 to 2",
        "but using filled", "but tempo 72", "but from bar 9: same with a@3 on 3",
    ],
    "step_line": ['step "The thumb alone"'],
    "show_line": [
        "show pattern plain over E at 60", "show change A to B7 from 60 to 96", "show form",
        "show bars 3-4 of verse", "show bar 1.5 of verse", "show voicing B7",
    ],
}  # fmt: skip
_PIECES = [
    "", " ", "  ", "\t", "|", ",", ":", '"', "{", "}", "(", ")", "[", "]", "+", "-", "%", "x2", "x",
    "p", "p+a", "i3@0h2", "m*", "p6-4", "pim", "P", "9", "3/4", "1.5", "2&", "E", "C#m7", "plain",
    "with", "using", "on", "rest", "restful", "same", "endings", "like", "in", "mm", ".231..", "٣",
    "ü", "#", "&", "@", "x21202", "2:1", "to", "bar", "beats",
]  # fmt: skip


@st.composite
def statements(draw: st.DrawFn) -> tuple[str, str]:
    """A rule and a statement for it, left as it is or with up to three pieces cut out or put in."""
    rule = draw(st.sampled_from(sorted(VALID)))
    text = draw(st.sampled_from(VALID[rule]))
    for _ in range(draw(st.integers(0, 3))):
        start = draw(st.integers(0, len(text)))
        end = draw(st.integers(start, min(len(text), start + 4)))
        text = text[:start] + draw(st.sampled_from(_PIECES)) + text[end:]
    return rule, text


@st.composite
def bars_in_braces(draw: st.DrawFn) -> str:
    """A line of bars that write their beats out, most of them rightly."""
    pluck = st.sampled_from(["p", "i", "m2", "a@3", "i3@0h2", "a1@12*", "mx!", "p6-4", "c"])
    item = st.lists(pluck, min_size=1, max_size=2).map("+".join) | st.just("-")
    odd = st.sampled_from(["(p i)", "[p -]", "P", "p++m", "", "p9-", "pim", "+", "--", "é", "i٣"])
    words = st.lists(item | item | item | odd, min_size=1, max_size=4)
    gap = st.sampled_from([" ", "  ", "\t "])
    beats = st.lists(st.builds(str.join, gap, words), min_size=1, max_size=4)
    comma = st.sampled_from([",", ", ", " , "])
    bar = st.builds(lambda sign, written: f"C {{{sign.join(written)}}}", comma, beats)
    return " | ".join(draw(st.lists(bar, min_size=1, max_size=3)))
