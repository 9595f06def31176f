"""Repeats, endings and the form: which bars are played, in which order, and which are one object."""

from __future__ import annotations

import pytest
from timeline_lessons import bars_of, expanded, messages, rules

from fretloom.limits import LIMITS
from fretloom.performance.events import Timeline
from fretloom.performance.expansion.expand import Expansion
from fretloom.performance.expansion.form.repeats import Repeat, Run

SIX = "section verse using bassline\n  E | A | B7 | D | C | Am\n"


def _sound(body: str, *fields: str) -> Timeline:
    expansion = expanded(body, *fields)
    assert messages(expansion) == []
    return expansion.timeline


def _order(body: str) -> list[str]:
    """Return the voicings of the bars in performing order."""
    return [
        " ".join(one.voicing.name for one in played.bar.voicings) or "rest"
        for played in _sound(body).bars
    ]


def _section(*lines: str) -> str:
    return "section verse using bassline\n" + "".join(f"  {line}\n" for line in lines)


@pytest.mark.parametrize(
    ("lines", "order"),
    [
        (("E | A",), "E A"),
        (("E x3 | A",), "E E E A"),
        (("E | % | A | % x2",), "E E A A A"),
        (("E | rest | %",), "E rest rest"),
        (("repeat 2", "E | A", "end", "D"), "E A E A D"),
        (("repeat 3", "E", "ending 1 2: A", "ending 3: B7", "end"), "E A E A E B7"),
        (("repeat 2", "E", "ending 1: A", "C", "ending 2: B7 | D", "end", "Am"), "E A C E B7 D Am"),
        (("repeat 2", "E", "repeat 2", "A", "end", "end"), "E A A E A A"),
        (
            ("repeat 2", "E", "ending 1: A", "ending 2: D", "repeat 2", "C", "end", "end"),
            "E A E D C C",
        ),
    ],
)
def test_repeats_are_played_out(lines: tuple[str, ...], order: str) -> None:
    """Each line of bars once for each pass, each pass with its ending."""
    assert _order(_section(*lines)) == order.split()


def test_nested_repeats() -> None:
    """Case e05 (MusicXML 4.0, `repeat times`): A BB C twice, then V four times in all: 28 bars."""
    body = _section("repeat 2", "E x4", "repeat 2", "A x2", "end", "B7 x2", "end")
    body += "section last-part using bassline\n  D | C\nform\n  verse\n  last-part x4\n"
    once = ["E"] * 4 + ["A"] * 4 + ["B7"] * 2
    assert _order(body) == once * 2 + ["D", "C"] * 4


def test_no_repeats() -> None:
    """Case e03 (after cuthbertLab/music21#355): a song without repeats expands to itself."""
    assert len(_sound(_section("E | A | D | E", "E | A | D | E", "E | A | D | E")).bars) == 12


def test_written_bars_carry_their_signs() -> None:
    """A page can be drawn from the written section: repeats, how often, endings."""
    body = _section(
        "repeat 2", "E", "repeat 3", "A", "end", "ending 1: B7 | D", "ending 2: C", "end"
    )
    (section,) = _sound(body).sections
    signs = [(bar.repeats, bar.ends, bar.passes) for bar in section.bars]
    assert signs == [
        (1, (), ()),
        (1, (3,), ()),
        (0, (), (1,)),
        (0, (0,), (1,)),
        (0, (), (2,)),
    ]
    firsts = [(bar.first_of_ending, bar.last_of_endings) for bar in section.bars]
    assert firsts == [(False, False)] * 2 + [(True, False), (False, False), (True, True)]


def test_an_ending_goes_back_if_it_does_at_one_of_its_times() -> None:
    """Of three times, behind ending 1,3 the first goes back, behind ending 2,3 the second."""
    for numbers, ends in (
        (("1,3", "2"), ((0,), (0,))),
        (("1", "2,3"), ((0,), (0,))),
        (("1,2", "3"), ((0,), ())),
    ):
        body = _section("repeat 3", "E", *(f"ending {one}: A" for one in numbers), "end", "D")
        bars = _sound(body).sections[0].bars
        assert tuple(bar.ends for bar in bars[1:3]) == ends
        assert [bar.last_of_endings for bar in bars] == [False, False, True, False]


@pytest.mark.parametrize(
    ("but", "order"),
    [
        ("but last bar: E", "E A B7 D C E"),
        ("but last bar: E x2", "E A B7 D C E E"),
        ("but bar 2: D D", "E D D B7 D C Am"),
        ("but bars 2-4: E", "E E C Am"),
        ("but from bar 5: E | A | D", "E A B7 D E A D"),
        ("but without bars 1-2", "B7 D C Am"),
        ("but without bar 6", "E A B7 D C"),
        ("but bar 3: % | D", "E A A D D C Am"),
        ("but bar 3: same | same", "E A B7 B7 D C Am"),
        ("but bar 1: A\n    but last bar: A", "A A B7 D C A"),
        ("but without bars 1-2\n    but bar 4: E", "B7 E C Am"),
    ],
)
def test_changes_count_the_bars_as_written(but: str, order: str) -> None:
    """Each change is for one playing, and its numbers are those of the written section."""
    names = _order(f"{SIX}form\n  verse\n    {but}\n  verse\n")
    assert " ".join(names) == f"{order} E A B7 D C Am"


def test_another_pattern_and_tempo_for_one_playing() -> None:
    """`but using` changes the section's own pattern only, `but tempo` the tempo it starts with."""
    body = "section verse using bassline\n  E | A using plain\n"
    body += "form\n  verse\n    but using pinched\n    but tempo 72\n  verse\n"
    bars = _sound(body, "tempo 96").bars
    assert [played.bar.pattern for played in bars] == ["pinched", "plain", "bassline", "plain"]
    assert [played.tempo.per_minute for played in bars] == [72, 72, 96, 96]


def test_same_with_more() -> None:
    """`same with a@3 on 3` is the section's bar with one pluck more."""
    body = "section verse using bassline\n  E\nform\n  verse\n    but bar 1: same with a@3 on 3\n"
    (bar,) = (played.bar for played in _sound(body).bars)
    assert len(bar.notes) == 5


def test_a_change_in_a_repeat_is_played_each_time() -> None:
    """Bar 1 as written is played twice, and so is what stands for it."""
    body = _section("repeat 2", "E | A", "end") + "form\n  verse\n    but bar 1: D\n"
    assert _order(body) == ["D", "A", "D", "A"]


def test_the_differences_are_kept_in_words() -> None:
    """The form can be printed as the teacher wrote it."""
    body = f"{SIX}form\n  verse x2\n    but last bar: E x2\n    but tempo 72\n"
    (line,) = _sound(body).form
    assert (line.section, line.times) == ("verse", 2)
    assert [one.words for one in line.differences] == ["last bar: E x2", "tempo 72"]


def test_bar_numbers() -> None:
    """A pickup at the very start is bar 0 (MusicXML 4.0, `measure`); places are those of the section."""
    body = "section verse using plain\n  pickup 1: E\n  E | A\nform\n  verse x2\n    but bar 2: D\n"
    bars = _sound(body).bars
    assert [played.number for played in bars] == [0, 1, 2, 3, 4, 5]
    assert [played.index for played in bars] == [1, 2, 3, 4, 5, 6]
    assert [played.written for played in bars] == [1, 2, None, 1, 2, None]
    assert [played.first for played in bars] == [True, False, False] * 2
    assert [played.playing for played in bars] == [1, 1, 1, 2, 2, 2]


def test_patterns_cycle_by_written_bar() -> None:
    """A pattern of two bars goes on through x2 and %, pickups left out."""
    body = "patterns\n  two in 4/4: p, p, p, p | m, m, m, m\nsection verse using two\n"
    bars = bars_of(body + "  pickup 1: E\n  E | A x2 | % | D\n")
    assert "".join(bar.notes[0].finger for bar in bars) == "mpmpmp"


def test_a_pattern_for_one_bar_starts_anew() -> None:
    """`using` on a bar begins its pattern, and a run of such bars goes through it."""
    body = "patterns\n  two in 4/4: p, p, p, p | m, m, m, m\nsection verse using bassline\n"
    bars = bars_of(body + "  E using two | A using two | % | E | D using two\n")
    assert "".join(bar.notes[0].finger for bar in bars) == "pmppp"


def test_percent_takes_everything_but_the_words() -> None:
    """`%` repeats voicings, pattern and what was added, not the cue and not an early hand."""
    body = 'section verse using bassline\n  A | "Lamps" E early on 4 with a on 3 | %\n'
    _, first, again = bars_of(body)
    assert first.cue == "Lamps"
    assert again.cue == ""
    assert [(note.onset, note.string) for note in again.notes] == [
        (note.onset, note.string) for note in first.notes
    ]


def test_meter_and_tempo_change_in_the_section() -> None:
    """From that line on, and in the next section no more."""
    body = "patterns\n  three in 3/4: p, m, i\n"
    body += "section verse using bassline\n  E\n  meter 3/4\n  tempo 60\n  A using three\n"
    body += "section after using bassline\n  E\n"
    bars = _sound(body, "tempo 90").bars
    assert [str(played.bar.meter) for played in bars] == ["4/4", "3/4", "4/4"]
    assert [played.tempo.per_minute for played in bars] == [90, 60, 90]


def test_bars_played_often_are_one_object() -> None:
    """Cost grows with what is written: the middle of a run of equal playings is shared."""
    body = f"{SIX}form\n  verse x50\n"
    timeline = _sound(body)
    assert len(timeline.bars) == 300
    # Six written bars, and the end of the last playing, where nothing follows.
    assert len(list(timeline.distinct_bars())) <= 8
    assert timeline.bars[0].bar is timeline.bars[6].bar
    assert timeline.sections[0].bars[0].bar is timeline.bars[0].bar


def test_written_bars_are_the_ones_first_played() -> None:
    """Also beside a bar that is never played as written: they ring into what is played."""
    body = "section verse using bassline\n  E | A\nform\n  verse\n    but bar 2: E\n"
    timeline = _sound(body)
    assert timeline.sections[0].bars[0].bar is timeline.bars[0].bar
    assert timeline.sections[0].bars[1].bar.voicings[0].voicing.name == "A"


def test_twice_in_a_row_is_one_object() -> None:
    """In `E x4` what follows the first three is the same."""
    bars = bars_of("section verse using bassline\n  E x4 | A\n")
    assert bars[0] is bars[1]
    assert bars[1] is bars[2]


def test_sections_that_are_not_played_are_laid_out_too() -> None:
    """A page may show a section that the form leaves out."""
    body = f"{SIX}section other using plain\n  E | A\nform\n  verse\n"
    names = [section.name for section in _sound(body).sections]
    assert names == ["verse", "other"]


def _faults(body: str) -> Expansion:
    return expanded(body)


@pytest.mark.parametrize(
    ("lines", "rule", "words"),
    [
        (("repeat 2", "E"), "repeat-not-closed", "the repeat in verse has no `end`"),
        (("E", "end"), "end-without-repeat", "no repeat for this `end` to close"),
        (
            ("E", "ending 1: A"),
            "ending-without-repeat",
            "ending 1 of verse does not belong to a repeat",
        ),
        (
            ("repeat 3", "E", "ending 1: A", "ending 2: D", "end"),
            "ending-missing",
            "pass 3 has no ending",
        ),
        (
            ("repeat 2", "E", "ending 1: A", "ending 1 2: D", "end"),
            "ending-missing",
            "two endings for pass 1",
        ),
        (
            ("repeat 2", "E", "ending 1: A", "ending 2 3: D", "end"),
            "ending-missing",
            "ending 3 of verse is never played",
        ),
        (("% | E",), "nothing-before", "begins with %"),
        (("E early on 4 | A",), "nothing-before", "there is no bar before it"),
    ],
)
def test_repeats_that_do_not_close(lines: tuple[str, ...], rule: str, words: str) -> None:
    """Each is reported once, with the section named."""
    expansion = _faults(_section(*lines))
    assert rules(expansion) == [rule]
    assert words in messages(expansion)[0]
    assert expansion.diagnostics[0].music_undefined


def test_endings_without_an_end() -> None:
    """Case e03, second song (after cuthbertLab/music21#1160): reported where it is, not a crash."""
    expansion = _faults(_section("E", "repeat 2", "A | B7", "ending 1: D", "ending 2: C"))
    assert rules(expansion) == ["repeat-not-closed"]
    assert "after its ending 2" in messages(expansion)[0]


@pytest.mark.parametrize(
    ("but", "rule", "words"),
    [
        ("but bar 7: E", "no-such-bar", "there is no bar 7 in verse: it has 6 bars"),
        ("but bars 5-9: E", "no-such-bar", "there is no bar 9 in verse"),
        ("but without bars 7-8", "no-such-bar", "there is no bar 7 in verse"),
        (
            "but bar 5: E\n    but bars 4-6: A",
            "changes-overlap",
            "bar 5 of verse would be changed twice",
        ),
        ("but from bar 2: E\n    but last bar: A", "changes-overlap", "bar 6 of verse"),
        ("but bar 1: %", "nothing-before", "no bar of verse before this %"),
    ],
)
def test_changes_that_cannot_be_made(but: str, rule: str, words: str) -> None:
    """A form that refers to bars that are not there."""
    expansion = _faults(f"{SIX}form\n  verse\n    {but}\n")
    assert rules(expansion) == [rule]
    assert words in messages(expansion)[0]


def test_an_unknown_section_is_reported_with_those_there_are() -> None:
    """A form naming a chorus that nobody wrote."""
    expansion = _faults(f"{SIX}form\n  verse\n  chorus\n  verze\n")
    assert rules(expansion) == ["unknown-section", "unknown-section"]
    assert [found.hint for found in expansion.diagnostics] == [
        "the sections are verse",
        "did you mean verse?",
    ]


@pytest.mark.parametrize(
    ("stated", "lines", "right"),
    [
        (4, ("E | A | D x2",), True),
        (2, ("repeat 2", "E | A", "end"), True),
        (4, ("repeat 2", "E | A", "end"), True),
        (2, ("pickup 1: E", "E | A"), True),
        (3, ("E | A",), False),
        (3, ("repeat 2", "E | A", "end"), False),
    ],
)
def test_the_stated_length(stated: int, lines: tuple[str, ...], right: bool) -> None:
    """It may count the bars as written or as played, x2 as two and pickups not at all."""
    body = _section(*lines).replace("verse", f"verse {stated} bars")
    expansion = _faults(body)
    assert rules(expansion) == ([] if right else ["section-length"])
    if not right:
        assert "2 bars are written" in messages(expansion)[0]


def test_a_form_that_would_never_end_is_refused() -> None:
    """Case f05 (after yaml/pyyaml#235): 9 nested repeats of 9 are counted and not played."""
    lines = ["repeat 9"] * 9 + ["E"] + ["end"] * 9
    expansion = _faults(_section(*lines))
    assert rules(expansion) == ["too-many-bars"]
    assert "387420489 bars" in messages(expansion)[0]
    assert "20000" in messages(expansion)[0]
    assert expansion.timeline.bars == ()


@pytest.mark.parametrize(
    "body",
    [
        SIX + "form\n  verse x999999\n",
        _section("E x999999"),
        SIX + "form\n  verse\n    but bar 1: E x999999\n",
        SIX + "form\n" + "  verse\n" * 4000,
    ],
)
def test_too_many_bars_in_other_ways(body: str) -> None:
    """However they are asked for, they are refused before they are written out."""
    assert rules(_faults(body)) == ["too-many-bars"]


def test_a_thousand_repeats_in_each_other() -> None:
    """Depth does not matter."""
    assert len(_sound(_section(*["repeat 1"] * 1000, "E", *["end"] * 1000)).bars) == 1


def test_repeats_that_are_too_long_are_only_counted() -> None:
    """Thousands of passes in each of many repeats: their bars are not written out to be thrown away."""
    run = Run()
    for index in range(3):
        repeat = Repeat(9_999, None, index)
        repeat.body.add(index)
        run.extend(repeat.unrolled({}, LIMITS.bars_played - run.count))
    assert run.count == 3 * 9_999
    assert len(run.bars) == 2 * 9_999
    late = Repeat(9_999, None, 3)
    late.body.add(3)
    assert late.unrolled({}, LIMITS.bars_played - run.count).bars == []
