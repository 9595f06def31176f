"""The lesson in words, whole."""

from __future__ import annotations

import re

import pytest
from lesson_pool import LESSONS, Made
from markdown_it import MarkdownIt
from places import EXAMPLES
from reading_through import reading_of

from fretloom.api import examine, load
from fretloom.formats.students.words.options import WordsOptions
from fretloom.formats.students.words.page import write
from fretloom.performance.reading import Reading, read_through

HEAD = """lesson "Weir"
  by "The ferry"
  plays in E
  tempo 60
voicings
  E  022100  fingers .231..  bass 6 4 5 4
  A  002220  fingers ..123.  bass 5 4 6 4
  D  000000
  drone  000000
  F  133211  fingers 134211  bass 6 4 5 4
  Gb  244322  fingers 134211  bass 6 4 5 4
patterns
  plain  p , p m , p i , p m
  other "Other way"  p , i , m , i
"""


def words(body: str, wording: str = "markdown", **options: object) -> str:
    return _text(reading_of(HEAD + body), wording, **options)


def _text(reading: Reading, wording: str = "markdown", **options: object) -> str:
    [output] = write(reading, WordsOptions(wording=wording, **options))  # type: ignore[arg-type]
    return output.text


def part(text: str, title: str) -> list[str]:
    """Return the lines of one part of a page in Markdown."""
    [body] = re.findall(rf"^## {title}\n\n(.*?)(?=^## |\Z)", text, re.MULTILINE | re.DOTALL)
    return [line for line in body.splitlines() if line]


def song(body: str) -> list[str]:
    return part(words(body), "The song")


def test_what_to_know_first():
    lines = part(words("section verse using plain\n  E\n"), "Before you play")
    assert "- **Key**: E" in lines
    assert "- **Tempo**: 60 quarter notes a minute" in lines
    assert "- **Tuning**: standard: string 6 is E, 5 is A, 4 is D, 3 is G, 2 is B, 1 is E" in lines
    assert lines[-1] == "The left hand frets, the right hand picks."


def test_a_mirrored_player():
    """Left and right change places, and nothing else."""
    body = "section verse using plain\n  E | A\n"
    text, mirrored = words(body), words(body, mirrored=True)
    assert mirrored == text.replace(
        "The left hand frets, the right", "The right hand frets, the left"
    )
    assert mirrored != text


def test_strings_of_a_pair_and_how_to_retune():
    reading = read_through(examine(load(EXAMPLES / "twelve-panes.lesson")).lesson)
    assert "string 6 is E, 5 is A, 4 is D, 3 is G, 2 is B, 1 is E" in _text(reading)
    reading = examine(load(EXAMPLES / "glaze-and-ash.lesson")).reading
    text = _text(reading)
    assert "**Tuning**: open D: string 6 is D, 5 is A, 4 is D, 3 is F♯, 2 is A, 1 is D" in text
    assert "Tune string 3 down 1 half step, to F♯3." in text
    assert "3 is F sharp" in _text(reading, "spoken")


def test_bars_that_are_said_alike_are_said_once():
    assert song("section verse using plain\n  E x2 | A | A:2 E:2\n")[2:] == [
        "- **Bars 1 and 2**: E",
        "- **Bar 3**: A",
        "- **Bar 4**: A, from count 3 E",
    ]


def test_a_picking_that_is_not_the_usual_one():
    """Another pattern by its name; small changes as such; else count by count."""
    body = (
        "section verse using plain\n  E | A | E using other | E with a@2 on 3& | E without p on 4\n"
        "  E with body-slap on 2 | E { p, -, p+m, - } | E { -, -, -, - }\n"
    )
    assert song(body)[1:] == [
        "Picked with Plain.",
        "- **Bar 1**: E",
        "- **Bar 2**: A",
        "- **Bar 3**: E, picked with Other way",
        "- **Bar 4**: E, and on the and of 3 besides: ring string 1 fret 2",
        "- **Bar 5**: E, without the thumb on count 4",
        "- **Bar 6**: E, and on count 2 besides: slap the body",
        "- **Bar 7**: E, with a picking of its own. 1: thumb string 6. 3: thumb string 4 and middle string 2 together.",
        "- **Bar 8**: E, nothing is plucked",
    ]


def test_what_is_played_again_is_said_by_its_numbers():
    body = "section verse using plain\n  repeat 2\n    E | A | E | A\n    ending 1: E\n    ending 2: A\n  end\n"
    assert song(body)[2:] == [
        "- **Bar 1**: E",
        "- **Bar 2**: A",
        "- **Bar 3**: E",
        "- **Bar 4**: A",
        "- **Bar 5**: E",
        "- **Bars 6 to 9**: as bars 1 to 4",
        "- **Bar 10**: A",
    ]


def test_a_later_playing_says_what_is_new():
    body = 'section verse "Verse" using plain\n  E | A | E | A\nform\n  verse\n  verse\n    but last bar: E x2\n'
    assert song(body)[6:] == [
        "### Verse 2, 5 bars",
        "- **Bars 1 to 3**: as before",
        "- **Bars 4 and 5**: E",
    ]


@pytest.mark.parametrize(
    ("but", "said"),
    [
        ("without bars 1-2", "- **Bars 1 and 2**: as bars 3 and 4 of Verse 1"),
        ("only bars 2-2", "- **Bar 1**: as bar 2 of Verse 1"),
        ("without last 2 bars", "- **Bars 1 and 2**: as before"),
    ],
)
def test_bars_in_another_place_than_before_are_said_by_their_place(but: str, said: str):
    body = f"section verse using plain\n  E | A | F | Gb\nform\n  verse\n  verse\n    but {but}\n"
    assert song(body)[-1] == said


def test_the_strings_of_a_thumb_are_said_over_the_shape_that_has_them():
    """E has its thumb on strings 6 and 4, A on 5 and 4."""
    text = words("section verse using plain\n  E | A\n")
    assert "Over E the thumb plays strings 6, 4, 5 and 4 in turn." in text
    text = words("section verse using plain\n  E | F\n")
    assert "The thumb plays strings 6, 4, 5 and 4 in turn." in text


def test_an_ending_that_comes_earlier_is_named_by_its_place():
    """And a third playing that is as the second one says so."""
    body = (
        "section verse using plain\n  F\n  repeat 2\n    E\n    ending 1: A\n    ending 2: Gb\n  end\n"
        "form\n  verse\n  verse\n    but without repeats\n  verse\n    but without repeats\n"
    )
    lines = song(body)
    assert lines[-6:] == [
        "### Verse 2, 3 bars",
        "- **Bars 1 and 2**: as before",
        "- **Bar 3**: as bar 5 of Verse 1",
        "### Verse 3, 3 bars",
        "- **Bars 1 and 2**: as before",
        "- **Bar 3**: as bar 3 of Verse 2",
    ]


def test_a_pattern_in_a_later_playing_only_is_said_where_it_is():
    body = (
        "section verse using plain\n  E | A\nform\n  verse\n  verse\n    but bars 1-1 using other\n"
    )
    assert song(body)[5:] == ["- **Bar 1**: E, picked with Other way", "- **Bar 2**: as before"]


def test_what_is_asked_is_said_where_it_is_new():
    body = (
        "section verse using plain\n  dynamic p\n  E | A\n  crescendo to f over 2 bars\n  E | A\n  E\n"
        "  ritardando to 40 over 2 bars\n  A | E\n  free time\n  A\n"
    )
    assert song(body)[2:] == [
        "- **Bar 1**: E, soft",
        "- **Bar 2**: A",
        "- **Bar 3**: E, growing louder",
        "- **Bar 4**: A",
        "- **Bar 5**: E, loud",
        "- **Bar 6**: A, slowing down, to 40 quarter notes a minute",
        "- **Bar 7**: E",
        "- **Bar 8**: A, free time",
    ]


def test_what_only_a_later_playing_asks_is_not_lost_in_what_is_as_before():
    body = "section verse using plain\n  E | A | E | A\nform\n  verse\n  verse\n    but dynamic f\n    but ritardando to 40 over last 2 bars\n"
    assert song(body)[-2:] == [
        "- **Bars 1 and 2**: as before, loud",
        "- **Bars 3 and 4**: as before, slowing down, to 40 quarter notes a minute",
    ]


def test_a_meter_and_bars_of_other_lengths():
    body = (
        "section verse using plain\n  pickup from 4: E { i }\n  E\n  last 3: A { p, p, - }\n"
        "section three in 3/4\n  E { p, i, m }\n"
    )
    assert [one for one in song(body) if one.startswith("-")] == [
        "- **Pickup**: E, with a picking of its own. 4: index string 3.",
        "- **Bar 1**: E",
        "- **Bar 2**: A, a short bar, with a picking of its own. 1: thumb string 5. 2: thumb string 4.",
        "- **Bar 1**: E, count 3 to the bar, 3/4, with a picking of its own. 1: thumb string 6. 2: index string 3. 3: middle string 2.",
    ]


def test_what_is_sung_is_written_as_in_a_book():
    """Syllables are not divided; of bars as before the words come in one piece."""
    body = (
        'section verse using plain\n  "soft now" E | A | E\n  words 1: "burn-ing" | "lamps a-" | "long"\n'
        '  words 2: "no-bo-dy" | "walks a-" | "lone"\nform\n  verse x2\n'
    )
    lines = song(body)
    assert "- **Bar 1**: E, “soft now”, sung: “burning”" in lines
    assert lines[-1] == "- **Bars 1 to 3**: as before, sung: “nobody walks alone”"


def test_changes_stand_once_with_their_caution_in_full_once():
    text = words("section verse using plain\n  E | F | E | Gb | drone | D | E\n")
    lines = part(text, "Changes")
    assert [one for one in lines if one.startswith("#")] == [
        *("### E to F", "### F to E", "### E to G♭", "### G♭ to drone", "### D to E"),
    ]
    assert text.count("The barre takes strength") == 1
    assert text.count("Rest the hand here too.") == 1


def test_a_change_that_only_a_step_shows_is_said_too():
    body = 'section verse using plain\n  E | E\nstep "Try"\n  show change A to E\n'
    assert "### A to E" in part(words(body), "Changes")


def test_steps_say_what_to_do_and_how_fast():
    body = (
        'section verse "Verse" using plain\n  E | A\nstep "One"\n  Slowly now.\n  show voicing E\n'
        "  show change E to A\n  show pattern plain over E at 50\n  show bar 1 of verse from 40 to 60\n  show form\n"
    )
    assert part(words(body), "The steps") == [
        "### Step 1: One",
        "Slowly now.",
        "- Look at the shape E.",
        "- Make the change E to A.",
        "- Play the pattern Plain, over E, at 50 quarter notes a minute.",
        "- Play Verse, bar 1, from 40 up to 60 quarter notes a minute.",
        "- Play the whole song.",
    ]


def test_the_spoken_form_goes_bar_by_bar():
    text = words("section verse using plain\n  E x2 | Gb\n", "spoken")
    assert (
        "\nBar 1: E. 1: thumb string 6 open. 2: thumb string 4 fret 2; and: middle string 2 open. "
        in text
    )
    assert "\nBar 2: E. The same as the bar before.\n" in text
    assert "\nBar 3: G flat. 1: thumb string 6 fret 2." in text
    assert "Shape G flat.\n" in text
    assert "From E to G flat.\n" in text


def test_what_is_left_out_is_named():
    [output] = write(
        reading_of(HEAD + "section verse using plain\n  E  # softly\n"), WordsOptions()
    )
    said = [one.what for one in output.left_out]
    assert "1 comment, which is not part of a lesson in words" in said
    assert any(one.startswith("the voicings A, D, drone, F and 1 more") for one in said)


@pytest.mark.parametrize(
    ("wording", "name"),
    [("markdown", "weir.words.md"), ("plain", "weir.words.txt"), ("spoken", "weir.spoken.txt")],
)
def test_each_form_has_its_ending(wording: str, name: str) -> None:
    [output] = write(
        reading_of(HEAD + "section verse using plain\n  E\n"), WordsOptions(wording=wording)
    )
    assert output.name == name


HOSTILE = "<script>alert(1)</script> [x](javascript:a) **b** `c` &lt; | # - 1. http://a.example"


def test_hostile_texts_never_become_markup():
    """Titles, names, cues, words, steps: the page has the headings, lists and strong words that it would have."""
    body = 'section verse "{0}" using plain\n  "{0}" E | A\n  words: "{0}" | "b"\nstep "{0}"\n  {0}\n  show form\n'
    hostile = (
        (HEAD + body.format(HOSTILE))
        .replace('"Weir"', f'"{HOSTILE}"')
        .replace("The ferry", HOSTILE)
    )
    plain = (HEAD + body.format("calm")).replace('"Weir"', '"calm"').replace("The ferry", "calm")
    shapes = [_structure(_text(reading_of(one))) for one in (hostile, plain)]
    assert shapes[0] == shapes[1]
    assert HOSTILE in _text(reading_of(hostile), "plain")


def _structure(text: str) -> list[str]:
    found = MarkdownIt("commonmark").enable(["table", "strikethrough"]).parse(text)
    every = [*found, *(child for one in found for child in one.children or ())]
    return [one.type for one in every if one.type not in ("text", "text_special")]


@LESSONS.law(most=60)
def test_any_lesson_in_words(made: Made) -> None:
    """All forms; the Markdown has headings, passages and points and nothing else; no name of the notation's own."""
    reading = read_through(made.read)
    for wording in ("plain", "spoken"):
        assert _text(reading, wording, strings="names", finger_words="figures")
    text = _text(reading)
    assert set(_structure(text)) <= {
        *("heading_open", "heading_close", "paragraph_open", "paragraph_close", "inline"),
        *("bullet_list_open", "bullet_list_close", "ordered_list_open", "ordered_list_close"),
        *("list_item_open", "list_item_close", "strong_open", "strong_close"),
    }
    assert text.count("\n### ") >= len(
        dict.fromkeys((one.entry, one.playing) for one in made.timeline.bars)
    )


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.lesson")), ids=lambda path: path.stem)
def test_the_words_of_the_examples_are_plain_english(path) -> None:
    """No sign of the notation, no word of the program, no sentence twice in a row; short sentences."""
    text = _text(examine(load(path)).reading)
    told = re.sub(r"^### Step.*?(?=^##)", "", text, flags=re.MULTILINE | re.DOTALL)
    for word in ("None", "{", "}", " but last", "_", " ,", "..", "  ", ": :", "(, "):
        assert word not in told.replace("“", "").replace(" ...”", ""), word
    sentences = re.split(r"(?<=[.;:]) |\n", told)
    assert max(len(one.split()) for one in sentences) < 40


def test_a_loudness_that_comes_back_after_it_grew_is_said():
    body = "section verse using plain\n  dynamic p\n  E\n  crescendo to f over 1 bar\n  A\n  dynamic p\n  E\n"
    assert song(body)[2:] == [
        "- **Bar 1**: E, soft",
        "- **Bar 2**: A, growing louder",
        "- **Bar 3**: E, soft",
    ]


def test_a_tempo_that_was_reached_is_not_said_again():
    body = "section verse using plain\n  ritardando to 40 over 1 bar\n  E\n  A\n  tempo 60\n  E\n"
    assert song(body)[2:] == [
        "- **Bar 1**: E, slowing down, to 40 quarter notes a minute",
        "- **Bar 2**: A",
        "- **Bar 3**: E, at 60 quarter notes a minute",
    ]


def test_bars_that_come_again_do_not_lean_on_themselves():
    """Nor do they swallow a cue."""
    body = "section verse using plain\n  E | A | E | A\n  E | A | E | A\n  E\n"
    assert song(body)[6:] == ["- **Bars 5 to 8**: as bars 1 to 4", "- **Bar 9**: E"]
    body = 'section verse using plain\n  E | A | E | A\n  "softly" E | A | E | A\n'
    assert "- **Bar 5**: E, “softly”" in song(body)


def test_three_changes_to_a_pattern_are_a_picking_of_its_own():
    body = "section verse using plain\n  E | A\n  E with a on 1 with a on 2 with a on 3\n"
    assert song(body)[-1].startswith(
        "- **Bar 3**: E, with a picking of its own. 1: thumb string 6 and ring string 1"
    )
