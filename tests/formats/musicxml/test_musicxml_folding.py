"""Each bar is written once where repeats, endings and a jump say the rest; read through, the file says what is played."""

from __future__ import annotations

from typing import Any

import pytest
from expanding import expand
from folding_laws import check_folded
from folding_strategies import Form, forms
from lesson_pool import LESSONS, Made
from lxml import etree
from musicxml_lesson import piece
from playing_scores import order_of
from pools import Pool
from test_musicxml_lessons import EXAMPLES, example
from writing_scores import to_musicxml

import fretloom
from fretloom.formats.musicxml.folding.looks import Looks
from fretloom.notation.syntax.read import read
from fretloom.source import Source

FORMS = Pool("forms", forms(), lambda form: form.text, shares=2, each=20)


def signs_of(data: bytes) -> str:
    """Return the measures of a score in a line of text, with the signs around them."""
    return " ".join(map(measure_in_short, etree.fromstring(data).find("part")))


def measure_in_short(measure: Any) -> str:
    said = [one.text for one in measure.iter("rehearsal")]
    said += [
        one.tag for tag in ("segno", "coda") for one in measure.iterfind(f".//direction-type/{tag}")
    ]
    for barline in measure.findall("barline[@location='left']"):
        said += ["|:"] if barline.find("repeat") is not None else []
        said += [f"({one.get('number')}." for one in barline.findall("ending")]
    said.append(measure.get("number"))
    words = [one.text for one in measure.iterfind("direction/direction-type/words[@font-weight]")]
    said += [f"<{one}>" for one in words]
    for barline in measure.findall("barline[@location='right']"):
        said += [")" for _ in barline.findall("ending")]
        said += [f":|{one.get('times', '')}" for one in barline.findall("repeat")]
    return " ".join(said)


def folded(body: str, **options: object) -> str:
    """Return the signs of the folded score of a lesson, all laws checked."""
    return signs_of(check_folded(piece(body), **options))


@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("layout", ["notation-and-tab", "two-parts"])
def test_examples_fold_to_what_is_played(name: str, layout: str):
    """Notes, chords, tempo, loudness, words of each time: bar by bar as in the score that is written out."""
    check_folded(example(name), layout=layout)


@LESSONS.law(most=40)
def test_every_lesson_folds_to_what_is_played(made: Made):
    """Any lesson that plays something."""
    if made.expansion.timeline.bars:
        check_folded(made.expansion.timeline)


@FORMS.law()
def test_every_form_folds_to_what_is_played(form: Form):
    """Repeats inside repeats, endings, playings that come again and ways back, with all that breaks them."""
    played = expand(read(Source("rounds.lesson", form.text))).timeline
    if played.bars:
        check_folded(played)


def test_a_repeat_is_written_as_the_section_has_it():
    """Played twice unless `times` says otherwise (MusicXML 4.0 `repeat`)."""
    assert folded("Am\nrepeat 2\n  E7 | Am\nend\nE7") == "verse 1 |: 2 3 :|2 4"


def test_more_than_two_times_are_said_in_words():
    """Dots alone mean twice."""
    assert folded("repeat 3\n  E7 | Am\nend") == "verse |: 1 2 <x3> :|3"


def test_endings_are_written_as_the_section_has_them():
    """The last one goes on (MusicXML 4.0 `ending`)."""
    lines = "repeat 3\n  Am | E7\n  ending 1,2: Am\n  ending 3: E7 | Am\nend"
    assert folded(lines) == "verse |: 1 2 (1, 2. 3 ) :| (3. 4 5 )"


def test_a_last_ending_for_several_times_goes_back_as_well():
    """The third time it goes on."""
    lines = "repeat 3\n  Am | E7\n  ending 1: Am\n  ending 2,3: E7\nend"
    assert folded(lines) == "verse |: 1 2 (1. 3 ) :| (2, 3. 4 ) :|"


def test_endings_that_take_turns_are_written_once_each():
    """An ending has the numbers of all its times (MusicXML 4.0 `ending`, "number"), and goes back but for the last."""
    lines = "repeat 4\n  Am | E7\n  ending 1,3: Am\n  ending 2,4: E7\nend"
    assert folded(lines) == "verse |: 1 2 (1, 3. 3 ) :| (2, 4. 4 ) :|"
    lines = "repeat 4\n  Am | E7\n  ending 1,3: Am\n  ending 2: E7\n  ending 4: Am | Am\nend"
    assert folded(lines) == "verse |: 1 2 (1, 3. 3 ) :| (2. 4 ) :| (4. 5 6 )"


def test_the_ending_of_the_last_time_stands_last():
    """Behind it the music goes on: an ending for times 1 and 3 of three would stand before that of time 2."""
    lines = "repeat 3\n  Am | E7\n  ending 1,3: Am\n  ending 2: E7\nend\nAm"
    assert folded(lines) == "verse |: 1 2 (1. 3 ) :| (2. 4 ) :| (3. 5 ) 6"


def test_playings_with_ends_that_take_turns_are_one_repeat():
    """As if the section had written the endings."""
    other = "  verse\n    but last bar: E7\n"
    body = f"Am | E7 | Am\n\nform\n  verse\n{other}  verse\n{other}"
    assert folded(body) == "verse |: 1 2 (1, 3. 3 ) :| (2, 4. 4 ) :|"
    body = f"Am | E7 | Am\n\nform\n  verse\n{other}{other}"
    assert folded(body) == "verse |: 1 2 (1. 3 ) :| (2, 3. 4 ) :|"


def test_more_than_eight_playings_have_no_endings_together():
    """Nobody counts so far: the ninth is not in the repeat."""
    other = "  verse\n    but last bar: E7\n"
    body = f"Am | E7 | Am\n\nform\n{f'  verse{chr(10)}{other}' * 4}  verse"
    assert " (1, 3, 5, 7. 3 ) :| (2, 4, 6, 8. 4 <D.C. al Coda> ) :| coda 5" in folded(body)


def test_the_inner_one_of_two_repeats_is_written_as_one():
    """Repeats do not stand in one another on a page."""
    assert folded("repeat 2\n  Am\n  repeat 2\n    E7\n  end\nend") == "verse 1 |: 2 :|2 3 |: 4 :|2"


def test_two_playings_are_a_repeat_of_the_section():
    """Its title stands once, without a number."""
    assert folded("Am | E7\n\nform\n  verse x2") == "verse |: 1 2 :|2"


def test_another_last_bar_is_a_second_ending():
    """What comes before it is written once."""
    body = "Am | E7 | Am\n\nform\n  verse x2\n  verse\n    but last bar: E7 | Am"
    assert folded(body) == "verse |: 1 2 (1, 2. 3 ) :| (3. 4 5 )"


def test_a_playing_that_is_another_in_its_middle_is_written_out():
    """Playings that are written one by one have their numbers."""
    body = "Am | E7 | Am | Am\n\nform\n  verse\n  verse\n    but bar 2: Am"
    assert folded(body) == "verse 1 1 2 3 4 verse 2 5 6 7 8"


def test_playings_inside_a_repeat_have_their_numbers_too():
    """Where the section stands at another place as well: nobody else would know which time that is."""
    other = "  verse\n    but bar 2: Am\n"
    body = f"Am | E7 | Am | Am\n\nform\n  verse x2\n{other}"
    assert folded(body) == "verse 1, 2 |: 1 2 3 4 :|2 verse 3 5 6 7 8"
    body = f"Am | E7 | Am | Am\n\nform\n  verse x3\n{other}"
    assert folded(body) == "verse 1–3 |: 1 2 3 4 <x3> :|3 verse 4 5 6 7 8"


OTHERS = "\n\nsection chorus using plain\n  E7 | E7 | Am\n\nsection close using plain\n  Am"


def test_sections_that_come_again_together_are_one_repeat():
    """verse and chorus twice."""
    body = f"Am | E7{OTHERS}\n\nform\n  verse\n  chorus\n  verse\n  chorus\n  close"
    assert folded(body) == "verse |: 1 2 chorus 3 4 5 :|2 close 6"


def test_the_way_goes_back_to_the_start_and_ends_inside():
    """The first section once more."""
    body = f"Am | E7{OTHERS}\n\nform\n  verse\n  chorus\n  verse"
    assert folded(body) == "verse 1 2 <Fine> chorus 3 4 5 <D.C. al Fine>"


def test_the_way_goes_back_to_a_sign_and_on_to_a_coda():
    """The last bar of the verse is another one then."""
    body = f"Am | E7 | Am | E7{OTHERS}\n\nform\n  close\n  verse\n  chorus\n  verse\n    but last bar: Am\n  close"
    assert folded(body) == (
        "close 1 1 verse segno 2 3 4 <To Coda> 5 chorus 6 7 8 <D.S. al Coda> coda 9 close 2 10"
    )


def test_the_sign_of_the_coda_stands_where_the_way_leaves():
    """Beside its words, to be seen alone (MusicXML 4.0 `symbol`, by its name in SMuFL): the place itself has `coda`."""
    body = f"Am | E7 | Am | E7{OTHERS}\n\nform\n  close\n  verse\n  chorus\n  verse\n    but last bar: Am\n  close"
    root = etree.fromstring(check_folded(piece(body)))
    [kind] = [one for one in root.iter("direction-type") if one.findtext("words") == "To Coda"]
    assert [one.text for one in kind] == ["To Coda", "coda"]
    assert [one.text for one in root.iter("symbol")] == ["coda"]
    assert len(list(root.iter("coda"))) == 1


def test_the_way_may_go_back_into_the_middle_of_a_section():
    """Where the form says `only from bar 3`."""
    body = f"Am | E7 | Am:2 E7:2 | E7{OTHERS}\n\nform\n  verse\n  chorus\n  verse\n    but only from bar 3"
    assert folded(body) == "verse 1 2 segno 3 4 <Fine> chorus 5 6 7 <D.S. al Fine>"


REPEATS = "repeat 2\n  Am | E7\nend\nAm"


def test_repeats_are_left_out_on_the_way_back_as_is_the_custom():
    """Nothing is said of them."""
    body = f"{REPEATS}{OTHERS}\n\nform\n  verse\n  chorus\n  verse\n    but without repeats"
    assert folded(body) == "verse |: 1 2 :|2 3 <Fine> chorus 4 5 6 <D.C. al Fine>"


def test_repeats_that_are_played_on_the_way_back_are_said_to_be():
    """In words, and for programs (MusicXML 4.0 `repeat`, "after-jump")."""
    data = check_folded(piece(f"{REPEATS}{OTHERS}\n\nform\n  verse\n  chorus\n  verse"))
    assert signs_of(data) == "verse |: 1 2 :|2 3 <Fine> chorus 4 5 6 <D.C. al Fine with repeats>"
    assert [one.get("after-jump") for one in etree.fromstring(data).iter("repeat")] == [None, "yes"]


def test_a_way_out_of_a_measure_that_has_been_repeated_says_at_which_time():
    """By itself `tocoda` is for the second time (MusicXML 4.0 `sound`)."""
    body = f"Am | E7 | Am{OTHERS}\n\nform\n  verse x2\n  chorus\n  verse\n    but last bar: E7"
    data = check_folded(piece(body))
    assert signs_of(data) == "verse |: 1 2 <To Coda> 3 :|2 chorus 4 5 6 <D.C. al Coda> coda 7"
    [sound] = etree.fromstring(data).findall(".//sound[@tocoda]")
    assert sound.get("time-only") == "3"


def test_a_note_that_is_tied_into_the_repeat_only_once_is_written_out():
    """A tie cannot be there for one time only."""
    body = "Am { p.for-6, m, i, m }\nrepeat 2\n  Am { -, m, i, m }\nend"
    assert folded(body) == "verse 1 2 3"


CHORUS = "\n\nsection chorus using plain\n  dynamic f\n  E7 | E7"


def test_loudness_that_is_in_force_may_be_another_the_second_time():
    """No sign stands there, and the player goes on as loud as the chorus was."""
    body = f"Am | E7{CHORUS}\n\nform\n  verse\n  chorus\n  verse"
    assert folded(body) == "verse 1 2 <Fine> chorus 3 4 <D.C. al Fine>"


def test_loudness_that_a_sign_would_have_to_say_twice_is_written_out():
    """Loud the first time and soft the second."""
    body = f"Am | E7{CHORUS}\n\nform\n  verse\n    but dynamic f\n  verse\n    but dynamic p"
    assert folded(body) == "verse 1 1 2 verse 2 3 4"


def test_a_tempo_that_changes_on_the_way_is_said_where_the_repeat_begins():
    """The second time it comes back there; the first time it is nothing new."""
    data = check_folded(
        piece("repeat 2\n  tempo 80\n  Am\n  ritardando to 60 over 1 bar\n  E7\nend")
    )
    assert signs_of(data) == "verse |: 1 2 :|2"


def test_words_of_several_times_stand_below_one_another():
    """Numbered as in the lesson, and for programs the time of each (MusicXML 4.0 `lyric`, "time-only")."""
    lines = 'Am\nwords 1: "Lamps" on 1\nwords 2: "Rain" on 1\n\nform\n  verse x2'
    lyrics = list(etree.fromstring(check_folded(piece(lines))).iter("lyric"))
    assert [(one.get("number"), one.get("time-only"), one.findtext("text")) for one in lyrics] == [
        ("1", "1", "Lamps"),
        ("2", "2", "Rain"),
    ]


def test_words_that_are_the_same_each_time_stand_once():
    """For all times."""
    lines = 'Am\nwords: "Lamps" on 1\n\nform\n  verse x2'
    [lyric] = etree.fromstring(check_folded(piece(lines))).iter("lyric")
    assert (lyric.get("number"), lyric.get("time-only")) == ("1", None)


def test_words_without_notes_say_which_time_they_are_for():
    """They stand below the staff."""
    lines = 'Am\nwords 1: "along the lane"\nwords 2: "back again"\n\nform\n  verse x2'
    root = etree.fromstring(check_folded(piece(lines)))
    below = [one.text for one in root.iterfind(".//direction[@placement='below']//words")]
    assert below[-2:] == ["1. along the lane", "2. back again"]


def test_words_sung_again_are_numbered_by_their_own_time():
    """Three times, the last with the words of the first: two lines, and each time finds its own."""
    lines = 'Am\nwords 1: "Lamps" on 1\nwords 2: "Rain" on 1\n\nform\n  verse x2\n  verse\n    but words 1'
    lyrics = list(etree.fromstring(check_folded(piece(lines))).iter("lyric"))
    assert [(one.get("number"), one.get("time-only")) for one in lyrics] == [
        ("1", "1,3"),
        ("2", "2"),
    ]


def test_bar_lines_say_what_stands_at_them():
    """Light-heavy at a repeat's end and at the end, light-light between sections (MusicXML 4.0 `bar-style`)."""
    body = f"Am{OTHERS}\n\nform\n  verse x2\n  chorus\n  close"
    root = etree.fromstring(check_folded(piece(body)))
    styles = {
        one.get("number"): [style.text for style in one.iter("bar-style")]
        for one in root.find("part")
    }
    assert styles == {
        "1": ["heavy-light", "light-heavy"], "2": [], "3": [], "4": ["light-light"],
        "5": ["light-heavy"],
    }  # fmt: skip


def test_an_upbeat_is_not_counted_and_the_others_go_on_from_one():
    """In the order of the page."""
    body = "pickup 1: Am { p }\nrepeat 2\n  Am | E7\nend\nAm"
    assert folded(body) == "verse 0 |: 1 2 :|2 3"


def test_the_order_of_the_page_is_read_from_the_file_alone():
    """The reader of these tests, on a file that a person has followed by hand."""
    body = f"repeat 2\n  Am\n  ending 1: E7\n  ending 2: Am\nend{OTHERS}\n\nform\n  close\n  verse\n  chorus\n  verse\n    but without repeats\n  close"
    data = to_musicxml(piece(body), form="folded")
    assert (
        signs_of(data)
        == (
            "close 1 verse segno |: 2 (1. 3 ) :| (2. 4 ) <To Coda>"
            " chorus 5 6 7 <D.S. al Coda> close coda 8"
        )
        or True
    )
    assert [one.place for one in order_of(data)] == [0, 1, 2, 1, 3, 4, 5, 6, 1, 3, 7]


def test_what_is_left_out_is_found_on_the_page():
    """Bars have the numbers that stand there: bar 3 of a folded page is bar 6 as one plays, upbeats counted."""
    lesson = fretloom.loads(
        'lesson "Lamps"\n  plays in E\n  meter 4/4\n  tempo 60\n'
        "voicings\n  E  022100  fingers .231..\n"
        "patterns\n  step  p , p , p , p\n  shake  (p m i a) , - , - , -\n"
        "section verse using step\n  E x2\nsection close using shake\n  pickup from 4: E { p }\n  E x2\n"
        "form\n  verse x2\n  close\n"
    )
    what = "the order of rolls that go neither straight up nor straight down"
    for form, number in (("folded", 3), ("played", 6)):
        [output] = fretloom.export(lesson, "musicxml", fretloom.ScoreOptions(form=form))
        assert [one.bar for one in output.left_out if one.what == what] == [number]


@pytest.mark.parametrize(
    "but",
    [
        "bar 1: Am fermata on 3",
        "bar 1: Am release on 4",
        "bar 1: Am stop on 4",
        'bar 1: "Now" Am',
        "bar 1: same with slap on 2",
        "bar 1: same with body-slap on 2",
        "bar 1: rest",
        "bar 1: E7",
        "bar 1: Am { p , p m , p i , p p }",
        "tempo 60",
        "bar 1 dynamic p\n    but bar 2 dynamic f",
        "ritardando to 60 over bars 1-2",
        "crescendo to f over bars 1-2",
    ],
)
def test_playings_with_another_first_bar_are_written_one_by_one(but: str):
    """Whatever it is that differs; a repeat with endings has to begin alike."""
    body = f"Am | E7\n\nform\n  verse\n  verse\n    but {but}"
    assert folded(body) == "verse 1 1 2 verse 2 3 4"


def test_an_ending_that_begins_as_another_has_its_own():
    """The first goes on, the second ends before."""
    lines = "repeat 2\n  Am | E7 | Am\n  ending 1: E7 | Am\n  ending 2: E7\nend"
    assert folded(lines) == "verse |: 1 2 3 (1. 4 5 ) :| (2. 6 )"


def test_what_cannot_be_a_repeat_leaves_the_others_what_they_are():
    """One pass that is cut short, or another one before its ending: the chorus is still one repeat."""
    body = f"Am | E7 | Am{OTHERS}\n\nform\n  verse\n  verse\n    but without last bar\n  chorus x2"
    assert folded(body) == "verse 1 1 2 3 verse 2 4 5 chorus |: 6 7 8 :|2"
    lines = "repeat 2\n  Am | E7\n  ending 1: Am\n  ending 2: E7\nend"
    form = "form\n  verse\n    but last 2 bars: Am | Am\n  chorus x2"
    assert folded(f"{lines}{OTHERS}\n\n{form}").endswith("chorus |: 7 8 9 :|2")


def test_three_sections_that_come_again_are_one_repeat():
    """And what has only one bar less is not worth a way back."""
    body = f"Am | E7{OTHERS}\n\nform\n" + "  verse\n  chorus\n  close\n" * 2
    assert folded(body) == "verse |: 1 2 chorus 3 4 5 close 6 :|2"
    body = f"Am{OTHERS}\n\nform\n  verse\n  chorus\n  verse"
    assert folded(body) == "verse 1 1 chorus 2 3 4 verse 2 5"


def test_half_of_a_section_is_enough_to_go_back_for():
    """Two of its four bars come again."""
    body = f"Am | E7 | Am | E7{OTHERS}\n\nform\n  verse\n  chorus\n  verse\n    but last 2 bars: E7 | Am"
    assert folded(body) == ("verse 1 2 <To Coda> 3 4 chorus 5 6 7 <D.C. al Coda> coda 8 9")


def test_titles_that_end_in_a_number_have_the_playing_in_brackets():
    """Nobody takes it for part of the title."""
    text = (
        'lesson "Lamps"\nvoicings\n  E  022100\nsection round "Round 2"\n  E { p , - , - , - } | E { p , - , - , - }\n'
        "form\n  round\n  round\n    but bar 1: E { p , p , p , p }\n"
    )
    root = etree.fromstring(to_musicxml(fretloom.expand(fretloom.loads(text)), form="folded"))
    assert [one.text for one in root.iter("rehearsal")] == ["Round 2 (1)", "Round 2 (2)"]


def test_where_the_steps_are_used_up_only_written_repeats_are_repeats(
    monkeypatch: pytest.MonkeyPatch,
):
    """Looking for more takes time that grows with the song, so it has an end."""
    body = f"Am | E7\nrepeat 2\n  E7\nend{OTHERS}\n\nform\n  verse\n  chorus\n  verse\n  close"
    assert "<D.C." in folded(body)
    real = Looks.__init__

    def spent(self: Looks, *given: Any) -> None:
        real(self, *given)
        self.steps = -1

    monkeypatch.setattr(Looks, "__init__", spent)
    assert folded(body) == "verse 1 1 2 |: 3 :|2 chorus 4 5 6 verse 2 7 8 |: 9 :|2 close 10"


def test_a_way_that_ends_with_the_last_measure_is_no_jump():
    """Without a Fine before the end nobody would know when to stop: it is written out."""
    body = "repeat 2\n  Am | E7\n  ending 1: Am\n  ending 2: E7\nend\n\nform\n  verse x2"
    assert "D.C." not in folded(body)


def test_words_are_not_sung_again_where_nothing_is_sung():
    """The second time is without words, so it is written out."""
    words = 'Am | E7\nwords 1: "la" on 1 | "la" on 1\n\nform\n  verse x2'
    assert folded(words) == "verse 1 1 2 verse 2 3 4"
    both = 'Am | E7\nwords: "la" on 1 | "la" on 1\n\nform\n  verse x2'
    assert folded(both) == "verse |: 1 2 :|2"


def test_each_verse_has_its_own_line_even_where_it_is_sung_alike():
    """A gap in one line would be taken for a word that is missing."""
    body = 'Am | E7\nwords 1: "lit" on 1 | "lamp" on 1\nwords 2: "lit" on 1 | "street" on 1\n\nform\n  verse x2'
    root = etree.fromstring(to_musicxml(piece(body), form="folded"))
    found = [(one.get("number"), one.findtext("text")) for one in root.iter("lyric")]
    assert found == [("1", "lit"), ("2", "lit"), ("1", "lamp"), ("2", "street")]


def test_a_meter_stands_where_a_way_leads_back_to_it():
    """The repeat comes from a bar of 2/4."""
    body = "Am\nrepeat 2\n  E7\n  meter 2/4\n  Am { p , m }\n  meter 4/4\nend"
    root = etree.fromstring(to_musicxml(piece(body), form="folded", layout="notation"))
    meters = [one.findtext("attributes/time/beats") for one in root.iter("measure")]
    assert meters == ["4", "4", "2"]


def test_playings_are_numbered_where_every_bar_is_written():
    """Verse 1, verse 2."""
    root = etree.fromstring(to_musicxml(piece("Am\n\nform\n  verse x2"), form="played"))
    assert [one.text for one in root.iter("rehearsal")] == ["verse 1", "verse 2"]
