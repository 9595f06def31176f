"""The player of a handout in a real browser: on demand, see README.md. Times are those of the Web Audio clock (W3C)."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path
from statistics import median
from typing import Any

import pytest
from browsing import (
    AXE,
    CHROMIUM,
    DESK,
    DRIVER,
    KEEPING,
    PHONE,
    opened,
    preferred,
    started,
    violations,
)
from heard import played_file
from places import EXAMPLES

from fretloom.frontends.command.main import main

webdriver = pytest.importorskip(
    "selenium.webdriver", reason="on demand: pip install 'fretloom[browsers]'"
)
if not (CHROMIUM and DRIVER):
    pytest.skip("on demand: needs chromium and chromium-driver", allow_module_level=True)

from selenium.webdriver.common.by import By  # noqa: E402
from selenium.webdriver.common.keys import Keys  # noqa: E402
from selenium.webdriver.support.ui import WebDriverWait  # noqa: E402

NAME, TWICE = "kiln-lane-shuffle", "twelve-panes"
SONG = "#song .player"
#: How much sooner than its pluck a sound begins: the finger pulls at the string (44 samples).
PULLED = 44 / 44100
#: Sounds of strings are longer than this, clicks shorter.
CLICK = 0.1


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("player")
    lessons = [str(EXAMPLES / f"{name}.lesson") for name in (NAME, TWICE)]
    assert main(["handout", *lessons, "--sheet", "handout", "-o", str(folder)]) == 0
    return folder / f"{NAME}.handout.html"


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    made = started(webdriver)
    made.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": KEEPING})
    yield made
    made.quit()


@pytest.fixture
def song(browser, page: Path) -> Any:
    """The page at the song, nothing played yet."""
    preferred(browser)
    opened(browser, page, DESK)
    return browser.find_element(By.CSS_SELECTOR, SONG)


def _part(player: Any, name: str) -> Any:
    return player.find_element(By.NAME, name)


def _kept(browser: Any) -> dict[str, Any]:
    found: dict[str, Any] = browser.execute_script("return window.kept")
    return found


def _until(
    browser: Any, ready: Callable[[dict[str, Any]], bool], seconds: float = 30
) -> dict[str, Any]:
    """Wait until what is kept is enough."""
    WebDriverWait(browser, seconds, poll_frequency=0.1).until(lambda it: ready(_kept(it)))
    return _kept(browser)


def _plucks(kept: dict[str, Any]) -> list[float]:
    return sorted(when + PULLED for when, _, lasts in kept["starts"] if lasts > CLICK)


def _rests() -> Callable[[Any], bool]:
    """Return whether a page has not been scrolled since it was last asked."""
    seen = [-1.0]

    def asked(browser: Any) -> bool:
        seen.append(browser.execute_script("return scrollY"))
        return seen[-1] == seen[-2]

    return asked


def test_every_pluck_and_every_frame_is_at_its_time(browser, song) -> None:
    """Plucks within a tenth of a millisecond of the playback, frames within 30 ms of the bar that is heard."""
    playback, _ = played_file(EXAMPLES / f"{NAME}.lesson")
    _part(song, "counted").click()
    _part(song, "play").click()
    kept = _until(browser, lambda it: len(it["framed"]) >= 5)
    plucks = _plucks(kept)
    model = sorted(float(playback.clock.seconds(one.at)) for one in playback.sounds)
    start = plucks[0] - model[0]
    assert [one - start for one in plucks] == pytest.approx(model[: len(plucks)], abs=1e-4)
    assert all(late == 0 for _, late, _ in kept["starts"])
    bars = [float(playback.clock.seconds(one.start)) for one in playback.bars]
    late = [at - start - bar for (at, _), bar in zip(kept["framed"], bars, strict=False)]
    assert median(late) < 0.03
    assert min(late) > -0.005
    shown = browser.execute_script(
        "return JSON.parse(document.getElementById('heard').textContent).plays.at(-1).shown"
    )
    assert [number for _, number in kept["framed"]] == shown[: len(kept["framed"])]


def test_a_count_in_is_clicked_before_the_first_pluck(browser, song) -> None:
    """Four clicks of a bar in 4/4 at 96 beats a minute, 625 ms apart."""
    _part(song, "play").click()
    kept = _until(browser, lambda it: bool(_plucks(it)))
    clicks = sorted(when for when, _, lasts in kept["starts"] if lasts < CLICK)
    assert len(clicks) == 4
    assert [after - before for before, after in pairwise(clicks)] == pytest.approx(
        [0.625] * 3, abs=1e-4
    )
    assert _plucks(kept)[0] - clicks[-1] == pytest.approx(0.625, abs=1e-4)


def test_two_bars_go_round_without_a_seam(browser, song) -> None:
    """By keys alone: fields, the check box, and the button."""
    for name, value in (("from", "5"), ("to", "6")):
        field = _part(song, name)
        field.send_keys(Keys.CONTROL, "a")
        field.send_keys(value, Keys.TAB)
    _part(song, "counted").send_keys(Keys.SPACE)
    _part(song, "loop").send_keys(Keys.SPACE)
    _part(song, "tempo").send_keys(Keys.END)
    _part(song, "play").send_keys(Keys.ENTER)
    kept = _until(browser, lambda it: len(it["framed"]) >= 5)
    framed = [number for _, number in kept["framed"]]
    assert framed[:4] == framed[:2] * 2 and len(set(framed)) == 2
    plucks = _plucks(kept)
    playback, _ = played_file(EXAMPLES / f"{NAME}.lesson")
    inside = [one for one in playback.sounds if one.bar in (4, 5)]
    # 120 percent of 96 beats a minute, eight beats.
    assert plucks[len(inside)] - plucks[0] == pytest.approx(8 * 60 / 115, abs=1e-4)


def test_a_tempo_that_is_moved_goes_on_from_there(browser, song) -> None:
    _part(song, "counted").click()
    _part(song, "play").click()
    _until(browser, lambda it: len(it["framed"]) >= 1)
    before = len(_plucks(_kept(browser)))
    _part(song, "tempo").send_keys(Keys.HOME)
    assert song.find_element(By.TAG_NAME, "output").text == "39 beats a minute"
    kept = _until(browser, lambda it: len(it["framed"]) >= 3)
    (one, _), (other, _) = kept["framed"][-2:]
    assert other - one == pytest.approx(4 * 60 / 39, abs=0.06)
    assert len(_plucks(kept)) > before
    assert _part(song, "tempo").get_attribute("aria-valuetext") == "39 beats a minute"


def test_the_thumb_alone_plucks_what_the_thumb_plucks(browser, song) -> None:
    playback, _ = played_file(EXAMPLES / f"{NAME}.lesson")
    _part(song, "counted").click()
    _part(song, "heard").send_keys("the thumb")
    _part(song, "play").click()
    plucks = _plucks(_until(browser, lambda it: len(_plucks(it)) >= 8))
    model = [
        float(playback.clock.seconds(one.at)) for one in playback.sounds if one.note.finger == "p"
    ]
    assert [one - plucks[0] for one in plucks] == pytest.approx(
        [one - model[0] for one in model[: len(plucks)]], abs=1e-4
    )


@pytest.mark.parametrize("how", ["escape", "button", "bar"])
def test_it_stops_at_once(browser, song, how: str) -> None:
    button = _part(song, "play")
    button.send_keys(Keys.SPACE)
    _until(browser, lambda it: bool(_plucks(it)))
    assert button.text == "Stop"
    status = song.find_element(By.CSS_SELECTOR, "[role=status]")
    assert "Playing" in status.get_attribute("textContent")
    if how == "escape":
        button.send_keys(Keys.ESCAPE)
    elif how == "button":
        button.send_keys(Keys.ENTER)
    else:
        browser.find_element(By.CSS_SELECTOR, "#song .bar-of").click()
    assert button.text == "Play"
    assert status.get_attribute("textContent") == "Stopped."
    assert browser.find_elements(By.CSS_SELECTOR, ".now") == []
    assert _kept(browser)["stopped"] > 0


def test_bars_are_chosen_by_a_tap(browser, page: Path) -> None:
    """The first time that they come: the verse of this song is played again where it is not drawn again."""
    preferred(browser)
    opened(browser, page.with_name(f"{TWICE}.handout.html"), DESK)
    song = browser.find_element(By.CSS_SELECTOR, SONG)
    bars = browser.find_elements(By.CSS_SELECTOR, "#song .bar-of")

    def chosen() -> list[str]:
        return [str(_part(song, name).get_attribute("value")) for name in ("from", "to")]

    for tapped, numbers in ((1, ["2", "2"]), (3, ["2", "4"]), (2, ["3", "3"]), (1, ["2", "2"])):
        bars[tapped].click()
        assert chosen() == numbers
    assert len(browser.find_elements(By.CSS_SELECTOR, ".chosen")) == 1
    assert song.find_element(By.CSS_SELECTOR, ".places").text == "Verse 1, bar 2"
    _part(song, "all").click()
    assert browser.find_elements(By.CSS_SELECTOR, ".chosen") == []
    assert chosen() == ["1", "34"]
    assert not _part(song, "all").is_displayed()


def test_of_a_single_bar_none_is_to_be_chosen(browser, song) -> None:
    step = browser.find_element(By.CSS_SELECTOR, ".step .player")
    step.find_element(By.TAG_NAME, "summary").click()
    assert not _part(step, "from").is_displayed()
    assert _part(step, "loop").is_displayed()


def test_one_player_plays_at_a_time_and_a_step_at_its_first_tempo(browser, song) -> None:
    step = browser.find_elements(By.CSS_SELECTOR, ".step .player")[-1]
    _part(song, "play").click()
    _until(browser, lambda it: bool(it["starts"]))
    _part(step, "play").click()
    WebDriverWait(browser, 10).until(lambda _: _part(step, "play").text == "Stop")
    assert _part(song, "play").text == "Play"


def test_who_wants_less_motion_is_not_scrolled(browser, song) -> None:
    preferred(browser, motion="reduce")
    _part(song, "counted").click()
    _part(song, "play").click()
    there = browser.execute_script("return scrollY")
    _until(browser, lambda it: len(it["framed"]) >= 3)
    assert browser.execute_script("return scrollY") == there


def test_nobody_is_scrolled_who_has_scrolled(browser, song) -> None:
    _part(song, "counted").click()
    _part(song, "play").click()
    _until(browser, lambda it: len(it["framed"]) >= 1)
    browser.execute_script(
        "document.dispatchEvent(new Event('wheel')); scrollTo({ top: 0, behavior: 'instant' })"
    )
    WebDriverWait(browser, 10, poll_frequency=0.3).until(_rests())
    there, framed = browser.execute_script("return scrollY"), len(_kept(browser)["framed"])
    _until(browser, lambda it: len(it["framed"]) >= framed + 2)
    assert browser.execute_script("return scrollY") == there
    assert there < browser.execute_script(
        "return document.querySelector('#song').offsetTop - innerHeight"
    )


def test_without_scripts_there_is_nothing_of_it(browser, page: Path) -> None:
    browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        opened(browser, page, DESK)
        assert [
            one.is_displayed() for one in browser.find_elements(By.CSS_SELECTOR, ".player")
        ].count(True) == 0
    finally:
        browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})


@pytest.mark.skipif(
    not AXE.exists(), reason="on demand: npm install axe-core, and name its folder in BROWSER_TOOLS"
)
@pytest.mark.parametrize("width", [PHONE, DESK])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_no_violation_with_all_controls_open(
    browser, page: Path, width: int, scheme: str
) -> None:
    """While it plays, too; and nothing scrolls sideways, and what is tapped is 24 pixels high and wide at least (WCAG 2.2, 2.5.8)."""
    preferred(browser, scheme=scheme)
    opened(browser, page, width)
    browser.execute_script(
        "document.querySelectorAll('details').forEach((one) => { one.open = true; })"
    )
    browser.find_element(By.CSS_SELECTOR, f"{SONG} [name=play]").click()
    _until(browser, lambda it: bool(it["starts"]))
    assert violations(browser) == []
    wide = browser.execute_script("return [document.documentElement.scrollWidth, innerWidth]")
    assert wide[0] <= wide[1]
    small = browser.execute_script(
        "return Array.from(document.querySelectorAll('.player button, .player select, .player input, .player summary'), (one) => [one.name,"
        " (one.closest('label.tick') ?? one).getBoundingClientRect()]).filter(([, { width, height }]) => width && (width < 24 || height < 24))"
    )
    assert small == []
    assert [one["message"] for one in browser.get_log("browser")] == []
