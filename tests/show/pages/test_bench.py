"""The bench sheet in wet hands: vessels that hold what is poured into them, first aid, cleaning up."""

from __future__ import annotations

import html
import re
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.note.compute import Asked
from blendwise.answers.refusals import NotAskable
from blendwise.answers.sheet.result import Piece, Sheet
from blendwise.records.as_of import AsOf
from blendwise.records.notes.codes import code_of, parted
from blendwise.show.sheet.page import sheet_page
from blendwise.show.sheet.stopped import to_mend
from tests.show.pages.conftest import DAY, DEMO
from tests.strangers.books import a_book

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
    assert "<b>In eyes:</b> rinse at once with plenty of running water, lids held open" in front
    assert "the same" not in front
    assert "<b>Clean up:</b> gloves on: raw batter is caustic for a day" in front


@pytest.mark.parametrize(
    ("above", "told"),
    [(-0.5, "; below "), (0.0, "; barely above "), (2.0, " (cloudy below ")],
)
def test_a_pot_no_warmer_than_its_fats_are_clear_says_so(
    sheets: dict[str, Sheet], above: float, told: str
) -> None:
    """Within the error of a thermometer of the cloud point the step tells what it would be taken for."""
    sheet = sheets["rain-jar"]
    assert sheet.pot is not None
    pot = replace(sheet.pot, clear_from=sheet.celsius - above)
    assert told in sheet_page(replace(sheet, pot=pot))


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
