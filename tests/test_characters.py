"""Characters nobody sees: which they are, and where they do what they are for."""

from __future__ import annotations

import json
import sys
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretloom.characters import belongs, composed, look_alike, unseen, whole_number
from fretloom.text import for_machines, shown_name, visible

#: Unicode Technical Standard 51 and its data files of emoji sequences; texts from memory.
HONEST = [
    *("👩‍🌾", "☕️", "👍🏽", "🏳️‍🌈", "🙂‍↔️", "🧑🏽‍🤝‍🧑🏻", "1️⃣", "🇨🇭", "❤️‍🔥", "👁️‍🗨️"),
    "\U0001f3f4\U000e0067\U000e0062\U000e0073\U000e0063\U000e0074\U000e007f",  # Scotland
    "می‌خواهم",  # Persian, with a non-joiner
    "क्‍ष क्‌ष",  # Hindi, with both joiners
    "שיר \u200fabc\u200e 3",  # Hebrew, with marks of direction
    *("مرحبا", "ελληνικά", "русский", "日本語\u3000の", "葛\U000e0100", "e\u0301", "\u0601\u0661"),
]
HIDDEN = [
    *(chr(code) for code in (*range(0x202A, 0x202F), *range(0x2060, 0x2070))),  # direction, glue
    *("\u200b", "\ufeff", "\u00ad", "\u2028", "\u2029", "\u0085", "\x1b", "\x7f", "\0", "\x9b"),
    *("\u180e", "\ufff9", "\U0001d173", "\U000e0001", "\U000e0041", "\ud800", "\ufffe", "\ufdd0"),
    *("\u034f", "\u115f", "\u3164", "\uffa0", "\u2800", "\U000e0100", "\ufe0f", "\u200d", "\u200c"),
]


@pytest.mark.parametrize("text", HONEST)
def test_honest_texts_hold_nothing_hidden_and_are_shown_as_they_are(text: str) -> None:
    """Pictures, flags, joined scripts, marks of direction and accents."""
    assert [at for at, one in enumerate(text) if unseen(one) and not belongs(text, at)] == []
    assert visible(text) == text
    assert json.loads(for_machines(json.dumps(text, ensure_ascii=False))) == text


@pytest.mark.parametrize("character", HIDDEN, ids=ascii)
def test_hidden_characters_belong_nowhere_in_latin_words(character: str) -> None:
    """Between letters, at the ends, alone and in a row."""
    for text in (
        f"a{character}b",
        f"{character}b",
        f"a{character}",
        character,
        f"a{character * 3}",
    ):
        assert not any(belongs(text, at) for at, one in enumerate(text) if one == character)
    assert unseen(character)
    assert character not in visible(f"a{character}b")


@pytest.mark.parametrize(
    "text",
    ["☕\ufe0f\ufe0f", "👩\u200d", "\u200d👩", "\U0001f3f4\U000e0067", "\U000e0067\U000e007f", "x\ufe0f", "👩 \u200d👩"],
)  # fmt: skip
def test_what_is_for_pictures_belongs_only_to_them(text: str) -> None:
    """A second selector, a joiner at an end, tags without a flag or without an end."""
    assert any(unseen(one) and not belongs(text, at) for at, one in enumerate(text))


def test_every_character_is_seen_or_not_as_its_category_says() -> None:
    """Against Python's own tables of Unicode: what prints is seen, but for blanks and selectors."""
    for code in range(sys.maxunicode + 1):
        category = unicodedata.category(chr(code))
        if category in ("Cc", "Cs", "Co", "Zl", "Zp"):
            assert unseen(chr(code)), hex(code)
        if category in ("Lu", "Ll", "Nd", "Sc", "Sm", "Zs"):
            assert not unseen(chr(code)), hex(code)


@given(st.text(st.characters(), max_size=8))
def test_what_is_written_for_machines_says_the_same_and_hides_nothing(text: str) -> None:
    """It is JSON with more escapes."""
    written = for_machines(json.dumps({"a": text}, ensure_ascii=False, indent=1))
    assert json.loads(written) == {"a": text}
    assert not any(unseen(one) for one in written.replace("\n", ""))


@given(st.text(st.characters(), max_size=8) | st.sampled_from(["::", "##["]).map(lambda a: f" {a}"))
def test_a_name_is_shown_on_one_line_that_nobody_obeys(name: str) -> None:
    """Whatever it is."""
    shown = shown_name(name)
    assert len(shown.splitlines()) <= 1
    assert not shown.lstrip().startswith(("::", "##["))
    assert shown_name("kiln lane/a-1.lesson") == "kiln lane/a-1.lesson"


def test_names_that_would_be_obeyed_name_the_same_file() -> None:
    """From the folder one is in."""
    assert shown_name("::add-mask::x.lesson") == "./::add-mask::x.lesson"
    assert shown_name("##[error]x") == "./##[error]x"
    assert shown_name("\u200f\x1b[31mx") == "�␛[31mx"


def test_letters_and_their_accents_are_composed() -> None:
    """Unicode Standard Annex 15, normal form C."""
    assert composed("cafe\u0301") == "café"
    assert composed("plain") == "plain"


@pytest.mark.parametrize("text", ["", "x", "-1", "+1", "1_0", " 1", "1.0", "²", "٣", "３", "1e3", "9" * 5000])  # fmt: skip
def test_only_plain_digits_are_a_number(text: str) -> None:
    """In the digits that everybody has on the keyboard."""
    assert whole_number(text, 64) is None


def test_whole_numbers_have_a_limit() -> None:
    """The limit itself is allowed, and so are zeros before it."""
    assert [whole_number(text, 64) for text in ("0", "064", "64", "65")] == [0, 64, 64, None]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("С", "this С is a Cyrillic letter: type a plain C"),
        ("Сmaj7", "this С is a Cyrillic letter: type a plain C"),
        ("Αm", "this Α is a Greek letter: type a plain A"),
        ("x２", "this ２ is a full-width digit: type a plain 2"),
        ("p，p", "this ， is a full-width character: type a plain ,"),
        *((honest, "") for honest in ("plain", "припев", "ελληνικά", "日本", "C♯", "CΔ7", "café")),
    ],
)
def test_look_alikes_are_told_from_honest_words(text: str, said: str) -> None:
    """A word of another script has letters that look like no plain one."""
    assert look_alike(text) == said
