"""The whole of the paper's proof: every plan, both systems of units, both papers, in one browser."""

from __future__ import annotations

import tempfile
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from playwright.sync_api import sync_playwright

from blendwise import Book
from blendwise.answers.sheet.result import Sheet
from blendwise.quantity.show import ShownIn
from blendwise.records.as_of import AsOf
from blendwise.records.place import RecordError
from blendwise.show.pages.render import mass
from blendwise.show.sheet.layout import MOST_CUPS
from blendwise.show.sheet.page import sheet_page
from blendwise.show.sheet.paper import MOST_SCENTS
from tests.show.pages.conftest import DAY, DEMO, SWITCHES, Watched, chromium, watched
from tests.show.pages.hostile import hostile_book, large_book, renamed
from tests.show.pages.paper import Printed, printed
from tests.show.pages.test_on_paper import LONG, PAPERS, faults, sides, to_pour
from tests.strangers.books import STRANGERS, a_book, found

SYSTEMS = (ShownIn(), ShownIn(mass="oz", temperature="F"))
LEASTS = {"boxes": "mm", "amounts": "pt", "steps": "pt", "minutes": "pt", "write": "mm"}


def sheets(folder: Path, generated: int) -> Iterator[tuple[str, Iterable[Sheet]]]:
    """The sheets that are poured, book by book: demo, strangers', names that strain, so many generated."""
    yield "demo", _of(DEMO, sorted((DEMO / "plans").glob("*.yaml")))
    for name in STRANGERS[:3]:
        book = found(name, folder / name)
        yield name, _of(book.folder, book.plans)
    yield "eight cups, eight oils", _of(large_book(folder / "large"), ["large"])
    yield "hostile names", _of(hostile_book(folder / "hostile"), ["hostile"])
    yield "names of 60 characters", _long_names()
    for seed in range(500, 500 + generated):
        book = a_book(folder / str(seed), seed, plans=2, looks=False)
        yield f"generated {seed}", _of(book.folder, book.plans)


def _of(folder: Path, plans: Iterable[Path | str]) -> Iterator[Sheet]:
    opened = Book(folder)
    for plan in plans:
        try:
            sheet = opened.sheet(plan, on=AsOf(DAY), evenly=True)
        except RecordError:
            continue
        if sheet.pot is not None:
            yield to_pour(sheet)


def _long_names() -> Iterator[Sheet]:
    sheet = to_pour(Book(DEMO).sheet("harbour-morning", on=AsOf(DAY), evenly=True))
    for text in LONG.values():
        yield renamed(sheet, [f"{number} {text}"[:60] for number in range(4)])


@dataclass
class Tally:
    """What was printed: sheets (a system each), pages, faults, leasts, and (fronts, backs, cups, oils)."""

    sheets: int = 0
    pages: int = 0
    wrong: int = 0
    least: dict[str, float] = field(default_factory=dict)
    sides: Counter[tuple[int, int, int, int]] = field(default_factory=Counter)


def proof(generated: int) -> bool:
    """Print every sheet in both systems on both papers; tell what is wrong, the leasts, the fronts."""
    told = Tally()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=SWITCHES)
        screen, file = watched(browser), Path(folder, "sheet.html")
        for whose, made in sheets(Path(folder), generated):
            before = told.sheets
            for sheet in made:
                for units in SYSTEMS:
                    _printed(screen, file, replace(sheet, units=units), whose, told)
            print(f"{whose}: {told.sheets - before} sheets; {told.wrong} faults so far", flush=True)
        browser.close()
    _tell(told)
    return told.wrong == 0


def _printed(screen: Watched, file: Path, sheet: Sheet, whose: str, told: Tally) -> None:
    """One sheet in one system on both papers."""
    file.write_text(sheet_page(sheet), "utf-8")
    planned = sides(sheet)
    scents = len({each.what for cup in sheet.portions for each in cup.scents})
    told.sheets += 1
    told.sides[len(planned.fronts), len(planned.backs), len(sheet.portions), scents] += 1
    for paper in PAPERS:
        shown = printed(screen, file, paper)
        told.pages += len(shown.pages)
        _note(told.least, shown)
        bad = [*faults(shown, planned), *_numbers(sheet, shown, len(planned.fronts))]
        told.wrong += bool(bad)
        if bad:
            print(f"{whose}, {sheet.plan} in {sheet.units.mass} on {paper}: {bad}", flush=True)


def _note(least: dict[str, float], shown: Printed) -> None:
    found_now = {"type": shown.least, **{key: min(shown.inside[key], default=99.0) for key in LEASTS}}
    for key, value in found_now.items():
        least[key] = min(value, least.get(key, value))


def _numbers(sheet: Sheet, shown: Printed, fronts: int) -> list[str]:
    """What is weighed and does not stand on a front, figure by figure as a word of its own."""
    words = Counter(word for page in shown.pages[:fronts] for word in page.split())
    asked = Counter(mass(each, sheet.units).rpartition(" ")[0] for each in sheet.weighed)
    return [f"{figure} not on the front" for figure in asked if not words[figure]]


def _tell(told: Tally) -> None:
    for key, value in told.least.items():
        print(f"least {key}: {value:.2f} {LEASTS.get(key, 'pt')}")
    few = Counter[tuple[int, int]]()
    for (fronts, backs, cups, oils), many in told.sides.items():
        if cups <= MOST_CUPS and oils <= MOST_SCENTS:
            few[fronts, backs] += many
    for (fronts, backs), many in sorted(few.items()):
        print(
            f"up to {MOST_CUPS} cups, {MOST_SCENTS} oils: {many} sheets of {fronts} front(s), {backs} back(s)"
        )
    print(f"{told.sheets} sheets, two papers: {told.pages} pages; {told.wrong} with a fault")
