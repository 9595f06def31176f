"""A browser in which pages are opened, and which keeps what they play: see tests/browsers/README.md."""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from typing import Any

TOOLS = Path(os.environ.get("BROWSER_TOOLS", "no-such-folder"))
AXE, NU = TOOLS / "axe-core" / "axe.min.js", TOOLS / "vnu-jar" / "build" / "dist" / "vnu.jar"
CHROMIUM, DRIVER = shutil.which("chromium"), shutil.which("chromedriver")
PHONE, DESK = 390, 1280

#: Keeps, before a page's own script runs, when each sound was begun and when each bar was framed, by the clock of the sound.
KEEPING = """
window.kept = { starts: [], framed: [], stopped: 0 };
const Plain = window.AudioContext;
window.AudioContext = class extends Plain { constructor(given) { super(given); window.sound = this; } };
const begin = AudioBufferSourceNode.prototype.start, end = AudioBufferSourceNode.prototype.stop;
AudioBufferSourceNode.prototype.start = function (when, late = 0) {
  this.kept = [when - late, late, this.buffer.duration];
  window.kept.starts.push(this.kept);
  return begin.call(this, when, late);
};
AudioBufferSourceNode.prototype.stop = function (...given) {
  window.kept.stopped += 1;
  // What is taken back before it is heard has not been heard.
  if (this.kept[0] > this.context.currentTime && !given.length)
    window.kept.starts = window.kept.starts.filter((one) => one !== this.kept);
  return end.call(this, ...given);
};
document.addEventListener("DOMContentLoaded", () => new MutationObserver((changes) => {
  for (const { target } of changes)
    if (target.classList.contains("now"))
      window.kept.framed.push([window.sound.currentTime - (window.sound.outputLatency || 0), Number(target.dataset.bar)]);
}).observe(document.body, { subtree: true, attributes: true, attributeFilter: ["class"] }));
"""


def started(webdriver: Any, scheme: str = "light") -> Any:
    """Start a browser that prefers light or dark."""
    options = webdriver.ChromeOptions()
    options.binary_location = CHROMIUM
    for one in (
        "--headless=new",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-background-networking",
        "--autoplay-policy=no-user-gesture-required",
    ):
        options.add_argument(one)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    made = webdriver.Chrome(options=options, service=webdriver.ChromeService(DRIVER))
    preferred(made, scheme=scheme)
    return made


def preferred(browser: Any, *, scheme: str = "light", motion: str = "no-preference") -> None:
    """Say what who reads the page prefers."""
    features = [
        {"name": "prefers-color-scheme", "value": scheme},
        {"name": "prefers-reduced-motion", "value": motion},
    ]
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": features})


def opened(browser: Any, page: Path, width: int) -> Any:
    """Open a page at a width."""
    size = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": width < 600}
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    browser.get(page.as_uri())
    return browser


def violations(browser: Any) -> list[Any]:
    """Return what axe-core finds wrong on the page that is open."""
    browser.execute_script(AXE.read_text(encoding="utf-8"))
    run = "const done = arguments[0]; axe.run(document, {resultTypes: ['violations']}).then((found) => done(found.violations))"
    return [
        (one["id"], one["help"], [node["html"][:120] for node in one["nodes"][:3]])
        for one in browser.execute_async_script(run)
    ]
