"""The whole of the paper's proof: every plan, both systems of units, both papers, in one browser."""

from __future__ import annotations

import tempfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from playwright.sync_api import sync_playwright

from blendwise import Book
from blendwise.answers.sheet.result import Sheet
from blendwise.quantity.show import ShownIn
from blendwise.records.as_of import AsOf
from blendwise.records.place import RecordError
from blendwise.show.pages.render import mass
from blendwise.show.sheet.page import sheet_page
from tests.show.pages.conftest import DAY, DEMO, SWITCHES, chromium, watched
from tests.show.pages.paper import Printed, printed
from tests.show.pages.test_on_paper import PAPERS, faults, sides, to_pour
from tests.strangers.books import STRANGERS, a_book, found

SYSTEMS = (ShownIn(), ShownIn(mass="oz", temperature="F"))
LEASTS = {"boxes": "mm", "amounts": "pt", "steps": "pt", "minutes": "pt", "write": "mm"}


def sheets(folder: Path, generated: int) -> Iterator[tuple[str, Sheet]]:
    """The demo's, the strangers' and so many generated books' sheets that are poured."""
    yield from _of("demo", DEMO, sorted((DEMO / "plans").glob("*.yaml")))
    for name in STRANGERS[:3]:
        book = found(name, folder / name)
        yield from _of(name, book.folder, book.plans)
    for seed in range(generated):
        book = a_book(folder / str(seed), 500 + seed, plans=2, looks=False)
        yield from _of(f"generated {500 + seed}", book.folder, book.plans)


def _of(whose: str, folder: Path, plans: object) -> Iterator[tuple[str, Sheet]]:
    opened = Book(folder)
    for plan in plans:  # type: ignore[attr-defined]
        try:
            sheet = opened.sheet(plan, on=AsOf(DAY), evenly=True)
        except RecordError:
            continue
        if sheet.pot is not None:
            yield f"{whose}: {sheet.plan}", to_pour(sheet)


def proof(generated: int) -> bool:
    """Print every sheet in both systems on both papers; tell what is wrong, the leasts, the fronts."""
    least: dict[str, float] = {}
    fronts: Counter[tuple[int, int, int]] = Counter()
    wrong = pages = made = 0
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=SWITCHES)
        screen, file = watched(browser), Path(folder, "sheet.html")
        for name, sheet in sheets(Path(folder), generated):
            made += 1
            for units in SYSTEMS:
                shown_in = replace(sheet, units=units)
                file.write_text(sheet_page(shown_in), "utf-8")
                planned = sides(shown_in)
                scents = len({each.what for cup in sheet.portions for each in cup.scents})
                fronts[len(planned.fronts), len(sheet.portions), scents] += 1
                for paper in PAPERS:
                    shown = printed(screen, file, paper)
                    pages += len(shown.pages)
                    _note(least, shown)
                    bad = [*faults(shown, planned), *_numbers(shown_in, shown, len(planned.fronts))]
                    wrong += bool(bad)
                    if bad:
                        print(f"{name} in {units.mass} on {paper}: {bad}", flush=True)
        browser.close()
    _tell(least, fronts)
    print(f"{made} plans, two systems, two papers: {pages} pages; {wrong} sheets with a fault")
    return wrong == 0


def _note(least: dict[str, float], shown: Printed) -> None:
    found_now = {"type": shown.least, **{key: min(shown.inside[key], default=99.0) for key in LEASTS}}
    for key, value in found_now.items():
        least[key] = min(value, least.get(key, value))


def _numbers(sheet: Sheet, shown: Printed, fronts: int) -> list[str]:
    """What is weighed and does not stand on a front, figure by figure as a word of its own."""
    words = Counter(word for page in shown.pages[:fronts] for word in page.split())
    asked = Counter(mass(each, sheet.units).rpartition(" ")[0] for each in sheet.weighed)
    return [f"{figure} not on the front" for figure in asked if not words[figure]]


def _tell(least: dict[str, float], fronts: Counter[tuple[int, int, int]]) -> None:
    for key, value in least.items():
        print(f"least {key}: {value:.2f} {LEASTS.get(key, 'pt')}")
    for count in sorted({each[0] for each in fronts}):
        held = [each for each in fronts if each[0] == count]
        cups, oils = ([each[place] for each in held] for place in (1, 2))
        many = sum(fronts[each] for each in held)
        print(
            f"{count} fronts: {many} sheets, cups {min(cups)} to {max(cups)}, oils {min(oils)} to {max(oils)}"
        )
