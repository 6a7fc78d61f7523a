"""Plan, assign, check, sheet, note, review, again, assign: on generated books, at the command line."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from tests.strangers.books import a_book, found
from tests.strangers.chain import WRITTEN, faults
from tests.strangers.runs import ran


@pytest.mark.parametrize("seed", [1, 3, 6, 12])
def test_every_output_is_the_next_ones_input(tmp_path: Path, seed: int) -> None:
    """Names, verdicts and splits agree from a plan to the next batch's."""
    book = a_book(tmp_path / "my book", seed, plans=1, looks=False)
    assert [] == list(faults(book.plans[0]))


def test_an_ounce_book_is_written_in_ounces_and_steps(tmp_path: Path) -> None:
    """The seller's plan: doses in ounces, whole steps of the scale where one oil is weighed alone."""
    book = found("seller", tmp_path / "book")
    plan = next(path for path in book.plans if path.stem == "mini")
    written = plan.with_name("Mini – zweite.yaml")
    assert ran("assign", plan, "--free", "--write", written).code in (0, 1)
    text = written.read_text("utf-8")
    doses = text[text.index("doses:") :]
    assert " oz" in doses
    assert " g" not in doses
    numbers = [word for word in doses.replace(",", " ").replace("}", " ").split() if word[:1].isdigit()]
    assert numbers
    assert all(round(100 * float(number)) == pytest.approx(100 * float(number)) for number in numbers)


def test_the_command_that_is_printed_can_be_pasted(tmp_path: Path) -> None:
    """A name with a space and another script stands in quotes, on a line of its own."""
    book = a_book(tmp_path / "my book", 3, plans=1, looks=False)
    written = book.plans[0].with_name("my ёлка.yaml")
    told = ran("assign", book.plans[0], "--write", written)
    assert f"blendwise check '{written}'" in map(str.strip, told.out.splitlines())


def test_a_plan_without_scent_goes_on_too(tmp_path: Path) -> None:
    """Nothing is to be divided: the split is the plan as it stands, under the name of its new file."""
    book = a_book(tmp_path / "my book", 2, plans=1, looks=False)
    assert "scents" not in yaml.safe_load(book.plans[0].read_text("utf-8"))
    written = book.plans[0].with_name("Zweite.yaml")
    assert 0 == ran("assign", book.plans[0], "--write", written).code
    before, after = (yaml.safe_load(path.read_text("utf-8")) for path in (book.plans[0], written))
    assert {**before, "plan": "Zweite"} == after
    assert [] == list(faults(book.plans[0]))


def test_a_version_that_may_not_be_poured_keeps_no_sheet_back(tmp_path: Path) -> None:
    """The sheet of the plan says what speaks against the plan; the version's own sheet says the version's."""
    book = a_book(tmp_path / "my book", 4, plans=1, looks=False)
    written = book.plans[0].with_name(f"{WRITTEN}.yaml")
    assert ran("assign", book.plans[0], "--write", written).code in (0, 1)
    page = tmp_path / "page.html"
    assert [1, 0, 1] == [
        ran("check", written).code,
        ran("sheet", written, "--out", page).code,
        ran("sheet", written, "--variation", "deep", "--out", page).code,
    ]


def test_small_doses_of_a_mix_stay_in_one_ratio_as_written(tmp_path: Path) -> None:
    """Two hundredths of an ounce beside eight: the sheet mixes them as the check judged them mixed."""
    book = a_book(tmp_path / "my book", 19, plans=1, looks=False)
    written = book.plans[0].with_name(f"{WRITTEN}.yaml")
    assert ran("assign", book.plans[0], "--write", written, "--seconds", "5").code in (0, 1)
    check = ran("check", written, "--json")
    sheet = ran("sheet", written, "--json")
    assert (
        len(yaml.safe_load(written.read_text("utf-8"))["weigh together"]) == len(sheet.document["mixes"]) == 2
    )
    assert check.code == sheet.code
