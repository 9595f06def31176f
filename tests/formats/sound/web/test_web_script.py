"""A script and JSON that may stand in a page."""

from __future__ import annotations

import json

import pytest
from heard import played_file
from places import EXAMPLES
from web_sound import page_of_sound

from fretloom.formats.sound.guitar.constants import table
from fretloom.formats.sound.web.instrument import instrument_data
from fretloom.formats.sound.web.script import json_in_page, lean, sound_script


@pytest.mark.parametrize(
    "text", ["</script><script>alert(1)", "<!-- <script>", "]]>", "a & b", "\u2028\u2029", '"\\']
)
def test_no_text_ends_a_script(text: str) -> None:
    """HTML 5.3 on script data, and ECMAScript before 2019 on line separators."""
    written = json_in_page({"where": text})
    assert not set(written) & set("<>&\u2028\u2029")
    assert json.loads(written) == {"where": text}


def test_comments_and_indents_stay_at_home() -> None:
    assert (
        lean("// one\n  const two = 3; // four\n\n  // five\n    six();\n")
        == "const two = 3; // four\nsix();"
    )


def test_the_script_is_small_and_asks_nobody() -> None:
    script = sound_script()
    assert len(script) < 20_000
    assert not any(
        word in script for word in ("http", "fetch", "import", "eval", "innerHTML", "</")
    )


def test_the_numbers_are_those_of_the_table() -> None:
    _, settings = played_file(EXAMPLES / "kiln-lane-shuffle.lesson")
    data = instrument_data(settings)
    for name in ("fingers", "damping", "slurs", "room"):
        whole = {key: value for key, value in table(name).items() if key != "source"}
        assert data[name] == whole
    assert data["body"]["modes"] == table("bodies")["wood"]["modes"]
    assert "source" not in json.dumps(data)


def test_the_same_lesson_makes_the_same_data() -> None:
    path = EXAMPLES / "twelve-panes.lesson"
    assert json_in_page(page_of_sound(*played_file(path))) == json_in_page(
        page_of_sound(*played_file(path))
    )
