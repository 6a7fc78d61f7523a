"""The bench sheet as data: what is weighed, when, and whose doses they are."""

from __future__ import annotations

import json
import math
import re
import shutil
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import jsonschema
import pytest

from blendwise import Book
from blendwise.answers.sheet.result import Sheet, Weighed
from blendwise.answers.small_amounts import rounded
from blendwise.quantity import ShownIn
from blendwise.records.as_of import AsOf
from blendwise.records.place import RecordError
from blendwise.show.numbers import halves_left
from blendwise.show.pages.render import day, days, grams, minute
from blendwise.show.schemas import schema_of
from blendwise.show.sheet.page import sheet_page
from tests.show.pages.conftest import DAY, DEMO, PLANS

STEP_OFF = 1e-6


def one_oil(folder: Path) -> Path:
    """The demo with a plan of one oil, one cup, no scent and no colour."""
    book = folder / "book"
    shutil.copytree(DEMO, book)
    (book / "plans" / "one.yaml").write_text(
        "plan: one\nfor: home\nrecipe:\n  oils: {olive: 500 g}\n"
        "  lye: {concentration: 31 %, superfat: 5 %}\nportions: [{name: all, share: the rest}]\n",
        "utf-8",
    )
    return book


WHOLE = [name for name in PLANS if name not in ("clove-hearth", "market-day")]
"""Plans that may be poured: the others are past a harm, and their sheet holds nothing to weigh."""


def every(sheet: Sheet) -> list[Weighed]:
    """All that is weighed."""
    cups = [w for c in sheet.portions for w in (c.batter, *c.returned, *c.mixed_in, *c.scents)]
    dyes = [dye.weighed for cup in sheet.portions for dye in cup.dyes]
    mixes = [w for mix in sheet.mixes for w in mix.scents]
    pot = sheet.pot
    assert pot is not None
    return [*pot.oils, pot.naoh, pot.water, *pot.additives, *cups, *dyes, *mixes]


@pytest.mark.parametrize("name", WHOLE)
def test_everything_is_in_whole_steps_of_its_scale(sheets: dict[str, Sheet], name: str) -> None:
    """No weight asks for a part of a step, and nothing that goes in is weighed as nothing."""
    for each in every(sheets[name]):
        steps = each.grams / each.step
        assert abs(steps - round(steps)) < STEP_OFF, each
        assert each.grams > 0, each


@pytest.mark.parametrize("name", WHOLE)
def test_the_cups_take_what_the_pot_gives(sheets: dict[str, Sheet], name: str) -> None:
    """Batter in the cups and what stays in the pot are the pot, to half a step of each cup and oil."""
    sheet = sheets[name]
    pot = sheet.pot
    assert pot is not None
    whole = math.fsum(w.grams for w in (*pot.oils, pot.naoh, pot.water, *pot.additives))
    cups = math.fsum(cup.batter.grams for cup in sheet.portions)
    half_steps = sheet.lye_step / 2 * (len(pot.oils) + 2 + len(sheet.portions)) + 0.05
    assert cups + pot.left_in_pot == pytest.approx(whole, abs=half_steps)


@pytest.mark.parametrize("name", PLANS)
def test_premixes_hold_what_the_cups_take_of_them_and_what_clings(
    sheets: dict[str, Sheet], name: str
) -> None:
    """What is mixed first is what the cups take of it and the spare that is told, at least half a gram."""
    sheet = sheets[name]
    for mix in sheet.mixes:
        taken = math.fsum(w.grams for cup in sheet.portions for w in cup.scents if w.what == mix.name)
        mixed = math.fsum(w.grams for w in mix.scents)
        assert mixed == pytest.approx(mix.grams, abs=STEP_OFF)
        assert taken + mix.spare == pytest.approx(mixed, abs=sheet.scale_step)
        assert mix.spare >= 0.5 - sheet.scale_step


@pytest.mark.parametrize("name", WHOLE)
def test_the_strength_of_the_lye_is_that_of_what_is_weighed(sheets: dict[str, Sheet], name: str) -> None:
    """The strength of the lye is that of the weights that are printed."""
    sheet = sheets[name]
    pot = sheet.pot
    assert pot is not None
    assert pot.concentration == pytest.approx(pot.naoh.grams / (pot.naoh.grams + pot.water.grams))


def test_superfat_is_reckoned_by_hand(tmp_path: Path) -> None:
    """500 g of oil of 190 mg KOH/g need 67.7 g; 5 % less is 64.3, 64 are weighed: 1 − 64 ÷ 67.7 is 5.5 %."""
    sheet = Book(one_oil(tmp_path)).sheet("one", on=AsOf(DAY))
    assert sheet.pot is not None
    assert 64.0 == sheet.pot.naoh.grams
    assert 1 - 64 / (500 * 0.190 * 39.997 / 56.106) == pytest.approx(sheet.pot.superfat, abs=1e-4)
    assert "superfat 5.5\xa0%" in sheet_page(sheet)


@pytest.mark.parametrize("name", ["greenhouse-morning", "harbour-morning", "honey-crown", "winter-window"])
def test_open_doses_are_those_of_assign(demo: Book, sheets: dict[str, Sheet], name: str) -> None:
    """The sheet weighs what ``assign`` advises, portion by portion, premix by premix."""
    assigned, sheet = demo.assign(name, on=AsOf(DAY)), sheets[name]
    assert "the assignment" == sheet.doses_from
    for pour, cup in zip(assigned.portions, sheet.portions, strict=True):
        weighed = {w.what: w.grams for w in cup.scents}
        assert weighed == pytest.approx(dict(pour.premixes), abs=sheet.scale_step / 2)


def test_written_doses_are_the_plans(demo: Book, tmp_path: Path) -> None:
    """Where the plan writes every dose, nothing is placed anew."""
    book = tmp_path / "book"
    shutil.copytree(demo.folder, book)
    Book(book).write_split(demo.assign("harbour-morning", on=AsOf(DAY)), book / "plans" / "written.yaml")
    sheet = Book(book).sheet("written", on=AsOf(DAY))
    assert ("the plan", None) == (sheet.doses_from, sheet.assignment)
    asked = demo.sheet("harbour-morning", on=AsOf(DAY))
    weighed = [sum(each.grams for each in cup.scents) for cup in asked.portions]
    assert weighed == pytest.approx(
        [sum(each.grams for each in cup.scents) for cup in sheet.portions], abs=0.2
    )


def test_where_nothing_fits_the_sheet_says_not_to_pour(sheets: dict[str, Sheet]) -> None:
    """An even spread with its conflict: "do not pour yet" across, what to mend, nothing to tick or weigh."""
    sheet = sheets["three-whites"]
    assert ("an even spread", "nothing fits", False) == (sheet.doses_from, sheet.assignment, sheet.sound)
    html = sheet_page(sheet)
    assert '<p class="across">Do not pour yet</p>' in html
    assert "Mend this first" in html
    assert "checkbox" not in html
    assert "sodium hydroxide" not in html
    assert "Do not pour" not in sheet_page(sheets["harbour-morning"])


def test_an_even_spread_is_what_check_judges(demo: Book) -> None:
    """With ``evenly`` the sheet weighs what ``check`` prints, to the scale's step."""
    sheet = demo.sheet("harbour-morning", on=AsOf(DAY), evenly=True)
    checked = {row.portion: row.scents for row in demo.check("harbour-morning", on=AsOf(DAY)).grams}
    for cup in sheet.portions:
        weighed = {w.what: w.grams for w in cup.scents}
        assert weighed == pytest.approx(checked[cup.portion], abs=0.05 + STEP_OFF)


def test_what_is_not_for_sale_says_so_and_why(sheets: dict[str, Sheet]) -> None:
    """Soap for home, and soap for sale without a certificate, carry the reason on their face."""
    home = sheet_page(sheets["rain-jar"])
    assert "<strong>For home. Not for sale.</strong> No certificate: <bdi>rain-barrel</bdi>." in home


@pytest.mark.parametrize("name", ["clove-hearth", "market-day"])
def test_past_a_harm_there_is_nothing_to_weigh_or_tick(sheets: dict[str, Sheet], name: str) -> None:
    """ "Do not pour" across the page, what to mend, what holds if it is poured; no grams, no boxes."""
    sheet = sheets[name]
    page = sheet_page(sheet)
    assert sheet.check.harm
    assert (None, (), (), (), ()) == (
        sheet.pot,
        sheet.portions,
        sheet.mixes,
        sheet.weighed,
        sheet.check.grams,
    )
    assert '<p class="across">Do not pour</p>' in page
    assert "Mend this first" in page
    assert "Gloves on whenever it is touched" in page
    assert "checkbox" not in page
    assert "sodium hydroxide" not in page


def test_a_variation_is_weighed_by_its_name(demo: Book) -> None:
    """A variation's own doses stand on its sheet; one that is not there is named with those that are."""
    sheet = demo.sheet("greenhouse-morning", on=AsOf(DAY), variation="deep")
    tonka = [w.grams for cup in sheet.portions for w in cup.scents if w.what == "tonka-milk"]
    where = [cup.portion for cup in sheet.portions if any(w.what == "tonka-milk" for w in cup.scents)]
    assert ["soil"] == where
    assert [pytest.approx(6.6, abs=0.1)] == tonka
    with pytest.raises(RecordError, match="deep"):
        demo.sheet("greenhouse-morning", on=AsOf(DAY), variation="shallow")


def test_the_dates_count_from_the_pour(sheets: dict[str, Sheet]) -> None:
    """Looks at weeks 1, 2, 4 and 6; judged from four weeks; cut after the pour, within the first week."""
    after = sheets["harbour-morning"].after
    weeks = [when - DAY for what, when in after.looks if what.startswith("week")]
    assert [timedelta(weeks=week) for week in (1, 2, 4, 6)] == weeks
    assert DAY + timedelta(days=28) == after.judge[0]
    assert DAY < after.cut[0] <= after.cut[1] <= DAY + timedelta(days=7)


def test_the_order_is_the_clocks(sheets: dict[str, Sheet]) -> None:
    """Portions are scented in rising minutes, once all are split and coloured, and every end is told."""
    clock = sheets["greenhouse-morning"].clock
    assert clock is not None
    starts = [turn.scented_at for turn in clock.turns]
    assert sorted(starts) == starts
    assert all(turn.fluid[0] <= turn.fluid[1] and turn.fluid[1] >= turn.needed_until for turn in clock.turns)
    assert clock.end == max(turn.needed_until for turn in clock.turns)
    assert 0 < clock.split_by <= clock.first_scenting
    assert clock.coloured_from < clock.first_scenting == starts[0]
    assert all(turn.scented_at <= turn.stirred_by <= turn.needed_until for turn in clock.turns)


@pytest.mark.parametrize("name", ["greenhouse-morning", "harbour-morning", "honey-crown", "winter-window"])
def test_a_minute_on_the_clock_is_that_of_assign(demo: Book, sheets: dict[str, Sheet], name: str) -> None:
    """Until when a cup still pours is told from emulsion, rounded down, in the figures of ``assign``."""
    clock, page = sheets[name].clock, sheet_page(sheets[name])
    assert clock is not None
    assigned = {pour.portion: pour for pour in demo.assign(name, on=AsOf(DAY)).portions}
    for turn in clock.turns:
        until = assigned[turn.portion].fluid_until
        assert until is not None
        assert until.low is not None
        assert turn.fluid[0] == pytest.approx(until.low, abs=0.2)
        assert f"<b>{halves_left(turn.fluid[0])}</b>" in page
        assert float(halves_left(turn.fluid[0]).replace("½", ".5")) <= turn.fluid[0] + STEP_OFF


def test_past_the_minute_it_thickens_the_bar_breaks(sheets: dict[str, Sheet]) -> None:
    """A cup that is thick before its pour is done says by how much, and its bar is in pieces from there."""
    sheet = sheets["harbour-morning"]
    assert sheet.clock is not None
    first, *rest = sheet.clock.turns
    late = replace(first, fluid=(first.needed_until - 2.2, first.needed_until), quick_day=first.scented_at)
    html = sheet_page(replace(sheet, clock=replace(sheet.clock, turns=(late, *rest))))
    assert "2½ min too short" in html
    assert "too short" not in sheet_page(sheet)
    assert html.count('class="late"') > sheet_page(sheet).count('class="late"')


def test_what_need_not_run_says_so(sheets: dict[str, Sheet]) -> None:
    """The top of a piped pour is wanted thick, and no minute is told as too short for it."""
    clock, page = sheets["honey-crown"].clock, sheet_page(sheets["honey-crown"])
    assert clock is not None
    assert [True, True, False] == [turn.must_run for turn in clock.turns]
    assert "wanted thick, then piped" in page
    assert 0.0 == clock.turns[-1].late


def test_what_was_guessed_is_said(sheets: dict[str, Sheet]) -> None:
    """Where scent waits, whose water wets a powder, how much batter and when, sizes, the spare."""
    page = sheet_page(sheets["greenhouse-morning"])
    for told in (
        "Scent waits covered in a glass numbered as its cup; rinse it",
        "Lye into water, bit by bit, never water into lye",
        "dry cup; taken as pure",
        "uncovered, cool, air around it",
        "Water for a colour is extra",
        "from its cup after the split",
        "g</b> batter",
        "Spare in the mix",
        "lye-proof jug",
        "<h3>Jug of ",
        "≥\u00a0800\u00a0mL",
        "by minute 2;",
        "by minute 6.",
    ):
        assert told in page
    sheet = sheets["greenhouse-morning"]
    assert all(cup.holds >= 1.5 * cup.batter.grams for cup in sheet.portions)


def test_a_simpler_pour_is_quicker_than_the_plans(sheets: dict[str, Sheet]) -> None:
    """What is offered when it thickens takes less time than the plan's pour, or wants no fluid batter."""
    sheet = sheets["greenhouse-morning"]
    assert sheet.clock is not None
    for other in sheet.trouble.simpler:
        assert other.begin_by is None or other.minutes < sheet.clock.minutes
    assert ["in-pot swirl", "rough layers"] == [other.pour for other in sheet.trouble.simpler]


@pytest.mark.parametrize("name", WHOLE)
def test_no_pour_is_to_be_begun_before_anything_is_scented(sheets: dict[str, Sheet], name: str) -> None:
    """A pour that is offered as a way out can still be begun once the first cup is scented."""
    sheet = sheets[name]
    for other in sheet.trouble.simpler:
        assert sheet.clock is not None
        assert other.begin_by is None or other.begin_by >= sheet.clock.first_scenting


def test_the_document_keeps_its_schema(sheets: dict[str, Sheet]) -> None:
    """The published document of every demo sheet is valid by its own schema and survives JSON."""
    schema = schema_of("sheet")
    for sheet in sheets.values():
        jsonschema.validate(json.loads(json.dumps(sheet.to_json(), allow_nan=False)), schema)
    frame = sheets["honey-crown"].to_frame()
    assert {
        "oil",
        "lye",
        "water",
        "additive",
        "batter",
        "held back",
        "mixed in",
        "colourant",
        "carrier",
        "scent",
    } == set(frame["kind"])


def test_the_same_plan_gives_the_same_page(demo: Book, sheets: dict[str, Sheet]) -> None:
    """A sheet made twice is the same byte for byte."""
    assert sheet_page(sheets["honey-crown"]) == sheet_page(demo.sheet("honey-crown", on=AsOf(DAY)))


@pytest.mark.parametrize("name", PLANS)
def test_a_page_is_small_and_alone(sheets: dict[str, Sheet], name: str) -> None:
    """Each file is below 300 KB, names no other file and no address, and carries no script."""
    html = sheet_page(sheets[name])
    assert len(html.encode()) < 300_000
    for word in ("<script", "http:", "https:", "@import", "src=", "url(http"):
        assert word not in html


@pytest.mark.parametrize(
    ("value", "step", "mass", "told"),
    [
        (456.4, 1.0, "g", "456 g"),
        (13.77, 0.1, "g", "13.8 g"),
        (2.5, 0.5, "g", "2.5 g"),
        (28.349523125, 0.1, "oz", "1.000 oz"),
        (453.59237, 1.0, "oz", "16.00 oz"),
    ],
)
def test_a_mass_is_shown_to_its_step(value: float, step: float, mass: str, told: str) -> None:
    """Grams and ounces carry as many decimals as the scale has (1 lb = 453.59237 g = 16 oz, exact)."""
    assert told == grams(value, step, ShownIn(mass=mass))


@pytest.mark.parametrize(
    ("grams_", "step", "steps"), [(0.04, 0.1, 1), (0.26, 0.1, 3), (0.0, 0.1, 0), (7.4, 5.0, 1)]
)
def test_something_is_never_rounded_to_nothing(grams_: float, step: float, steps: int) -> None:
    """The nearest whole step, at least one of what goes in, none of what does not."""
    assert steps * step == pytest.approx(rounded(grams_, step))


def test_days_and_minutes_are_told_plainly() -> None:
    """Weekdays by the calendar (1 January 2027 is a Friday); a year is said once; half minutes as halves."""
    assert "Fri 1 Jan 2027" == day(date(2027, 1, 1))
    assert "Thu 31 Dec 2026 to Fri 1 Jan 2027" == days((date(2026, 12, 31), date(2027, 1, 1)))
    assert "Tue 1 Dec to Wed 2 Dec 2026" == days((date(2026, 12, 1), date(2026, 12, 2)))
    assert ["6", "7½", "½", "0"] == [minute(value) for value in (6.1, 7.4, 0.5, 0.0)]


def test_ounces_are_used_where_the_book_says_so(demo: Book, tmp_path: Path) -> None:
    """A book in ounces and degrees Fahrenheit has a sheet in them and in nothing else."""
    book = tmp_path / "book"
    shutil.copytree(demo.folder, book)
    usual = (book / "usual.yaml").read_text("utf-8")
    changed = usual.replace("{mass: g, temperature: C,", "{mass: oz, temperature: F,")
    (book / "usual.yaml").write_text(changed, "utf-8")
    html = sheet_page(Book(book).sheet("lake-house", on=AsOf(DAY)))
    body = html.split("</style>")[1]
    assert re.search(r'14.(39|40)<span class="unit"> oz</span>', body)
    assert "92 °F" in body
    assert " g<" not in body
    assert "°C" not in body
