"""Captions and chapters, read back by webvtt-py."""

from __future__ import annotations

import io
import re
from fractions import Fraction

import pytest
import webvtt
from attrs import evolve
from lesson_pool import LESSONS as POOL
from lesson_pool import Made
from midi_lessons import bars, lesson, playback_of
from places import EXAMPLES
from reading_through import reading_of

from fretloom.api import examine, load
from fretloom.errors import FretloomError
from fretloom.formats.sound.captions.document import to_captions, write
from fretloom.formats.sound.captions.options import CaptionOptions
from fretloom.performance.playback.play import play
from fretloom.performance.playback.sounds import BarTime

LESSONS = sorted(EXAMPLES.glob("*.lesson"))
_TIME = re.compile(r"<(\d\d+):(\d\d):(\d\d\.\d{3})>")


def captions_of(text: str, offset: float = 0) -> list[webvtt.Caption]:
    """Return a lesson's captions as webvtt-py reads them."""
    return list(read(write(reading_of(text), CaptionOptions(offset=offset))[0].text))


def chapters_of(text: str) -> list[tuple[float, float, str]]:
    """Return a lesson's chapters: seconds from and to, and their titles."""
    output = write(reading_of(text), CaptionOptions())[1]
    assert output.name == "weir.chapters.vtt"
    return [(one.start_in_seconds, one.end_in_seconds, one.raw_text) for one in read(output.text)]


def read(text: str) -> webvtt.WebVTT:
    return webvtt.from_buffer(io.BytesIO(text.encode()))


def seconds(found: tuple[str, str, str]) -> Fraction:
    hours, minutes, rest = found
    return Fraction(int(hours) * 3600 + int(minutes) * 60) + Fraction(rest)


def inner(caption: webvtt.Caption) -> list[Fraction]:
    """Return the times inside a caption."""
    return [seconds(one) for one in _TIME.findall(caption.raw_text)]


def limits(caption: webvtt.Caption) -> list[Fraction]:
    """Return when a caption begins and ends, exactly."""
    return [seconds(tuple(one.split(":"))) for one in (caption.start, caption.end)]


def test_a_caption_a_bar_with_place_chords_counts_and_words() -> None:
    """The chord that comes next is said before it comes."""
    text = lesson(
        'section verse "Verse"\n  E | E D\n  words: "a-long the lane" | "home"\n', "tempo 60"
    )
    first, second = captions_of(text)
    assert first.text == "Verse, bar 1\nE 1 2 3 4\nalong the lane"
    assert second.text == "Verse, last bar\nE 1 2 D 3 4\nhome"
    assert (first.start, first.end, second.end) == ("00:00:00.000", "00:00:04.000", "00:00:08.000")
    # The chord of the third beat has its time, and the count behind it needs none.
    assert inner(second) == [5, 6, 7]


def test_the_next_bars_chord_is_said_unless_it_is_held_already() -> None:
    found = [one.text.splitlines()[1] for one in captions_of(bars("E | E | D"))]
    assert found == ["E 1 2 3 4", "E 1 2 3 4 then D", "D 1 2 3 4"]


def test_counts_and_chords_have_their_times_and_chords_swing() -> None:
    """A chord on the second half of a beat comes at two thirds of it."""
    text = lesson(
        "section verse\n  E { p6 p6 , p6 p6 , p6 , p6 } | D early on 4& | D\n",
        "tempo 60", "swing 2:1",
    )  # fmt: skip
    first = captions_of(text)[0]
    assert first.text == "Verse, bar 1\nE 1 2 3 4 D"
    assert inner(first) == [1, 2, 3, Fraction("3.667")]


@pytest.mark.parametrize(
    ("meter", "counts"), [("6/8", "1 2 3 4 5 6"), ("2+2+3/8", "1 2 3 4 5 6 7"), ("3/4", "1 2 3")]
)
def test_counts_are_those_that_are_said_aloud(meter: str, counts: str) -> None:
    assert captions_of(bars("E", f"meter {meter}"))[0].text == f"Verse\nE {counts}"


def test_a_pickup_has_its_own_count() -> None:
    text = lesson("section verse\n  pickup 1: E { p6 }\n  E\n")
    assert [one.text for one in captions_of(text)] == [
        "Verse, pickup\nE 4",
        "Verse\nE 1 2 3 4",
    ]


def test_shapes_of_one_chord_have_the_names_that_all_pages_give_them() -> None:
    high = "  E.high  0x9997  fingers ..2341\n"
    text = lesson(f"{high}\nsection verse\n  E | E.high | D\n")
    found = [one.text.splitlines()[1] for one in captions_of(text)]
    assert found == ["E 1 2 3 4 then E at fret 7", "E at fret 7 1 2 3 4 then D", "D 1 2 3 4"]


def test_bars_that_are_not_in_the_song_have_their_numbers() -> None:
    """A pattern alone, as a step shows it."""
    text = (
        bars("E")
        + '\npatterns\n  plain  p6 , p6 , p6 , p6\n\nstep "One"\n  show pattern plain over E at 60\n'
    )
    reading = reading_of(text)
    captions, chapters = write(reading, CaptionOptions(step="1"))
    assert {one.text.splitlines()[0] for one in read(captions.text)} == {"bar 1"}
    assert next(one.raw_text for one in read(chapters.text)) == "to practise"


def test_what_is_left_to_the_student_is_called_so() -> None:
    """A chapter of its own, without a number, and the next time goes on counting."""
    reading = reading_of(bars("E | D"))
    captions, chapters = write(reading, CaptionOptions(answer=True, times=2))
    firsts = [one.text.splitlines()[0] for one in read(captions.text)]
    assert firsts[:4] == [
        "Verse, bar 1", "Verse, last bar", "your turn: Verse, bar 1", "your turn: Verse, last bar",
    ]  # fmt: skip
    assert [one.raw_text for one in read(chapters.text)] == [
        "Verse", "your turn: Verse", "Verse (2)", "your turn: Verse",
    ]  # fmt: skip


def test_the_count_says_how_fast_it_is_in_the_beats_of_the_lesson() -> None:
    reading = reading_of(bars("E", "meter 6/8", "tempo 60 to 3/8"))
    (output, _) = write(reading, CaptionOptions(tempos=(40,), count_in=True))
    assert next(iter(read(output.text))).text.splitlines()[0] == "count-in, at 40"


def test_the_count_says_the_tempo_that_was_chosen() -> None:
    """In 6/8 tempos are chosen in dotted quarters, also where the lesson gives its own in quarters."""
    reading = reading_of(bars("E", "meter 6/8", "tempo 90"))
    for output in write(reading, CaptionOptions(tempos=(40,), count_in=True)):
        assert next(iter(read(output.text))).text.splitlines()[0] == "count-in, at 40"


def test_a_bar_of_rest_says_so() -> None:
    assert captions_of(bars("E | rest | E"))[1].text == "Verse, bar 2\nrest\n1 2 3 4 then E"


def test_a_bar_that_is_counted_in_has_a_caption_and_a_chapter() -> None:
    text = bars("E", "tempo 60")
    once = playback_of(text)
    counts = tuple((Fraction(place), min(place, 2)) for place in range(4))
    count = BarTime(start=Fraction(0), end=Fraction(4), counts=counts)
    later = tuple((at + 4, strong) for at, strong in once.bars[0].counts)
    bar = evolve(once.bars[0], start=Fraction(4), end=Fraction(8), counts=later)
    playback = evolve(once, bars=(count, bar), end=Fraction(8), sounds=())
    captions, chapters = to_captions(playback, reading_of(text).timeline, Fraction(0))
    assert [one.text for one in read(captions)] == [
        "count-in, at 60\n1 2 3 4 then E",
        "Verse\nE 1 2 3 4",
    ]
    assert [(one.start_in_seconds, one.raw_text) for one in read(chapters)] == [
        (0, "count-in, at 60"), (4, "Verse"),
    ]  # fmt: skip


def test_sections_are_chapters_as_a_student_calls_them() -> None:
    text = lesson(
        'section verse "Strophe"\n  E\n\nsection coda\n  D\n\nform\n  verse x2\n  coda\n',
        "tempo 60",
    )
    assert chapters_of(text) == [(0, 4, "Strophe 1"), (4, 8, "Strophe 2"), (8, 12, "Coda")]


def test_an_offset_moves_all_and_cuts_what_comes_before_the_beginning() -> None:
    text = bars("E | E | D", "tempo 60")
    later = captions_of(text, 2.5)
    assert (later[0].start, later[-1].end) == ("00:00:02.500", "00:00:14.500")
    earlier = captions_of(text, -6)
    assert [(one.start, one.end) for one in earlier] == [
        ("00:00:00.000", "00:00:02.000"), ("00:00:02.000", "00:00:06.000"),
    ]  # fmt: skip
    assert [one.text.splitlines()[0] for one in earlier] == ["Verse, bar 2", "Verse, last bar"]


def test_a_recording_at_another_tempo_has_its_times() -> None:
    """Twice as fast, and begun after a second and a half."""
    reading = reading_of(bars("E | D", "tempo 60"))
    (output, _) = write(reading, CaptionOptions(tempos=(120,), offset=1.5))
    assert [one.start for one in read(output.text)] == ["00:00:01.500", "00:00:03.500"]


def test_bars_that_are_played_again_are_chapters_of_their_own() -> None:
    reading = reading_of(bars("E | D", "tempo 60"))
    (_, output) = write(reading, CaptionOptions(times=2, count_in=True))
    assert [one.raw_text for one in read(output.text)] == ["count-in, at 60", "Verse", "Verse (2)"]


@pytest.mark.parametrize("offset", [86_401, -86_401, float("nan"), float("inf"), "2,5", True])
def test_an_offset_that_is_none_is_refused(offset: object) -> None:
    with pytest.raises(FretloomError, match=r"^offset is a number from -86400 to 86400, not "):
        CaptionOptions(offset=offset)


@pytest.mark.parametrize(
    "hostile",
    ["a --> b", "</c><b>", "&lt; &", "<00:00:01.000>", "{\\\\n}", "NOTE x", "STYLE", "🎸 水門"],
)
def test_words_are_no_markup(hostile: str) -> None:
    """In titles, cues and words that are sung."""
    text = lesson(
        f'section verse "{hostile}"\n  "{hostile}" E\n  words: "{hostile}"\n', title=hostile
    )
    shown = hostile.replace("\\\\", "\\")
    (caption,) = captions_of(text)
    plain = [unescaped(re.sub(r"<[^>]*>", "", line)) for line in caption.raw_text.splitlines()]
    assert plain[0] == shown
    assert plain[-1] == shown
    assert "-->" not in "".join(caption.raw_text)
    ((_, _, chapter),) = chapters_of(text)
    assert unescaped(chapter) == shown


def unescaped(text: str) -> str:
    return text.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")


@pytest.mark.parametrize("file", LESSONS, ids=lambda file: file.stem)
def test_captions_of_the_examples_come_with_their_bars(file) -> None:
    """To the millisecond, none over another."""
    reading = examine(load(file)).reading
    timeline = reading.timeline
    playback = play(timeline.bars, timeline.settings)
    found = list(read(write(reading, CaptionOptions())[0].text))
    assert len(found) == len(timeline.bars)
    for caption, time in zip(found, playback.bars, strict=True):
        for shown, position in zip(limits(caption), (time.start, time.end), strict=True):
            assert abs(shown - playback.clock.seconds(position)) <= Fraction(1, 2000)


@POOL.law(most=24)
def test_times_only_go_on(made: Made) -> None:
    """Captions do not overlap, and the times inside one come in order, after its start and before its end."""
    timeline = made.timeline
    captions, chapters = to_captions(play(timeline.bars, timeline.settings), timeline, Fraction(0))
    for text in (captions, chapters):
        now = Fraction(0)
        blocks = text.rstrip("\n").split("\n\n")
        assert blocks[0] == "WEBVTT"
        assert not any("-->" in one for one in blocks[1:2] if one.startswith("NOTE"))
        cues = [one for one in blocks[1:] if not one.startswith("NOTE ")]
        found = list(read(text)) if cues else []
        assert len(found) == len(cues)
        for caption in found:
            start, end = limits(caption)
            assert now <= start < end
            times = [start, *inner(caption), end]
            assert times == sorted(set(times))
            now = end
