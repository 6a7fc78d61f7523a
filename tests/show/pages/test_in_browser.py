"""The bench sheet in a real browser: on screens, on paper, for ears, and with names that mean harm."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.sheet.result import Sheet
from blendwise.records.as_of import AsOf
from blendwise.show.sheet.page import sheet_page
from tests.show.pages.conftest import DAY, PLANS, Axe, Watched
from tests.show.pages.hostile import HOSTILE, hostile_book, renamed

pytestmark = pytest.mark.browser
WIDTHS = (360, 768, 1440)
LONG_NAMES = ("x" * 200, "two words " * 20, "<b>" * 67, "سلام " * 40)


@pytest.mark.parametrize("name", PLANS)
def test_a_sheet_asks_for_nothing_and_complains_of_nothing(
    screen: Watched, pages: dict[str, Path], name: str
) -> None:
    """A page requests its own file and no other, and its console stays empty."""
    screen.at(pages[name])
    assert [] == screen.said
    assert {pages[name].as_uri()} == {url for url in screen.asked if not url.startswith("data:")}


@pytest.mark.parametrize("name", PLANS)
def test_nothing_overflows(screen: Watched, pages: dict[str, Path], name: str) -> None:
    """At the width of a phone, a tablet and a desk nothing stands outside the page."""
    for width in WIDTHS:
        page = screen.at(pages[name], width)
        assert width >= page.evaluate("document.documentElement.scrollWidth")
        assert [] == outside(screen)


def outside(screen: Watched) -> list[str]:
    """Elements that reach beyond the window."""
    found: list[str] = screen.page.evaluate(
        """() => [...document.querySelectorAll('body *')]
          .filter(e => !e.closest('svg') && e.getClientRects().length)
          .map(e => [e, e.getBoundingClientRect()])
          .filter(([e, box]) => box.right > innerWidth + 1 || box.left < -1)
          .map(([e, box]) => e.outerHTML.slice(0, 80))"""
    )
    return found


@pytest.mark.parametrize("name", PLANS)
def test_axe_finds_nothing_amiss(axe: Axe, pages: dict[str, Path], name: str) -> None:
    """Names, landmarks, headings and contrast hold on screen, wide and narrow; contrast holds on paper."""
    for media, width in (("screen", 360), ("screen", 1440), ("print", 760)):
        assert [] == axe(pages[name], media, width)


def test_a_box_is_ticked_by_its_amount(screen: Watched, pages: dict[str, Path]) -> None:
    """Each box has a name that says what to weigh, and is ticked with a tap on its line."""
    page = screen.at(pages["harbour-morning"], 360)
    box = page.get_by_role("checkbox", name="456 g olive")
    page.get_by_text("olive", exact=True).first.click()
    assert box.is_checked()
    assert 24 <= page.evaluate("e => e.getBoundingClientRect().height", box.element_handle())


def test_the_order_of_headings_is_the_order_of_work(screen: Watched, pages: dict[str, Path]) -> None:
    """One heading for the plan, then the steps as they are done, each a region of its own."""
    page = screen.at(pages["harbour-morning"])
    heads = page.locator("h1, h2").all_inner_texts()
    assert "harbour-morning" == heads[0]
    steps = ["1 Before", "2 Weigh", "3 Set", "4 Lye,", "5 Colour,", "6 Cover,", "! At"]
    assert steps == [" ".join(head.split()[:2]) for head in heads[1:8]]
    assert ["What", "If", "What", "Cut", "Label"] == [head.split()[0] for head in heads[8:]]
    assert len(heads) - 1 == page.get_by_role("region").count()


def check_harmless(screen: Watched, file: Path, names: Sequence[str]) -> None:
    """Every name stands there as text, nothing ran, nothing was asked for, nothing stands outside."""
    for width in WIDTHS:
        page = screen.at(file, width)
        text = page.locator("body").inner_text()
        assert [] == [name for name in names if name not in text]
        assert width >= page.evaluate("document.documentElement.scrollWidth")
        assert page.evaluate("window.ran === undefined && document.scripts.length === 0")
        assert 0 == page.locator("img, iframe, object, b > script").count()
    assert [] == screen.said
    assert {file.as_uri()} == {url for url in screen.asked if not url.startswith("data:")}


def test_hostile_names_in_a_book_are_text(screen: Watched, tmp_path: Path) -> None:
    """Scripts, quotes, right-to-left text and emoji as names of plan, portions, oils, lots are only text."""
    book = hostile_book(tmp_path)
    sheet = Book(book).sheet("hostile", on=AsOf(DAY), evenly=True)
    file = tmp_path / "hostile.html"
    file.write_text(sheet_page(sheet), "utf-8")
    check_harmless(screen, file, [*HOSTILE, *(cup.portion for cup in sheet.portions)])


def test_names_of_200_characters_fit(screen: Watched, tmp_path: Path, sheets: dict[str, Sheet]) -> None:
    """Names longer than any book allows wrap within the page."""
    names = [part[:200].strip() for part in LONG_NAMES]
    file = tmp_path / "long.html"
    file.write_text(sheet_page(renamed(sheets["harbour-morning"], names)), "utf-8")
    check_harmless(screen, file, names)


def test_a_look_is_dated_after_the_pour(screen: Watched, demo: Book, tmp_path: Path) -> None:
    """The dates on the page count from the day of the pour, over the end of a year."""
    file = tmp_path / "dated.html"
    file.write_text(sheet_page(demo.sheet("rain-jar", on=AsOf(date(2027, 12, 20)))), "utf-8")
    text = screen.at(file).locator("main").inner_text()
    assert "week 2 Mon 3 Jan 2028" in text
