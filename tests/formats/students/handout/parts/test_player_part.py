"""What a page plays: the song and what each step shows, and which bar of the tab is shown for each that is heard."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from typing import Any

import html5lib
import pytest
from attrs import evolve
from places import EXAMPLES
from reading_through import reading_of

from fretloom.api.reading import examine, load
from fretloom.formats.students.handout.options import HandoutOptions
from fretloom.formats.students.handout.page import page_of
from fretloom.formats.students.handout.parts import player_part
from fretloom.formats.students.handout.pdf import without_player
from fretloom.limits import LIMITS
from fretloom.performance.showing.looks import BarLooks

PATHS = sorted(EXAMPLES.glob("*.lesson"))
LESSON = """
lesson "Kiln Lane Evening"
  meter 4/4
  tempo 80

voicings
  C      x32010  fingers .32.1.  bass 5 4 5 4
  G      320003  fingers 21...3  bass 6 4 5 4

patterns
  plain  p , p m , p i , p m

section verse  using plain  "Verse"
  C | G | C | C

form
  verse
  verse
    but last bar: G

step "Slowly"
  Count aloud.
  show change C to G from 50 to 80
  show bars 2-3 of verse at 60
  show pattern plain over C
  show song
"""


def _page(text: str = LESSON, **options: Any) -> str:
    return page_of(reading_of(text), HandoutOptions(**options))


def _tree(page: str):
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page)


def _heard(page: str) -> dict[str, Any]:
    (script,) = re.findall(
        r'<script class="player" id="heard" type="application/json">(.*)</script>', page
    )
    found: dict[str, Any] = json.loads(script)
    return found


def test_the_song_and_what_each_step_shows_can_be_played() -> None:
    page = _page()
    tree, heard = _tree(page), _heard(page)
    places = [one for one in tree.iter() if one.get("data-plays") is not None]
    assert [int(one.get("data-plays")) for one in places] == [0, 1, 2, 3, 4]
    assert [one.get("aria-label") for one in places][-1] == "Hear it: The song"
    assert all("hidden" in one.attrib for one in places)
    change, bars, pattern, whole, song = heard["plays"]
    assert change["ladder"] == [50, 60, 70, 80]
    assert bars["ladder"] == [60, 67, 73, 80]
    assert len(change["bars"]) == len(bars["bars"]) == 2
    assert len(pattern["bars"]) == 1
    assert whole["bars"] == song["bars"]
    assert [one["whole"] for one in heard["plays"]] == [False] * 4 + [True]


def test_later_playings_are_shown_where_the_bars_stand() -> None:
    """Verse 2 is as before but for its last bar, which alone is drawn again."""
    heard = _heard(_page())
    song = heard["plays"][-1]["shown"]
    assert len(song) == 8
    assert song[4:7] == song[:3]
    assert song[7] not in song[:7]
    assert sorted(song[:4]) == song[:4] and len(set(song[:4])) == 4
    assert heard["plays"][3]["shown"] == song


def test_what_a_step_draws_is_shown_in_the_step() -> None:
    change, bars, pattern, _, song = _heard(_page())["plays"]
    assert change["shown"] == []
    assert bars["own"] and pattern["own"] and song["own"]
    assert len(set(bars["shown"])) == 2 and not set(bars["shown"]) & set(song["shown"])
    assert len(pattern["shown"]) == 1


@pytest.mark.parametrize("path", PATHS, ids=lambda one: one.stem)
def test_every_bar_of_an_example_is_shown_by_one_that_is_on_the_page(path) -> None:
    reading = examine(load(path)).reading
    page = page_of(reading, HandoutOptions())
    heard, there = _heard(page), {int(one) for one in re.findall('data-bar="([0-9]+)"', page)}
    song = heard["plays"][-1]
    assert len(song["shown"]) == len(reading.timeline.bars)
    assert set(song["shown"]) <= there
    looks, shows = BarLooks(), {}
    for bar, number in zip(reading.timeline.bars, song["shown"], strict=True):
        assert shows.setdefault(number, looks.of(bar.bar)) == looks.of(bar.bar)
    for one in heard["plays"]:
        assert set(one["shown"]) <= there
        assert len(one["shown"]) in (0, len(one["bars"]))


@pytest.mark.parametrize("path", PATHS, ids=lambda one: one.stem)
def test_a_page_grows_by_little(path) -> None:
    """52,000 characters at most: style, controls, script, and 15,000 of notes at most."""
    reading = examine(load(path)).reading
    page, plain = (
        page_of(reading, HandoutOptions()),
        page_of(reading, HandoutOptions(without_player=True)),
    )
    assert len(json.dumps(_heard(page), separators=(",", ":"))) < 15_000
    assert len(page) - len(plain) < 52_000


@pytest.mark.parametrize("path", PATHS, ids=lambda one: one.stem)
def test_a_pdf_is_that_of_the_page_without_what_plays(path) -> None:
    reading = examine(load(path)).reading
    page = page_of(reading, HandoutOptions())
    silent = page_of(reading, HandoutOptions(without_player=True))
    assert without_player(page) == silent == page_of(reading, HandoutOptions(), as_pdf=True)
    assert 'class="player"' not in silent and "<script" not in silent


@pytest.mark.parametrize("sheet", ["song-sheet", "wall-card"])
def test_other_sheets_do_not_play(sheet: str) -> None:
    assert "<script" not in _page(sheet=sheet)


def test_parts_that_show_nothing_to_hear_bring_no_player() -> None:
    assert "<script" not in _page(parts=("road", "shapes"))
    assert len(_heard(_page(parts=("song",)))["plays"]) == 1


@pytest.mark.parametrize(
    "nasty", ["</script><script>alert(1)</script>", "<!--<script>", "&lt;/script&gt;", "# @ $& $1"]
)
def test_no_title_becomes_script(nasty: str) -> None:
    """Section titles travel in the data; only our own script and its data are there."""
    page = _page(LESSON.replace('"Verse"', f'"{nasty}"').replace('"Slowly"', f'"{nasty}"'))
    tree = _tree(page)
    scripts = [one for one in tree.iter() if str(one.tag).endswith("script")]
    assert [one.get("class") for one in scripts] == ["player", "player"]
    assert all(nasty not in (one.text or "") or "<" not in nasty for one in scripts)
    assert _heard(page)["plays"][-1]["where"][0][1].startswith(nasty[:4])


def test_the_thumb_alone_is_chosen_where_a_step_practises_it() -> None:
    """Where no steps are written, those that are found begin with each hand alone."""
    text = LESSON[: LESSON.index("step")]
    chosen = {one.get("heard") for one in _heard(_page(text))["plays"]}
    assert "thumb" in chosen or chosen == {None}


def test_the_same_lesson_makes_the_same_page() -> None:
    assert _page() == _page()


def test_a_song_that_goes_on_and_on_has_no_player_and_its_steps_have(monkeypatch) -> None:
    monkeypatch.setattr(player_part, "LIMITS", evolve(LIMITS, bars_in_a_player=2))
    plays = _heard(_page())["plays"]
    assert [len(one["bars"]) for one in plays] == [2, 2, 1]


def test_tempos_are_counted_in_the_beat_of_the_lesson() -> None:
    """6/8: dotted quarters."""
    text = (
        LESSON.replace("meter 4/4", "meter 6/8")
        .replace("tempo 80", "tempo 50 to 3/8")
        .replace("p , p m , p i , p m", "p , p m")
        .replace("bass 5 4 5 4", "bass 5 4")
        .replace("bass 6 4 5 4", "bass 6 4")
    )
    song = _heard(_page(text))["plays"][-1]
    assert song["beat"] == 50
    assert song["tempos"] == [0, 75]


@pytest.mark.process
def test_a_page_plays_without_what_recordings_need() -> None:
    """numpy is an extra; a handout never asks for it."""
    code = (
        "import sys; sys.modules['numpy'] = None; from fretloom import load, export; import fretloom;"
        f"made = fretloom.export(fretloom.load({str(PATHS[0])!r}), 'handout'); assert 'guitarOf' in made[0].content"
    )
    made = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (made.returncode, made.stderr) == (0, "")
