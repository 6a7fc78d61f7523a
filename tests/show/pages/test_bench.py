"""The bench sheet in wet hands: vessels that hold what is poured into them, first aid, cleaning up."""

from __future__ import annotations

import html
import math
import re
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.note.compute import Asked
from blendwise.answers.refusals import NotAskable
from blendwise.answers.sheet.result import Piece, Sheet
from blendwise.quantity.show import ShownIn
from blendwise.records.as_of import AsOf
from blendwise.records.notes.codes import code_of, parted
from blendwise.records.place import RecordError
from blendwise.show.charts import clock as chart
from blendwise.show.numbers import halves_left
from blendwise.show.sheet.layout import clock_face
from blendwise.show.sheet.page import sheet_page
from blendwise.show.sheet.stopped import to_mend
from tests.show.pages.conftest import DAY, DEMO
from tests.show.pages.test_on_paper import to_pour
from tests.strangers.books import a_book, found

HEAVY = ("stop", "conflict")
TOGETHER = re.compile(r"\b(?:in)?to the (?:largest|biggest|first|next|other) cup", re.I)


def test_no_step_puts_more_batter_into_a_vessel_than_it_holds(tmp_path: Path) -> None:
    """A cup has room for all that goes into it, the pot for all cups: pours bring them together only there.

    Density of batter and oils by hand: none below 0.91 g/mL.
    """
    seen = 0
    for seed in range(100, 104):
        book = a_book(tmp_path / str(seed), seed, plans=3, looks=False)
        made = (Book(book.folder).sheet(plan, on=AsOf(DAY), evenly=True) for plan in book.plans)
        for sheet in made:
            if sheet.pot is None:
                continue
            seen += 1
            for cup in sheet.portions:
                assert cup.holds >= sum(each.grams for each in cup.weighed) / 0.91, cup.portion
            everything = sum(each.grams for cup in sheet.portions for each in cup.weighed)
            assert sheet.pot.holds >= 1.3 * everything, sheet.file
            told = [each.how for each in (sheet.clock, *sheet.trouble.simpler) if each is not None]
            assert [] == [how for how in told if TOGETHER.search(how)]
    assert seen > 0


def test_every_pour_brings_cups_together_in_the_mould_or_in_the_pot(demo: Book) -> None:
    """No shipped pour has the cups poured into a cup, which is as large as its own share."""
    pours = demo.files.pours.values()
    assert [] == [each.name for each in pours if TOGETHER.search(each.how or "")]
    assert "back into the pot" in (demo.files.pours["in-pot swirl"].how or "")


def test_the_front_says_what_burns_and_how_it_is_washed(sheets: dict[str, Sheet]) -> None:
    """Eyes have a line of their own, skin another; cleaning up is a step with gloves on."""
    front = sheet_page(sheets["rain-jar"]).split('class="side back"')[0]
    assert "<b>In eyes:</b> rinse at once in running water, lids held open" in front
    assert "the same" not in front
    assert "<b>Clean up:</b> gloves on: raw batter is caustic for a day" in front


@pytest.mark.parametrize(
    ("above", "told"),
    [
        (-0.5, "31 °C, not below (false trace)."),
        (0.0, "30 °C, not below (false trace)."),
        (1.5, "30 °C, not below 29 °C (false trace)."),
        (2.0, "30 °C, not below 28 °C."),
        (15.0, "30 °C."),
    ],
)
def test_the_oils_have_one_target_and_one_floor(sheets: dict[str, Sheet], above: float, told: str) -> None:
    """Never an order to keep them warmer than a target: where the plan's is too cool, the floor is the
    target; within the error of a thermometer the step tells what it would be taken for."""
    sheet = sheets["rain-jar"]
    assert sheet.pot is not None
    pot = replace(sheet.pot, clear_from=sheet.celsius - above)
    assert f"add the rest: {told}" in sheet_page(replace(sheet, pot=pot))


def test_every_page_names_its_version_and_what_is_set_in_is_ticked(sheets: dict[str, Sheet]) -> None:
    """A version stands beside the code on each side; an embed is a step with a box; no broken head."""
    sheet = replace(sheets["rain-jar"], variation="deep", pieces=(Piece("<curls>", 50.0, None),))
    page = sheet_page(sheet)
    assert "rain-jar 2026-11-25 (deep)" == sheet.batch
    assert page.count(f"batch <b><bdi>{sheet.batch}</bdi></b>") == page.count('class="again')
    front = page.split('class="side back"')[0]
    assert "Set in as it is poured" in front
    step = front[: front.index("&lt;curls&gt; pieces")].rpartition("<li>")[2]
    assert 'type="checkbox"' in step
    bare = replace(sheet, portions=tuple(replace(cup, scents=()) for cup in sheet.portions))
    assert "--columns: 1;" in sheet_page(bare)


def test_the_code_on_a_sheet_leads_back_to_its_batch_and_version() -> None:
    """What is copied from the sheet onto a bar is taken apart again: all versions share the batch's code."""
    assert ("rain-jar 2026-11-25", "deep") == parted(code_of("rain-jar", "2026-11-25", "deep"))
    assert ("rain-jar 2026-11-25", None) == parted(code_of("rain-jar", "2026-11-25"))
    assert ("RJ-261125 (my own)", None) == parted("RJ-261125 (my own)")


def test_a_note_by_the_sheets_code_is_of_that_version(tmp_path: Path) -> None:
    """``note --batch`` takes the code as printed; another version beside it is asked back."""
    book = tmp_path / "book"
    shutil.copytree(DEMO, book)
    opened, day = Book(book), AsOf(DAY)
    sheet = opened.sheet("greenhouse-morning", on=day, variation="deep")
    asked = Asked(batch=sheet.batch, look="at the pot", saw=["milk: ricing none"])
    noted = opened.note("greenhouse-morning", asked, on=day)
    text = (book / noted.file).read_text("utf-8")
    assert "variation: deep" in text
    assert "batch: greenhouse-morning 2026-11-25\n" in text
    with pytest.raises(NotAskable, match="deep"):
        opened.note("greenhouse-morning", replace(asked, variation="shared"), on=day)


GATHERED = "my way: {family: interleaved, minutes: 3 to 5 min, batter: light, tolerates: slight, \
touching: each other, basis: my own, how: Pour all the others into the largest cup; stir once and pour.}\n"


def test_an_own_pour_that_gathers_in_a_cup_has_a_cup_for_all(tmp_path: Path, demo: Book) -> None:
    """A pour of ``rules/mine`` that brings all into one cup tells how large it is; else none is a way out."""
    book = tmp_path / "book"
    shutil.copytree(DEMO, book)
    (book / "rules" / "mine").mkdir(parents=True)
    (book / "rules" / "mine" / "pours.yaml").write_text(GATHERED, "utf-8")
    plan = book / "plans" / "harbour-morning.yaml"
    before = Book(book).sheet("harbour-morning", on=AsOf(DAY))
    assert "my way" not in [each.pour for each in before.trouble.simpler]
    assert before.clock is not None
    assert before.clock.together is None
    text = plan.read_text("utf-8")
    plan.write_text(text.replace(f"pour: {before.clock.pour}", "pour: my way"), "utf-8")
    sheet = Book(book).sheet("harbour-morning", on=AsOf(DAY), evenly=True)
    assert sheet.clock is not None
    assert sheet.clock.together is not None
    everything = sum(each.grams for cup in sheet.portions for each in cup.weighed)
    assert sheet.clock.together >= 1.3 * everything
    assert f"the cup that takes them all of {sheet.clock.together:g} mL" in sheet_page(sheet)
    assert [] == [each.name for each in demo.files.pours.values() if each.gathers_in_a_cup]


def test_what_the_scale_cannot_weigh_is_told_where_it_is_weighed(sheets: dict[str, Sheet]) -> None:
    """A small oxide is stirred into oil first: both are weighed, and in its cup so much of the mix."""
    sheet = sheets["harbour-morning"]
    assert ["yellow-oxide"] == [each.what for each in sheet.small]
    front = sheet_page(sheet).split('class="side back"')[0]
    text = " ".join(re.sub("<[^>]+>", "", front).split())
    assert "Mixes; their oil is extra2.0 g yellow-oxide into 18.0 g olive" in text
    assert "3.7 g yellow-oxide mix 0.37 g in it" in text
    dye = next(dye for cup in sheet.portions for dye in cup.dyes if dye.weighed.what == "yellow-oxide")
    share = 2.0 / 20.0  # of the mix that is oxide: 3.7 g of it hold 0.37 g
    assert dye.weighed.grams == pytest.approx(3.7 * share, abs=0.05 * share)


def test_every_conflict_is_named_on_do_not_pour(tmp_path: Path) -> None:
    """On the page of a plan that is not to be poured each stop and conflict is told of all that it is of."""
    seen = 0
    for seed in range(200, 206):
        book = a_book(tmp_path / str(seed), seed, plans=3, looks=False)
        for plan in book.plans:
            sheet = Book(book.folder).sheet(plan, on=AsOf(DAY), evenly=True)
            heavy = [each for each in sheet.check.findings if each.stands and each.level in HEAVY]
            if not heavy:
                continue
            seen += len(heavy)
            page = html.unescape(re.sub("<[^>]+>", "", sheet_page(sheet)))
            assert [] == [each.rule for each in heavy for name in each.subject if name not in page]
            told = list(to_mend(sheet.check, sheet.units))
            assert len(told) >= len({(each.rule, each.version) for each in heavy})
    assert seen > 0


SYSTEMS = (ShownIn(), ShownIn(mass="oz", temperature="F"))


@pytest.fixture(scope="module")
def others(tmp_path_factory: pytest.TempPathFactory) -> list[Sheet]:
    """Sheets that may be weighed, of people who are not us and of generated books, grams and ounces."""
    folder = tmp_path_factory.mktemp("books")
    books = [found(name, folder / name) for name in ("seller", "ten-years", "beginner")]
    books += [a_book(folder / str(seed), seed, plans=3, looks=False) for seed in range(300, 308)]
    made: list[Sheet] = []
    for book in books:
        opened = Book(book.folder)
        for plan in book.plans:
            try:
                made.append(opened.sheet(plan, on=AsOf(DAY), evenly=True))
            except RecordError:
                continue
    kept = [to_pour(sheet) for sheet in made if sheet.pot is not None]
    assert {"g", "oz"} == {sheet.units.mass for sheet in kept}
    return kept


def front_of(sheet: Sheet) -> str:
    """The words of the front, entities as signs."""
    front = sheet_page(sheet).split('class="side back"')[0]
    return " ".join(html.unescape(re.sub("<[^>]+>", "", front)).split())


def test_what_is_split_and_what_stays_is_what_was_weighed(others: list[Sheet]) -> None:
    """Batter in the cups and what is said to stay never exceed the weights, and lack less than a step."""
    for sheet in others:
        pot = sheet.pot
        assert pot is not None
        weighed = math.fsum(each.grams for each in (*pot.oils, pot.naoh, pot.water, *pot.additives))
        told = math.fsum(cup.batter.grams for cup in sheet.portions) + pot.left_in_pot
        assert -1e-6 <= weighed - told < sheet.lye_step + 1e-6, sheet.file


def test_bottles_that_burn_are_named_on_the_front(others: list[Sheet], sheets: dict[str, Sheet]) -> None:
    """GHS: a flammable liquid of category 1 to 4 flashes at 93 °C (200 °F) or below; unknown is not none."""
    assert (("rosemary", 45.0),) == tuple(b for b in sheets["winter-window"].burns if b[0] == "rosemary")
    seen = set()
    for sheet in others:
        front, page = front_of(sheet), html.unescape(sheet_page(sheet))
        for who, at in sheet.burns:
            assert at is None or at <= 93.0
            asked = " (?)" if at is None else ""
            line = front.partition("Keep from flame: ")[2].partition(". Check")[0]
            assert f"{who}{asked}" in line, sheet.file
            assert f"<bdi>{who}</bdi> (" in page
            seen.add(at is None)
    assert {True, False} == seen


def test_a_warning_stands_beside_the_step_that_it_alters(
    others: list[Sheet], sheets: dict[str, Sheet]
) -> None:
    """What may rise says so where it is covered; pieces are kept cool, and their cup is asked for."""
    told = [sheet for sheet in others if any(f.measure == "overheating risk" for f in sheet.check.findings)]
    assert told
    for sheet in others:
        then = front_of(sheet).partition(" full: ")[2].partition("Clean up:")[0]
        risky = any(
            f.measure == "overheating risk" and f.level != "hint" and not f.missing
            for f in sheet.check.findings
        )
        assert risky == ("It may rise or erupt: tray under it, uncover if it does." in then), sheet.file
    front = front_of(sheets["winter-window"])
    assert "melt-and-pour pieces keep cool, soft above 55 °C; in with cup ____" in front
    assert "gel. The pieces may soften: keep it cool." in front


SOLID = re.compile(r'<rect x="([\d.]+)%" width="([\d.]+)%" y="3" height="20" fill="currentColor"')
HATCHED = re.compile(r'<rect x="([\d.]+)%" width="([\d.]+)%" y="4" height="18"')


def test_one_pair_of_hands_pours_in_turn_only_when_all_is_stirred(others: list[Sheet]) -> None:
    """In an interleaved pour no bar of pouring begins before the last bar of stirring ends."""
    seen = 0
    for sheet in others:
        face = clock_face(sheet)
        if face is None or sheet.clock is None or sheet.clock.family != "interleaved":
            continue
        bars = [str(row.drawn) for row in face.rows]
        ends = [float(x) + float(wide) for bar in bars for x, wide in SOLID.findall(bar)]
        starts = [float(x) for bar in bars for x, _ in HATCHED.findall(bar)]
        if ends and starts:
            seen += 1
            assert min(starts) >= max(ends) - 0.02, sheet.file
            stirred = [t.stirred_by for t in sheet.clock.turns if sheet.portions[t.number - 1].scents]
            assert max(stirred) <= sheet.clock.end
    assert seen >= 3


def test_the_key_explains_what_is_drawn_and_nothing_else(others: list[Sheet]) -> None:
    """Time to spare and too late are two shapes with two names; each stands in the key if it is drawn."""
    seen = set()
    for sheet in others:
        face = clock_face(sheet)
        if face is None:
            continue
        told, drawn = {kind for kind, _ in face.key}, "".join(str(row.drawn) for row in face.rows)
        shapes = {
            "late": 'class="late"' in drawn,
            "spare": 'stroke-width="5"' in drawn,
            "scent": bool(SOLID.search(drawn)),
            "pour": bool(HATCHED.search(drawn)),
        }
        for kind, there in shapes.items():
            assert there == (kind in told), (sheet.file, kind)
            seen.add((kind, there))
    assert {("late", True), ("late", False), ("spare", True)} <= seen


def test_a_cup_that_thickens_soon_has_its_post_on_the_axis(sheets: dict[str, Sheet]) -> None:
    """The axis runs on to the minute at which a cup is thick, up to five times the pour."""
    clock = sheets["rain-jar"].clock
    assert clock is not None
    assert chart.scale(clock.end, clock.turns).top >= max(turn.fluid[0] for turn in clock.turns)


@pytest.mark.parametrize("units", SYSTEMS, ids=["g", "oz"])
def test_words_that_were_guessed_are_plain(sheets: dict[str, Sheet], units: ShownIn) -> None:
    """Lye water, the scale's step, how large a cup is, cavities, when a layer carries, where colours wait."""
    jar = front_of(replace(sheets["rain-jar"], units=units))
    step = "0.1 g" if units.mass == "g" else "0.004 oz"
    size = "cup ≥ 800 mL" if units.mass == "g" else "cup ≥ 28 fl oz"
    told = ("Lye water into the oils", "6 dry cavities of", f"scale to {step}", "into the cavities in one go")
    assert [] == [each for each in (*told, size, "in its cup before minute 0") if each not in jar]
    assert "It carries when a drop lies on top." in front_of(sheets["winter-window"])
    assert "It carries" not in jar


def test_minutes_are_told_in_halves_never_later_than_they_are() -> None:
    """Whole from ten on, else in halves, rounded down: a deadline."""
    told = {7.49: "7", 7.5: "7½", 0.6: "½", 0.2: "0", 9.99: "9½", 10.7: "10", 0.0: "0"}
    assert told == {minute: halves_left(minute) for minute in told}
