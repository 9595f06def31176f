"""Lists, counts, near names, tables, and how wide a text is on a terminal."""

from __future__ import annotations

import subprocess
import sys
import unicodedata
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretloom.limits import LIMITS
from fretloom.text import (
    agreeing,
    columns,
    counted,
    in_figures,
    listed,
    near_names,
    nearest,
    only_near,
    ordinal,
    padded,
    table,
    times,
    told_apart,
    visible,
    visible_signs,
)


@pytest.mark.parametrize(
    ("words", "said"),
    [((), ""), (("G",), "G"), (("G", "C"), "G and C"), ((1, 2, 3), "1, 2 and 3")],
)
def test_lists_read_as_a_sentence(words: tuple[object, ...], said: str) -> None:
    """A comma between all but the last two."""
    assert listed(words) == said


def test_a_list_can_offer_a_choice() -> None:
    """The last word is joined as the sentence needs it."""
    assert listed("pim", "or") == "p, i or m"


@pytest.mark.parametrize(
    ("number", "said"),
    [
        (0, "0 beats"),
        (1, "1 beat"),
        (2, "2 beats"),
        (11, "11 beats"),
        (Fraction(1, 2), "1/2 beat"),
        (Fraction(3, 4), "3/4 beat"),
        (Fraction(3, 2), "3/2 beats"),
        ("1.5", "1.5 beats"),
        ("1 1/2", "1 1/2 beats"),
    ],
)
def test_counts_take_the_plural_they_need(number: int | Fraction | str, said: str) -> None:
    """One and what is less than one are singular."""
    assert counted(number, "beat") == said


def test_words_agree_with_their_number() -> None:
    """A verb and a plural without s are given in both forms."""
    assert [agreeing(number, "has", "have") for number in (0, 1, 2)] == ["have", "has", "have"]
    assert [counted(number, "pass", "passes") for number in (1, 2)] == ["1 pass", "2 passes"]
    assert [times(number) for number in (1, 2, 3)] == ["once", "twice", "3 times"]


def test_numbers_that_differ_are_written_so() -> None:
    """With no more decimals than that takes."""
    assert told_apart(0.12, 0.145, 2) == ("0.12", "0.14")
    assert told_apart(0.1363, 0.1449, 2) == ("0.136", "0.145")
    assert told_apart(97.4, 97.1, 0) == ("97.4", "97.1")
    assert told_apart(0.25, 0.25, 2) == ("0.25", "0.25")
    assert told_apart(0.1, 0.1 + 1e-15, 2) == ("0.100000000", "0.100000000")


def test_ordinals_have_their_endings() -> None:
    """Those from 11 to 13 are unlike their last digit."""
    assert [ordinal(one) for one in (1, 2, 3, 4)] == ["1st", "2nd", "3rd", "4th"]
    assert [ordinal(one) for one in (11, 12, 13)] == ["11th", "12th", "13th"]
    assert [ordinal(one) for one in (21, 22, 111)] == ["21st", "22nd", "111th"]


def test_the_nearest_name_comes_first() -> None:
    """Of names that look alike the likest is taken, whatever the capitals; none of those that do not."""
    assert nearest("chrous", ["verse", "chorus", "chord"]) == "chorus"
    assert nearest("VERSE", ["reverse", "verse"]) == "verse"
    assert nearest("Hm", ["Em", "Bm"]) == "Bm"
    assert nearest("waltz", ["verse", "chorus"]) == ""
    assert nearest("versed", ["verse"], alike=0.95) == ""
    assert near_names("verse", ["chorus", "verses", "reverse"], 2) == ["verses", "reverse"]


def test_names_are_compared_within_bounds() -> None:
    """Among very many names, and beyond a length, no likeness is looked for."""
    many = [f"x{number}" for number in range(LIMITS.compared)]
    assert nearest("chrous", [*many[1:], "chorus"]) == "chorus"
    assert nearest("chrous", [*many, "chorus"]) == ""
    long = "a" * LIMITS.compared_letters
    assert near_names(long + "b" * 500, [long], 1, 1.0) == [long]


@pytest.mark.parametrize(
    ("text", "width"),
    [
        ("G", 1),
        ("Grün", 4),
        ("D♯ 𝄞", 4),
        ("日本", 4),
        ("ｱﾒ", 2),
        ("한국", 4),
        ("\u1112\u1161\u11ab", 2),  # the same first syllable, put together from three letters
        ("e\u0301", 1),
        ("e\u0301\u0323\u0302", 1),
        ("☕", 2),
        ("☕\ufe0f", 2),  # drawn as a picture
        ("❤", 1),
        ("❤\ufe0f", 2),
        ("👩\u200d🌾", 2),  # joined into one picture
        ("👨\u200d👩\u200d👧\u200d👦", 2),
        ("👍🏽", 2),  # with a skin tone
        ("🇩🇪", 2),  # two letters make a flag
        ("1\ufe0f\u20e3", 2),
        ("…", 1),
    ],
)
def test_columns_are_what_a_terminal_takes(text: str, width: int) -> None:
    """Widths by Unicode Standard Annex 11 and Unicode Technical Standard 51, set down by hand."""
    assert columns(text) == width
    assert columns(f"a{text}b") == width + 2


@given(st.text(st.characters(max_codepoint=0x2FF, exclude_categories=["Cc", "Cf"])))
def test_latin_letters_take_one_column_each(text: str) -> None:
    """The quick way for them gives what the library gives."""
    from wcwidth import wcswidth

    assert columns(text) == wcswidth(text) == len(text)


def test_control_characters_take_no_column() -> None:
    """A text that was not made visible has a width too."""
    assert columns("日\n\u0301") == 2


@given(st.text())
def test_what_is_visible_steers_no_terminal(text: str) -> None:
    """No control character is left, nor one that is hidden but for joiners; and it stays so."""
    shown = visible(text)
    left = {unicodedata.category(character) for character in shown.replace("\u200d", "")}
    assert left & {"Cc", "Cf", "Cs", "Co", "Zl", "Zp"} == set()
    assert visible(shown) == shown
    assert "".join(visible_signs(text)) == shown
    assert len(visible_signs(text)) == len(text)


def test_hidden_characters_are_shown_as_signs() -> None:
    """Escape sequences, marks that turn the direction of writing, and joiners that join nothing."""
    assert visible("\x1b[2J\t\u202eG\x9b") == "␛[2J    �G�"
    assert visible("a\u200db") == "a�b"
    assert visible("\u200d👩") == "�👩"
    assert visible("👩\u200d") == "👩�"


@pytest.mark.parametrize("joined", ["👩\u200d🌾", "👩🏽\u200d🌾", "❤\ufe0f\u200d🔥"])
def test_joined_pictures_stay_joined(joined: str) -> None:
    """The joiner between two pictures is shown, with a skin tone or a selector before it too."""
    assert visible(joined) == joined
    assert columns(visible(joined)) == 2


def test_tables_align_by_what_is_seen() -> None:
    """Columns begin under one another whatever stands before them; nothing stands after the last."""
    rows = [("G", "320003", "easy"), ("☕\ufe0f", "x02210"), ("e\u0301 日本", "", "x")]
    assert table(rows) == [
        "G       320003  easy",
        "☕\ufe0f      x02210",
        "e\u0301 日本          x",
    ]


def test_tables_take_a_least_width_and_a_gap() -> None:
    """Cells of several tables line up when all have one width."""
    assert table([("6", "5"), ("E", "A#")], gap=1, least=4) == ["6    5", "E    A#"]
    assert table([]) == []
    assert padded("日", 4) == "日  "


def test_plain_text_needs_no_library() -> None:
    """The library for widths is imported only when a text needs it."""
    code = (
        "import sys; from fretloom.text import columns, table; table([('Grün', 'G')]);"
        "assert 'wcwidth' not in sys.modules and 'difflib' not in sys.modules;"
        "columns('♯'); assert 'wcwidth' in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True, timeout=60)


@pytest.mark.parametrize(
    ("name", "known", "meant"),
    [
        ("plane", ["plain", "pinched"], "plain"),
        ("plian", ["plain"], "plain"),
        ("pinch", ["plain", "pinched"], "pinched"),
        ("Verse", ["verse", "verses"], "verse"),
        ("AM", ["Am", "A"], "Am"),
        ("vers", ["verse", "verso"], ""),
        ("verse2", ["verse"], ""),
        ("verse2", ["verse1", "verse3"], ""),
        ("verse-b", ["verse"], ""),
        ("Am", ["A", "Em"], ""),
        ("end", ["and"], ""),
        ("plain", ["plain", "plan"], ""),
        ("plain", [], ""),
        ("x" * 100, ["x" * 101], ""),
    ],
)
def test_the_only_name_that_can_be_meant(name: str, known: list[str], meant: str) -> None:
    """One slip in a word of some length, and no other name as near."""
    assert only_near(name, known) == meant


@pytest.mark.parametrize(
    ("numbers", "words"),
    [([1], "1"), ([1, 2], "1, 2"), ([1, 2, 3, 5], "1–3, 5"), ([2, 4, 5], "2, 4, 5"), ([], "")],
)
def test_numbers_in_figures(numbers: list[int], words: str):
    """Three that follow one another are a run (common practice)."""
    assert in_figures(numbers) == words
