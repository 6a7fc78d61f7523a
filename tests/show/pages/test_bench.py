"""The bench sheet in wet hands: vessels that hold what is poured into them, first aid, cleaning up."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.sheet.result import Piece, Sheet
from blendwise.records.as_of import AsOf
from blendwise.show.sheet.page import sheet_page
from tests.show.pages.conftest import DAY
from tests.strangers.books import a_book

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
    [(-0.5, "; that is below "), (0.0, "; that is barely above "), (2.0, " (cloudy below ")],
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
    assert page.count("</b> (<bdi>deep</bdi>)") == page.count('class="again')
    front = page.split('class="side back"')[0]
    step = front[: front.index("&lt;curls&gt; pieces; set them in")].rpartition("<li>")[2]
    assert 'type="checkbox"' in step
    bare = replace(sheet, portions=tuple(replace(cup, scents=()) for cup in sheet.portions))
    assert "--columns: 1;" in sheet_page(bare)
