"""Options of formats: what is declared once is checked, read from text and shown."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fretloom.errors import FretloomError
from fretloom.formats.musicxml.options import ScoreOptions
from fretloom.formats.options import chosen, declared
from fretloom.formats.sound.captions.options import CaptionOptions
from fretloom.formats.students.handout.options import HandoutOptions
from fretloom.formats.tab.options import TabOptions


@pytest.mark.parametrize(
    ("options", "given", "said"),
    [
        (TabOptions, {"width": -5}, "width is a whole number from 40 to 10000, not -5"),
        (TabOptions, {"width": 39}, "width is a whole number from 40 to 10000, not 39"),
        (TabOptions, {"width": 10_001}, "from 40 to 10000, not 10001"),
        (TabOptions, {"width": "78"}, "width is a whole number from 40 to 10000, not '78'"),
        (TabOptions, {"width": True}, "from 40 to 10000, not True"),
        (TabOptions, {"unrolled": 1}, "unrolled is True or False, not 1"),
        (
            ScoreOptions,
            {"layout": "sideways"},
            "layout is one of notation-and-tab, two-parts, notation, tab, not 'sideways'",
        ),
        (
            ScoreOptions,
            {"encoding_date": "2026-02-30"},
            "encoding_date is a day written YYYY-MM-DD, not '2026-02-30'",
        ),
        (ScoreOptions, {"encoding_date": "20260301"}, "YYYY-MM-DD, not '20260301'"),
    ],
)
def test_a_wrong_value_is_refused_with_the_allowed_ones(
    options: type, given: dict[str, object], said: str
) -> None:
    """The sentence names the option, what it takes, and what was given."""
    with pytest.raises(FretloomError) as caught:
        options(**given)
    assert said in str(caught.value)


@pytest.mark.parametrize("width", [40, 10_000])
def test_the_ends_of_the_range_are_in_it(width: int) -> None:
    """The least and the most are allowed."""
    assert TabOptions(width=width).width == width


def test_an_option_that_a_format_does_not_take_is_refused_with_those_it_has() -> None:
    """A slip of the pen is not passed over."""
    with pytest.raises(FretloomError, match="tab does not take the option widht: its options are"):
        chosen(TabOptions, {"widht": 60}, "tab")


@pytest.mark.parametrize(
    ("text", "value"), [("60", 60), ("-5", -5), ("wide", "wide"), ("6O", "6O"), ("", "")]
)
def test_what_was_typed_becomes_a_value_or_stays_text(text: str, value: object) -> None:
    """Text that is not a number is left for the check to refuse."""
    width = declared(TabOptions)[0]
    assert width.kind.read(text) == value


def test_what_is_declared_can_be_shown() -> None:
    """Name, default, meaning, and how the command calls it."""
    ring_ties = next(one for one in declared(ScoreOptions) if one.name == "ring_ties")
    assert (ring_ties.switch, ring_ties.default, ring_ties.kind.shown) == ("--ring-ties", False, "")
    assert "let-ring tie" in ring_ties.says


@pytest.mark.parametrize("given", [("Shapes", " song "), ["shapes", "SONG"]])
def test_several_words_may_be_in_any_case_and_a_list(given: object) -> None:
    """With blanks around them."""
    assert HandoutOptions(parts=given).parts == ("shapes", "song")


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (("shapes", "songs"), "with commas between them, not songs$"),
        (("shapes", ""), "not an empty word$"),
        ("shapes", "^parts is a tuple of words, not text$"),
        ((1,), "^parts is a tuple of words, not of int$"),
        (7, "^parts is a tuple of words, not int$"),
    ],
)
def test_the_one_word_that_is_wrong_is_named(given: object, said: str) -> None:
    """And those that are right are not."""
    with pytest.raises(FretloomError, match=said):
        HandoutOptions(parts=given)


def test_several_words_are_typed_with_commas() -> None:
    """Blanks and case are no fault."""
    (parts,) = [one for one in declared(HandoutOptions) if one.name == "parts"]
    assert HandoutOptions(parts=parts.kind.read("Shapes, song")).parts == ("shapes", "song")


@pytest.mark.parametrize(
    ("text", "value"),
    [("2.5", Fraction(5, 2)), ("-0.125", Fraction(-1, 8)), ("3", 3), ("2,5", "2,5"), ("", "")],
)
def test_a_decimal_is_read_exactly(text: str, value: object) -> None:
    """What is no number stays text, to be refused."""
    (offset,) = [one for one in declared(CaptionOptions) if one.name == "offset"]
    assert offset.kind.read(text) == value


def test_a_float_stands_for_the_thousandths_it_is_nearest_to() -> None:
    assert CaptionOptions(offset=0.1).offset == Fraction(1, 10)


def test_a_number_beyond_the_range_is_shown_as_a_number() -> None:
    with pytest.raises(FretloomError, match=r"from -86400 to 86400, not 86400\.5$"):
        CaptionOptions(offset=Fraction(172_801, 2))
