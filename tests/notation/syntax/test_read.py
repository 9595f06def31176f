"""Reading: every construct of the notation ends up in the model."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fretloom.notation.model.form import LAST, ChangeBars, ChangePattern, ChangeTempo, DropBars
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.pattern import Brush, Group, Hold, Pluck, Roll, Slur, Stroke
from fretloom.notation.model.section import (
    BarLine,
    EndingStart,
    MeterChange,
    RepeatEnd,
    RepeatStart,
    ShortBar,
    TempoChange,
    With,
    Without,
)
from fretloom.notation.model.step import Prose, Show
from fretloom.notation.model.voicing import Add, Lift, Move, Mute, Shift
from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.source import Source
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.guitar.voicing import Hop
from fretloom.trade.music.key import parse_key
from fretloom.trade.music.meter import Count, parse_meter
from fretloom.trade.music.tempo import Tempo


def lesson(text: str) -> Lesson:
    """Read a text that has no fault."""
    found = read(Source("t.lesson", text))
    assert found.faults == ()
    return found


def setting(text: str) -> object:
    """Read the value of one line of the heading."""
    heading = lesson(f'lesson "T"\n  {text}\n').heading
    assert heading is not None
    return heading.settings[0].value


def voicing(text: str):
    """Read one voicing."""
    return lesson(f"voicings\n  {text}\n").voicings[0]


def strokes(text: str):
    """Read the items of a one-beat pattern."""
    return lesson(f"patterns\n  one {text}\n").patterns[0].bars[0].beats[0].items


def section(*lines: str):
    """Read the lines of a section."""
    return (
        lesson("section s using p\n" + "".join(f"  {line}\n" for line in lines)).sections[0].lines
    )


def bar(text: str):
    """Read one bar."""
    return section(text)[0].bars[0]


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ('by "A \\"B\\" \\\\ C"', 'A "B" \\ C'),
        ("capo 3", Capo(3)),
        ("capo 2 on 5 4 3", Capo(2, (5, 4, 3))),
        ("plays in F#m", parse_key("F#m")),
        ("sounds in D dorian", parse_key("D dorian")),
        ("meter 2+2+3/8", parse_meter("2+2+3/8")),
        ("meter 6/8 in 6", parse_meter("6/8", 6)),
        ("tempo 96", Tempo(Fraction(96))),
        ("tempo 60 to 3/8", Tempo(Fraction(60), Fraction(3, 2))),
        ("tempo 92.5", Tempo(Fraction(185, 2))),
        ("swing 2:1", (2, 1)),
        ("scale 650 mm", Fraction(650)),
        ("scale 25.5 inches", Fraction(6477, 10)),
        ("hand small", "small"),
        ("hand 175 mm", Fraction(175)),
        ("level advanced", "advanced"),
        ("names german", "german"),
        ('based on "low-water.lesson"', "low-water.lesson"),
    ],
)
def test_a_line_of_the_heading_has_its_value(text: str, value: object) -> None:
    """Every field of the heading is read exactly."""
    assert setting(text) == value


def test_a_tuning_is_read_string_by_string() -> None:
    """The first note is the string with the highest number."""
    tuning = setting("tuning E2 A2 D3 G3 B3 E4")
    assert [pitch.midi for pitch in tuning.pitches] == [40, 45, 50, 55, 59, 64]


def test_a_voicing_has_frets_fingers_bass_and_hop() -> None:
    """All that can be said of a voicing in one line."""
    entry = voicing("B7 x21202 fingers .213.4 bass 5 4 6 4 hop 2 to 6@2")
    assert entry.frets == (None, 2, 1, 2, 0, 2)
    assert entry.fingers == (None, "2", "1", "3", None, "4")
    assert entry.bass == (5, 4, 6, 4)
    assert entry.hops == (Hop("2", 6, 2),)


def test_frets_past_nine_stand_between_hyphens() -> None:
    """The trade's way to write high frets."""
    assert voicing("C x-10-12-12-11-10").frets == (None, 10, 12, 12, 11, 10)


def test_a_derived_voicing_keeps_its_changes_in_order() -> None:
    """Like another, with what is different."""
    entry = voicing("E6 like E lift 3 add 2@2:4 add 1@2 move 1 to 3@2 mute 6 5 up 2 down 1")
    assert entry.like == "E"
    assert entry.changes == (
        Lift(finger="3"),
        Add(string=2, fret=2, finger="4"),
        Add(string=1, fret=2),
        Move(finger="1", string=3, fret=2),
        Mute(string=6),
        Mute(string=5),
        Shift(frets=2),
        Shift(frets=-1),
    )


@pytest.mark.parametrize("name", ["F#m7b5", "C/G", "G.full", "walkdown", "C7(b9,#11)", "E.low-2"])
def test_voicings_are_named_as_the_trade_does(name: str) -> None:
    """Chord symbols with sharps, slashes, tags and brackets, and plain names."""
    assert voicing(f"{name} 022100").name == name
    assert bar(name).parts[0].voicing == name


@pytest.mark.parametrize(
    ("text", "pluck"),
    [
        ("p", Pluck(finger="p")),
        ("i2", Pluck(finger="i", string=2)),
        ("p10", Pluck(finger="p", string=10)),
        ("a@3", Pluck(finger="a", fret=3)),
        ("i3@0h2", Pluck(finger="i", string=3, fret=0, slurs=(Slur("hammer-on", 2),))),
        (
            "m2@3p1h3s5",
            Pluck(
                finger="m",
                string=2,
                fret=3,
                slurs=(Slur("pull-off", 1), Slur("hammer-on", 3), Slur("slide", 5)),
            ),
        ),
        ("m1h3", Pluck(finger="m", string=1, slurs=(Slur("hammer-on", 3),))),
        ("a1@12*", Pluck(finger="a", string=1, fret=12, harmonic=True)),
        ("p!", Pluck(finger="p", accent=True)),
        ("cx", Pluck(finger="c", dead=True)),
        ("p6-4", Brush(finger="p", first=6, last=4)),
        ("i1-3!", Brush(finger="i", first=1, last=3, accent=True)),
    ],
)
def test_a_pluck_is_read_sign_by_sign(text: str, pluck: object) -> None:
    """Finger, string, fret, slurs, marks."""
    assert strokes(text) == (Stroke(parts=(pluck,)),)


def test_items_of_a_beat_are_pinches_rolls_rests_and_groups() -> None:
    """What can share a beat."""
    p, i, m, a = (Pluck(finger=finger) for finger in "pima")
    assert strokes("p+a - (p i m a) [p i] m") == (
        Stroke(parts=(p, a)),
        Hold(),
        Stroke(parts=(Roll(parts=(p, i, m, a)),)),
        Group(items=(Stroke(parts=(p,)), Stroke(parts=(i,)))),
        Stroke(parts=(m,)),
    )


def test_a_pattern_may_go_on_over_lines_that_begin_with_a_bar_line() -> None:
    """Long patterns are written one bar a line."""
    pattern = lesson(
        'patterns\n  long "Long" in 3/4:\n    | p , i , m\n    | p , m , i # up\n'
    ).patterns[0]
    assert len(pattern.bars) == 2
    assert (pattern.title, str(pattern.meter)) == ("Long", "3/4")
    assert pattern.margin.beside == "# up"


def test_a_section_line_has_its_options_in_any_order() -> None:
    """Length, pattern, meter and title."""
    found = lesson('section verse "Verse" using plain 8 bars in 3/4\n').sections[0]
    assert (found.name, found.title, found.using, found.stated_bars) == (
        "verse",
        "Verse",
        "plain",
        8,
    )
    assert found.meter == parse_meter("3/4")


def test_a_bar_has_shares_times_cue_and_patches() -> None:
    """All that can be said in one bar."""
    found = bar(
        '"Lamps" E:3 E7:1/2 x2 with a@3 on 3 without p on 2& early on 4& release on 4 stop on 1e'
    )
    assert found.cue == "Lamps"
    assert [(part.voicing, part.beats) for part in found.parts] == [
        ("E", 3),
        ("E7", Fraction(1, 2)),
    ]
    assert found.times == 2
    assert found.patches == (
        With(pluck=Pluck(finger="a", fret=3), count=Count(3)),
        Without(finger="p", count=Count(2, Fraction(1, 2))),
    )
    assert (found.early, found.release, found.stop) == (
        Count(4, Fraction(1, 2)),
        Count(4),
        Count(1, Fraction(1, 4)),
    )


def test_bars_may_be_the_same_rest_or_have_a_pattern_of_their_own() -> None:
    """Signs for whole bars."""
    (line,) = section("E using pinched | % | rest | E { p+a, - }")
    assert [one.kind for one in line.bars] == ["voicings", "same", "rest", "voicings"]
    assert line.bars[0].using == "pinched"
    assert len(line.bars[3].beats.beats) == 2


def test_bar_lines_at_both_ends_of_a_line_are_let_pass() -> None:
    """Many teachers draw them."""
    (line,) = section("| E | A |")
    assert [one.parts[0].voicing for one in line.bars] == ["E", "A"]


def test_a_section_has_pickups_meters_tempi_repeats_and_endings() -> None:
    """Lines of a section that are no plain bars."""
    found = section(
        "pickup 1: E",
        "pickup from 4&: E",
        "last 3: E",
        "meter 2/4",
        "tempo 72",
        "repeat 2",
        "ending 1: A | B",
        "ending 2, 3: A",
        "end",
        "E",
    )
    assert [type(line) for line in found] == [
        ShortBar,
        ShortBar,
        ShortBar,
        MeterChange,
        TempoChange,
        RepeatStart,
        EndingStart,
        EndingStart,
        RepeatEnd,
        BarLine,
    ]
    assert (found[0].beats, found[1].start, found[2].kind) == (1, Count(4, Fraction(1, 2)), "last")
    assert found[7].passes == (2, 3)


def test_a_form_lists_sections_with_what_differs() -> None:
    """Every kind of `but`."""
    form = lesson(
        "form\n  verse x2\n    but last bar: C x2\n    but first bar: C\n    but bar 3: same with a on 3\n"
        "    but bars 5-6: A | B\n    but from bar 9: E\n    but using filled\n    but tempo 72\n"
        "    but without bars 1-2\n  close\n"
    ).form
    verse, close = form.entries
    assert (verse.section, verse.times, close.section) == ("verse", 2, "close")
    kinds = [
        (type(but), getattr(but, "first", None), getattr(but, "last", None)) for but in verse.buts
    ]
    assert kinds == [
        (ChangeBars, LAST, LAST),
        (ChangeBars, 1, 1),
        (ChangeBars, 3, 3),
        (ChangeBars, 5, 6),
        (ChangeBars, 9, LAST),
        (ChangePattern, None, None),
        (ChangeTempo, None, None),
        (DropBars, 1, 2),
    ]
    assert verse.buts[2].bars[0].kind == "written"


def test_a_step_holds_prose_and_what_is_shown() -> None:
    """Lines that begin with show, and all others."""
    step = lesson(
        'step "One"\n  Show me: E, then "A".\n  show change A to B7 at 60\n  show bars 3-4 of verse from 60 to 96\n'
        "  show form\n"
    ).steps[0]
    assert step.lines == (
        Prose(text='Show me: E, then "A".'),
        Show(kind="change", name="A", over="B7", start=Fraction(60)),
        Show(kind="bars", name="verse", first=3, last=4, start=Fraction(60), goal=Fraction(96)),
        Show(kind="form"),
    )


def test_comments_belong_to_the_line_below_or_beside_them() -> None:
    """Nothing a teacher notes down is lost."""
    found = lesson(
        "# top\n\n# more\nvoicings # here\n  # about E\n  E 022100 # low\n  # last\n# end\n"
    )
    block = found.blocks[0]
    assert block.margin.above == ("# top", "# more")
    assert block.margin.beside == "# here"
    assert block.lines[0].margin.above == ("# about E",)
    assert block.lines[0].margin.beside == "# low"
    assert block.tail == ("# last",)
    assert found.tail == ("# end",)


def test_a_pattern_may_be_called_like_a_block() -> None:
    """Inside a block of names, the word that opens a block elsewhere is just a name."""
    names = [
        pattern.name for pattern in lesson('patterns\n  step "Two": p , m\n  form: p\n').patterns
    ]
    assert names == ["step", "form"]


@pytest.mark.parametrize("text", ["", "\n\n", "# only a comment\n", "   \n"])
def test_a_file_with_nothing_in_it_is_said_to_be_empty(text: str) -> None:
    """Most often the wrong file was saved."""
    (fault,) = read(Source("t.lesson", text)).faults
    assert (fault.rule, fault.span.start) == ("empty-lesson", 0)


def test_a_beat_cannot_hold_more_plucks_than_any_hand_plays() -> None:
    """Forty-eight places are let pass, one more is a fault."""
    for places, rules in ((48, []), (49, ["beat-too-full"])):
        found = read(Source("t.lesson", "patterns\n  p " + "p " * places + "\n"))
        assert [fault.rule for fault in found.faults] == rules


def test_use_may_stand_in_the_heading() -> None:
    """It says the same there as in column one, and formatting moves it."""
    found = lesson('lesson "T"\n  use "open.lesson"  # ours\n  capo 3\n')
    assert [use.path for use in found.uses] == ["open.lesson"]
    assert found.heading.setting("capo").value == Capo(3)
    assert format_lesson(found) == 'lesson "T"\n  capo 3\n\nuse "open.lesson"  # ours\n'


@pytest.mark.parametrize(
    ("word", "offered"),
    [("sections", "section"), ("setp", "step"), ("patina", ""), ("lemon", ""), ("picnic", "")],
)
def test_a_block_is_offered_for_a_word_much_like_it(word: str, offered: str) -> None:
    """Half alike is not enough: what follows would be read as the wrong block."""
    (found,) = [one for one in read(Source("a", f"{word}\n")).faults if one.rule == "unknown-word"]
    assert (f"did you mean {offered}?" in found.hint) if offered else ("did you" not in found.hint)


@pytest.mark.parametrize(
    "hidden", ["\u202e", "\u2067", "\u200b", "\u2028", "\x85", "\x1b", "\ufeff", "\u00ad", "\u3164"]
)
def test_a_hidden_character_is_one_fault_and_the_line_is_read_without_it(hidden: str) -> None:
    """In a title, a name, a comment, in prose: each time with the edit that deletes it."""
    text = 'lesson "Low%s tide"\n  capo 2\n\nvoicings\n  C%s  x32010\n\n# for%s June\nstep "One"\n  Slow%sly.\n'
    for place in range(4):
        spoilt = text % tuple(hidden * (at == place) for at in range(4))
        found = read(Source("t.lesson", spoilt))
        (fault,) = found.faults
        assert fault.rule == "hidden-character"
        assert fault.span.text == hidden
        assert fault.music_undefined == (place == 1)
        assert found.title.split() == ["Low", "tide"]
        assert len(found.voicings) == (place != 1)
        assert len(found.steps) == 1
        assert format_lesson(found).count(hidden) == 1
        assert place == 2 or fault.edits[0].text == ""


@pytest.mark.parametrize("honest", ["👩‍🌾", "☕️", "🏳️‍🌈", "שלום \u200fabc", "می‌خواهم", "क्‍ष", "1️⃣"])
def test_honest_texts_are_read_and_kept_as_they_are(honest: str) -> None:
    """In a title, in prose and in comments."""
    text = f'lesson "{honest}"  # {honest}\n\nstep "{honest}"\n  {honest}\n'
    found = lesson(text)
    assert found.title == honest
    assert format_lesson(found) == text


def test_names_are_compared_as_they_look() -> None:
    """An accent may be a character of its own (normal form D) or not (C): the name is the same."""
    text = (
        "patterns\n  cafe\u0301  p , p\n\nsection u\u0308bung  using café\n  C\n\nform\n  übung\n"
    )
    found = lesson(text)
    assert found.patterns[0].name == found.sections[0].using == "café"
    assert found.form is not None
    assert found.form.entries[0].section == found.sections[0].name == "übung"
    assert found.patterns[0].name_span is not None
    assert found.patterns[0].name_span.text == "cafe\u0301"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("voicings\n  C  x３2010\n", "this ３ is a full-width digit: type a plain 3"),
        ("voicings\n  C  x٣2010\n", "this ٣ is a digit of another script: type a plain 3"),
        ('lesson "A"\n  capo ３\n', "this ３ is a full-width digit: type a plain 3"),
        ("patterns\n  one р , m\n", "this р is a Cyrillic letter: type a plain p"),
        ("patterns\n  one p , ρ\n", "this ρ is a Greek letter: type a plain p"),
    ],
)
def test_what_only_looks_like_a_plain_sign_is_said_to_be_that(text: str, said: str) -> None:
    """Digits are plain ones; letters are those of the notation."""
    faults = read(Source("t.lesson", text)).faults
    assert said in [fault.hint for fault in faults]
