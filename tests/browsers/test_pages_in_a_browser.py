"""Handouts in a real browser: on demand, see README.md. Sources: WCAG 2.2 as axe-core has it; the WHATWG standard as the Nu checker has it."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import AXE, CHROMIUM, DESK, DRIVER, NU, PHONE, opened, started, violations
from places import EXAMPLES

from fretloom.frontends.command.main import main

webdriver = pytest.importorskip(
    "selenium.webdriver", reason="on demand: pip install 'fretloom[browsers]'"
)
NAMES = sorted(one.stem for one in EXAMPLES.glob("*.lesson"))

if not (CHROMIUM and DRIVER):
    pytest.skip("on demand: needs chromium and chromium-driver", allow_module_level=True)


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The handouts of all examples, with their index."""
    folder = tmp_path_factory.mktemp("pages")
    assert main(["handout", str(EXAMPLES), "-o", str(folder), "--root", str(EXAMPLES)]) == 0
    return folder


@pytest.fixture(scope="module", params=["light", "dark"])
def browser(request: pytest.FixtureRequest) -> Iterator[webdriver.Chrome]:
    made = started(webdriver, request.param)
    yield made
    made.quit()


@pytest.mark.parametrize("width", [320, PHONE, DESK])
@pytest.mark.parametrize("sheet", ["handout", "song-sheet", "wall-card"])
@pytest.mark.parametrize("name", NAMES)
def test_a_page_opens_whole_and_never_scrolls_sideways(
    browser, pages: Path, name: str, sheet: str, width: int
):
    opened(browser, pages / f"{name}.{sheet}.html", width)
    assert [one["message"] for one in browser.get_log("browser")] == []
    asked = [
        one
        for one in browser.get_log("performance")
        if "Network.requestWillBeSent" in one["message"]
    ]
    assert [one for one in asked if "http" in one["message"].split('"url":"', 1)[1][:5]] == []
    inner = browser.execute_script(
        "return [document.documentElement.scrollWidth, window.innerWidth]"
    )
    assert inner[0] <= inner[1]
    assert browser.execute_script("return document.fonts.check('12px Andika')")


@pytest.mark.skipif(
    not AXE.exists(), reason="on demand: npm install axe-core, and name its folder in BROWSER_TOOLS"
)
@pytest.mark.parametrize(
    ("page", "width"),
    [
        *((f"{name}.handout", DESK) for name in NAMES),
        ("kiln-lane-shuffle.song-sheet", DESK),
        ("seven-gates.wall-card", DESK),
        ("index", DESK),
        ("glaze-and-ash.handout", PHONE),
        ("kiln-lane-shuffle.wall-card", PHONE),
        ("index", PHONE),
    ],
)
def test_axe_finds_no_violation(browser, pages: Path, page: str, width: int):
    opened(browser, pages / f"{page}.html", width)
    assert violations(browser) == []


def test_in_the_dark_pages_are_dark(browser, pages: Path):
    """So that what axe finds is of both."""
    colours = set()
    for page in ("glaze-and-ash.handout", "kiln-lane-shuffle.wall-card", "index"):
        opened(browser, pages / f"{page}.html", DESK)
        dark = browser.execute_script("return matchMedia('(prefers-color-scheme: dark)').matches")
        behind = browser.execute_script(
            "return getComputedStyle(document.documentElement).backgroundColor"
        )
        colours.add((dark, behind))
    assert len(colours) == 1
    assert colours <= {(False, "rgb(255, 255, 255)"), (True, "rgb(22, 21, 19)")}


@pytest.mark.skipif(
    not (NU.exists() and shutil.which("java")), reason="on demand: npm install vnu-jar, and Java"
)
def test_the_nu_checker_finds_no_error(pages: Path):
    files = sorted(map(str, pages.rglob("*.html")))
    made = subprocess.run(
        ["java", "-jar", str(NU), "--errors-only", *files],
        capture_output=True,
        text=True,
        check=False,
    )
    assert made.stderr == ""


def test_the_index_is_sorted_and_filtered_by_keys_alone(browser, pages: Path):
    from selenium.webdriver.common.by import By
    from selenium.webdriver.common.keys import Keys

    opened(browser, pages / "index.html", DESK)

    def titles() -> list[str]:
        rows = browser.find_elements(By.CSS_SELECTOR, "tbody tr")
        return [
            one.find_element(By.CSS_SELECTOR, ".name a").text for one in rows if one.is_displayed()
        ]

    whole = titles()
    assert len(whole) == len(NAMES)
    button = browser.find_elements(By.CSS_SELECTOR, "thead button")[1]
    button.send_keys(Keys.ENTER)
    assert titles() == sorted(whole, key=str.casefold)
    button.send_keys(Keys.SPACE)
    assert titles() == sorted(whole, key=str.casefold, reverse=True)
    browser.find_element(By.NAME, "search").send_keys("waltz")
    assert titles() == ["Bottle Kiln Waltz"]
    assert browser.find_element(By.CSS_SELECTOR, "[role=status]").text == "1 lesson"


def test_every_link_of_the_index_leads_to_a_page(browser, pages: Path):
    from selenium.webdriver.common.by import By

    opened(browser, pages / "index.html", DESK)
    links = [
        one.get_dom_attribute("href") for one in browser.find_elements(By.CSS_SELECTOR, "tbody a")
    ]
    assert len(links) == 3 * len(NAMES)
    assert all((pages / one).exists() for one in links)
