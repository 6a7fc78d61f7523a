"""The sheet on paper, in a real browser: sides, types and rows, in both systems, on both papers."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.sheet.result import Sheet
from blendwise.quantity.show import ShownIn
from blendwise.records.as_of import AsOf
from blendwise.show.pages.render import mass
from blendwise.show.sheet.findings import findings
from blendwise.show.sheet.layout import Layout, layout
from blendwise.show.sheet.page import sheet_page
from blendwise.show.sheet.trouble import trouble
from tests.show.pages.conftest import DAY, DEMO, PLANS, Watched
from tests.show.pages.hostile import hostile_book, large_book, renamed
from tests.show.pages.paper import Printed, printed
from tests.strangers.books import a_book, found

pytestmark = pytest.mark.browser
PAPERS = ("A4", "Letter")
LEAST_TYPE, LEAST_STEP, LEAST_BOX, LEAST_WRITE = 9.0, 14.0, 6.5, 8.0  # pt, pt, mm, mm
HAIR = 0.05
LONG = {
    "cyrillic": "Очень длинное имя чашки с мылом для зимнего утра у моря и гор",
    "han": "冬天早上在海邊做的一塊很長名字的肥皂杯子" * 3,
    "arabic": "اسم طويل جدا لكوب من الصابون في صباح شتوي قرب البحر والجبال",
    "one word": "m" * 60,
}


def to_pour(sheet: Sheet) -> Sheet:
    """The sheet as it is printed where its conflicts are accepted."""
    kept = tuple(each for each in sheet.check.findings if each.level != "conflict")
    return replace(sheet, check=replace(sheet.check, findings=kept))


def sides(sheet: Sheet) -> Layout:
    """What stands on which side."""
    return layout(sheet, list(findings(sheet)), list(trouble(sheet)))


def faults(shown: Printed, planned: Layout) -> list[str]:
    """What is wrong with a printed sheet."""
    inside = shown.inside
    told = {
        f"{len(shown.pages)} pages": len(shown.pages) != len(planned.fronts) + len(planned.backs),
        f"type of {shown.least} pt": shown.least < LEAST_TYPE - HAIR,
        f"overlaps: {shown.overlaps[:3]}": bool(shown.overlaps),
        "small boxes": min(inside["boxes"]) < LEAST_BOX - HAIR,
        "small steps": min(inside["amounts"] + inside["steps"] + inside["minutes"]) < LEAST_STEP - HAIR,
        "low rows": min(inside["write"]) < LEAST_WRITE,
        f"cut off: {inside['cut'][:2]}": bool(inside["cut"]),
        f"beyond the edge: {inside['wide'][:2]}": bool(inside["wide"]),
    }
    return [what for what, wrong in told.items() if wrong]


def check_paper(screen: Watched, folder: Path, sheets: Sequence[Sheet]) -> None:
    """Each sheet on both papers has the sides that were planned, and nothing small, covered or cut."""
    found_wrong: list[str] = []
    for sheet in map(to_pour, sheets):
        file = folder / "printed.html"
        file.write_text(sheet_page(sheet), "utf-8")
        for paper in PAPERS:
            shown = printed(screen, file, paper)
            found_wrong += [f"{sheet.plan} on {paper}: {each}" for each in faults(shown, sides(sheet))]
            missing = [each.what for each in sheet.weighed if not _there(each, shown, sheet)]
            found_wrong += [f"{sheet.plan} on {paper}: {missing} not as weighed"] if missing else []
    assert [] == found_wrong


def _there(weighed: object, shown: Printed, sheet: Sheet) -> bool:
    """Whether a thing to weigh stands on a front with its grams, as the document publishes them."""
    fronts = " ".join(shown.pages[: len(sides(sheet).fronts)])
    return mass(weighed, sheet.units).rpartition(" ")[0] in fronts  # type: ignore[arg-type]


def poured(book: Path, plans: Sequence[Path | str]) -> list[Sheet]:
    """The sheets of plans that are not past a harm; those that cannot be worked out are left out."""
    opened = Book(book)
    made = [opened.sheet(plan, on=AsOf(DAY), evenly=True) for plan in plans]
    return [sheet for sheet in made if sheet.pot is not None]


def in_ounces(folder: Path) -> Path:
    """The demo in ounces and degrees Fahrenheit."""
    book = folder / "ounces"
    shutil.copytree(DEMO, book)
    usual = (book / "usual.yaml").read_text("utf-8")
    changed = usual.replace("{mass: g, temperature: C,", "{mass: oz, temperature: F,")
    (book / "usual.yaml").write_text(changed, "utf-8")
    return book


def test_the_demo_on_paper(screen: Watched, tmp_path: Path) -> None:
    """Every demo plan in grams: sides as planned, types, boxes and rows as large as gloves want."""
    check_paper(screen, tmp_path, poured(DEMO, PLANS))


def test_the_demo_in_ounces_on_paper(screen: Watched, tmp_path: Path) -> None:
    """The same in ounces: no more sides fall apart than in grams, and no type is smaller."""
    check_paper(screen, tmp_path, poured(in_ounces(tmp_path), PLANS))


@pytest.mark.parametrize("name", ["seller", "beginner"])
def test_strangers_plans_on_paper(screen: Watched, tmp_path: Path, name: str) -> None:
    """So it is with plans of people who are not us."""
    book = found(name, tmp_path / name)
    check_paper(screen, tmp_path, poured(book.folder, book.plans))


@pytest.mark.parametrize("seed", [*range(100, 104), 502])  # 502: more scents than columns
def test_generated_plans_on_paper(screen: Watched, tmp_path: Path, seed: int) -> None:
    """So it is with generated plans of 2 to 8 portions and 1 to 6 oils, in grams and in ounces."""
    book = a_book(tmp_path / "book", seed, plans=3, looks=False)
    check_paper(screen, tmp_path, poured(book.folder, book.plans))


@pytest.mark.parametrize("script", sorted(LONG))
def test_names_of_sixty_characters_on_paper(
    screen: Watched, tmp_path: Path, sheets: dict[str, Sheet], script: str
) -> None:
    """Names of 60 characters in other scripts wrap; none is cut off, covered or set smaller."""
    names = [f"{number} {LONG[script]}"[:60] for number in range(4)]
    check_paper(screen, tmp_path, [renamed(sheets["harbour-morning"], names)])


def test_hostile_and_large_plans_on_paper(screen: Watched, tmp_path: Path) -> None:
    """Eight portions with eight scents, and names that mean harm, take more sides, not less type."""
    large = poured(large_book(tmp_path / "large"), ["large"])
    check_paper(screen, tmp_path, [*large, *poured(hostile_book(tmp_path / "hostile"), ["hostile"])])


def test_one_cup_without_scent_and_colour_on_paper(screen: Watched, tmp_path: Path) -> None:
    """A plan of one cup, without scents, colours and a pour is a front and a back."""
    from tests.show.pages.test_sheet import one_oil

    check_paper(screen, tmp_path, poured(one_oil(tmp_path), ["one"]))


USUAL = ["greenhouse-morning", "harbour-morning", "honey-crown", "lake-house", "rain-jar", "winter-window"]


@pytest.mark.parametrize("units", [ShownIn(), ShownIn(mass="oz", temperature="F")], ids=["g", "oz"])
@pytest.mark.parametrize("name", USUAL)
def test_a_usual_plan_has_one_front_and_one_back(sheets: dict[str, Sheet], name: str, units: ShownIn) -> None:
    """Up to five cups are weighed, timed and poured from one page; first aid and the code stand on it."""
    sheet = replace(sheets[name], units=units)
    assert 1 == len(sides(sheet).fronts)
    front = sheet_page(sheet).split('class="side back"')[0]
    for told in ("On skin:", "It thickens:", "It seizes:", sheet.batch):
        assert told in front


def test_twelve_findings_on_paper(screen: Watched, tmp_path: Path, sheets: dict[str, Sheet]) -> None:
    """A plan with more than a dozen findings: its front stays one page, the back tells each of them."""
    found_all = [
        each for sheet in sheets.values() for each in sheet.check.findings if each.level == "caution"
    ]
    sheet = sheets["harbour-morning"]
    many = replace(sheet, check=replace(sheet.check, findings=(*sheet.check.findings, *found_all)))
    assert len(list(findings(many))) >= 12
    assert 1 == len(sides(many).fronts)
    check_paper(screen, tmp_path, [many])


@pytest.mark.parametrize("without", [{"scents": ()}, {"dyes": (), "mixed_in": (), "returned": ()}])
def test_without_scents_or_colours_on_paper(
    screen: Watched, tmp_path: Path, sheets: dict[str, Sheet], without: dict[str, tuple[()]]
) -> None:
    """Cups without scents, and cups without colours, are rows as any other."""
    sheet = sheets["lake-house"]
    bare = replace(sheet, small=(), portions=tuple(replace(cup, **without) for cup in sheet.portions))  # type: ignore[arg-type]
    check_paper(screen, tmp_path, [bare])
