"""What the tests of pages share: sheets of the demo, a real browser, and axe-core.

The tests marked ``browser`` need Chromium, Playwright (the extra ``web``) and npm; without them they fail,
they do not hide.  ``pytest`` alone leaves them out; ``pytest -m browser`` runs them, as ``.ci/run`` does.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from blendwise import Book
from blendwise.answers.sheet.result import Sheet
from blendwise.records.as_of import AsOf
from blendwise.show.sheet.page import sheet_page

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

DEMO = Path(__file__).resolve().parents[3] / "demo_catalog"
PLANS = sorted(path.stem for path in (DEMO / "plans").glob("*.yaml"))
DAY = date(2026, 11, 25)
AXE = "AXE_CORE"
SWITCHES = [
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
]


@pytest.fixture(scope="session")
def demo() -> Book:
    """The demo book."""
    return Book(DEMO)


@pytest.fixture(scope="session")
def sheets(demo: Book) -> dict[str, Sheet]:
    """The bench sheet of every demo plan."""
    return {name: demo.sheet(name, on=AsOf(DAY)) for name in PLANS}


@pytest.fixture(scope="session")
def pages(sheets: dict[str, Sheet], tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The files of those sheets."""
    folder = tmp_path_factory.mktemp("pages")
    files = {name: folder / f"{name}.html" for name in sheets}
    for name, file in files.items():
        file.write_text(sheet_page(sheets[name]), "utf-8")
    return files


def chromium() -> str:
    """The browser of this machine's packages; the tests that want it fail without it."""
    found = os.environ.get("BLENDWISE_BROWSER") or shutil.which("chromium") or shutil.which("google-chrome")
    assert found, "no chromium on the path: apt-get install chromium"
    return found


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One browser for all tests."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=chromium(), args=SWITCHES)
        yield launched
        launched.close()


@dataclass
class Watched:
    """A page in the browser with all that it said and asked for."""

    page: Page
    said: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)

    def at(self, file: Path, width: int = 1440) -> Page:
        """Open a file at a width."""
        self.page.set_viewport_size({"width": width, "height": 900})
        self.page.goto(file.as_uri())
        return self.page

    def prints(self, paper: str) -> tuple[int, tuple[float, float]]:
        """How many pages it prints on a paper, and their size in points."""
        pdf = self.page.pdf(format=paper, print_background=True, prefer_css_page_size=True)
        box = re.search(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", pdf)
        assert box is not None
        return len(re.findall(rb"/Type /Page\b", pdf)), (float(box[1]), float(box[2]))


def watched(browser: Browser, **settings: Any) -> Watched:
    """A new page that is watched."""
    one = Watched(browser.new_context(**settings).new_page())
    one.page.on("console", lambda message: one.said.append(message.text))
    one.page.on("pageerror", lambda error: one.said.append(str(error)))
    one.page.on("dialog", lambda dialog: one.said.append(dialog.message))
    one.page.on("request", lambda request: one.asked.append(request.url))
    return one


@pytest.fixture
def screen(browser: Browser) -> Iterator[Watched]:
    """A page as a maker would open it."""
    one = watched(browser)
    yield one
    one.page.context.close()


@pytest.fixture(scope="session")
def axe_source() -> str:
    """axe-core: the file that AXE_CORE names, else installed by npm into a folder that is kept."""
    named = os.environ.get(AXE)
    if named:
        return Path(named).read_text("utf-8")
    folder = Path(tempfile.gettempdir()) / "blendwise-axe"
    file = folder / "node_modules" / "axe-core" / "axe.min.js"
    if not file.is_file():
        npm = shutil.which("npm")
        assert npm, "no npm on the path: apt-get install npm, or set AXE_CORE to axe.min.js"
        folder.mkdir(exist_ok=True)
        subprocess.run([npm, "install", "--silent", "--prefix", str(folder), "axe-core@4"], check=True)
    return file.read_text("utf-8")


Axe = Callable[[Path, str, int], list[str]]
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture(scope="session")
def axe(browser: Browser, axe_source: str) -> Iterator[Axe]:
    """What axe-core finds amiss with a file, on ``screen``, in ``print`` or ``forced`` colours."""
    one = watched(browser, bypass_csp=True)

    def run(file: Path, media: str, width: int) -> list[str]:
        forced = media == "forced"
        one.page.emulate_media(
            media="print" if media == "print" else "screen", forced_colors="active" if forced else "none"
        )
        page = one.at(file, width)
        page.evaluate(axe_source)
        only = TAGS if media == "screen" else {"type": "rule", "values": ["color-contrast"]}
        found = page.evaluate("only => axe.run(document, {runOnly: only})", only)
        assert found["passes"]
        wrong = [(v["id"], node) for v in found["violations"] for node in v["nodes"]]
        return [f"{name}: {node['target']} {node['failureSummary']}" for name, node in wrong]

    yield run
    one.page.context.close()
